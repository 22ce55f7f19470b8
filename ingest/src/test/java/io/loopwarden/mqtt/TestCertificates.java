package io.loopwarden.mqtt;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.Key;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** Throw-away certificates, made with the JDK's own keytool: one for the broker, one for the client. */
final class TestCertificates {

    static final String STORE_PASSWORD = "only-for-tests";

    private final Path folder;

    TestCertificates(Path folder) throws Exception {
        this.folder = Files.createDirectories(folder);
        make("broker", "CN=localhost", "san=dns:localhost");
        make("client", "CN=loopwarden", "san=dns:loopwarden");
        make("stranger", "CN=localhost", "san=dns:localhost");
        KeyStore trusted = KeyStore.getInstance("PKCS12");
        trusted.load(null, null);
        trusted.setCertificateEntry("client", certificate("client"));
        try (var out = Files.newOutputStream(trustStore())) {
            trusted.store(out, STORE_PASSWORD.toCharArray());
        }
    }

    Path brokerStore() {
        return store("broker");
    }

    Path trustStore() {
        return folder.resolve("trusted.p12");
    }

    Path certificatePem(String name) throws Exception {
        return pem(name + ".crt", "CERTIFICATE", certificate(name).getEncoded());
    }

    Path keyPem(String name) throws Exception {
        Key key = load(name).getKey(name, STORE_PASSWORD.toCharArray());
        return pem(name + ".key", "PRIVATE KEY", key.getEncoded());
    }

    private Path store(String name) {
        return folder.resolve(name + ".p12");
    }

    private Certificate certificate(String name) throws Exception {
        return load(name).getCertificate(name);
    }

    private KeyStore load(String name) throws Exception {
        return KeyStore.getInstance(store(name).toFile(), STORE_PASSWORD.toCharArray());
    }

    private Path pem(String file, String kind, byte[] der) throws IOException {
        String body = Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(der);
        String text = "-----BEGIN " + kind + "-----\n" + body + "\n-----END " + kind + "-----\n";
        return Files.writeString(folder.resolve(file), text, StandardCharsets.US_ASCII);
    }

    private void make(String name, String subject, String extension) throws Exception {
        String keytool =
                Path.of(System.getProperty("java.home"), "bin", "keytool").toString();
        List<String> command = new ArrayList<>(List.of(keytool));
        command.addAll(Arrays.asList(
                "-genkeypair",
                "-alias",
                name,
                "-dname",
                subject,
                "-ext",
                extension,
                "-keyalg",
                "EC",
                "-groupname",
                "secp256r1",
                "-validity",
                "2",
                "-storetype",
                "PKCS12",
                "-keystore",
                store(name).toString(),
                "-storepass",
                STORE_PASSWORD));
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(folder.resolve(name + ".log").toFile())
                .start();
        if (!process.waitFor(60, TimeUnit.SECONDS) || process.exitValue() != 0) {
            throw new IOException("keytool failed: " + Files.readString(folder.resolve(name + ".log")));
        }
    }
}
