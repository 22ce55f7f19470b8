package io.loopwarden.opcua;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPair;
import java.security.cert.X509Certificate;
import java.security.spec.PKCS8EncodedKeySpec;
import java.time.Period;
import java.util.UUID;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.util.CertificateUtil;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateBuilder;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateGenerator;

/**
 * A folder with our own key pair, made once and kept, and the certificates of servers: {@code own/}, {@code trusted/},
 * {@code issuers/}, {@code rejected/}. Whoever may write to {@code trusted/} decides which servers are believed.
 */
final class SecurityFolder {

    private static final int KEY_BITS = 2048;
    private static final Period VALIDITY = Period.ofYears(10);

    private final Path folder;
    private final KeyPair keyPair;
    private final X509Certificate certificate;
    private final TrustStore trust;

    private SecurityFolder(Path folder, KeyPair keyPair, X509Certificate certificate) {
        this.folder = folder;
        this.keyPair = keyPair;
        this.certificate = certificate;
        this.trust = new TrustStore(folder);
    }

    /**
     * Opens the folder; makes it and the key pair where they are missing. One thread at a time, as connections share
     * a folder.
     */
    static synchronized SecurityFolder open(Path folder) throws IOException, GeneralSecurityException {
        for (String name : new String[] {"own", "trusted", "issuers", "rejected"}) {
            Files.createDirectories(folder.resolve(name));
        }
        Path key = folder.resolve("own/private-key.der");
        Path certificate = folder.resolve("own/certificate.der");
        if (!Files.exists(key) || !Files.exists(certificate)) {
            make(key, certificate);
        }
        try {
            X509Certificate own = CertificateUtil.decodeCertificate(Files.readAllBytes(certificate));
            KeyFactory rsa = KeyFactory.getInstance("RSA");
            KeyPair pair = new KeyPair(
                    own.getPublicKey(), rsa.generatePrivate(new PKCS8EncodedKeySpec(Files.readAllBytes(key))));
            return new SecurityFolder(folder, pair, own);
        } catch (UaException e) {
            throw new IOException(certificate + " is not a certificate", e);
        }
    }

    KeyPair keyPair() {
        return keyPair;
    }

    X509Certificate certificate() {
        return certificate;
    }

    /** The application URI in our certificate; a server compares the two. */
    String applicationUri() {
        return CertificateUtil.getSanUri(certificate)
                .orElseThrow(() -> new UncheckedIOException(
                        new IOException(folder.resolve("own/certificate.der") + " has no application URI")));
    }

    /** What decides whether a server's certificate is believed; reads the folder anew each time. */
    TrustStore trust() {
        return trust;
    }

    private static void make(Path key, Path certificate) throws IOException, GeneralSecurityException {
        KeyPair pair = SelfSignedCertificateGenerator.generateRsaKeyPair(KEY_BITS);
        SelfSignedCertificateBuilder builder = new SelfSignedCertificateBuilder(pair)
                .setCommonName("Loopwarden collector")
                .setOrganization("Loopwarden")
                .setValidityPeriod(VALIDITY)
                .setApplicationUri("urn:loopwarden:collector:" + UUID.randomUUID());
        try {
            builder.addDnsName(InetAddress.getLocalHost().getHostName());
        } catch (UnknownHostException e) {
            builder.addDnsName("localhost");
        }
        X509Certificate own;
        try {
            own = builder.build();
        } catch (Exception e) { // the builder declares no narrower type
            throw new GeneralSecurityException("own certificate could not be made", e);
        }
        Files.deleteIfExists(key);
        boolean posix = Files.getFileStore(key.getParent()).supportsFileAttributeView("posix");
        if (posix) {
            Files.createFile(key, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
        }
        Files.write(key, pair.getPrivate().getEncoded());
        Files.write(certificate, own.getEncoded());
    }
}
