package io.loopwarden.opcua;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.cert.CertificateEncodingException;
import java.security.cert.X509Certificate;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.security.CertificateValidator;
import org.eclipse.milo.opcua.stack.core.security.DefaultClientCertificateValidator;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateQuarantine;
import org.eclipse.milo.opcua.stack.core.security.MemoryTrustListManager;
import org.eclipse.milo.opcua.stack.core.util.CertificateUtil;
import org.eclipse.milo.opcua.stack.core.util.validation.ValidationCheck;

/**
 * Believes the servers whose certificate, or whose issuer's, lies in {@code trusted/}; keeps a refused certificate in
 * {@code rejected/} under a name that the status tells. Host names are not checked: controllers are addressed by
 * number and seldom know their name.
 */
final class TrustStore implements CertificateValidator {

    /** So many refused certificates are kept, then none is added until somebody clears the folder. */
    static final int REJECTED_LIMIT = 100;

    private static final Set<ValidationCheck> CHECKS =
            Set.of(ValidationCheck.VALIDITY, ValidationCheck.APPLICATION_URI);

    private final Path folder;

    TrustStore(Path folder) {
        this.folder = folder;
    }

    @Override
    public void validateCertificateChain(List<X509Certificate> chain, String applicationUri, String[] hostNames)
            throws UaException {
        MemoryTrustListManager trustList = new MemoryTrustListManager();
        MemoryCertificateQuarantine refused = new MemoryCertificateQuarantine();
        try {
            trustList.setTrustedCertificates(certificatesIn(folder.resolve("trusted")));
            trustList.setIssuerCertificates(certificatesIn(folder.resolve("issuers")));
        } catch (IOException e) {
            throw new UaException(StatusCodes.Bad_CertificateUntrusted, "cannot read " + folder + ": " + e, e);
        }
        try {
            new DefaultClientCertificateValidator(trustList, CHECKS, refused)
                    .validateCertificateChain(chain, applicationUri, null);
        } catch (UaException e) {
            X509Certificate certificate = chain.get(0);
            if (refused.getRejectedCertificates().isEmpty()) {
                throw new UaException(
                        e.getStatusCode().value(),
                        "the server's certificate '" + name(certificate) + "', valid until "
                                + certificate.getNotAfter().toInstant() + ", is trusted but not usable: "
                                + e.getMessage(),
                        e);
            }
            throw new UaException(StatusCodes.Bad_CertificateUntrusted, keepAsRejected(certificate), e);
        }
    }

    private String keepAsRejected(X509Certificate certificate) throws UaException {
        byte[] thumbprint = CertificateUtil.thumbprint(certificate).bytesOrEmpty();
        String fileName = HexFormat.of().formatHex(thumbprint) + ".der";
        Path rejected = folder.resolve("rejected");
        Path file = rejected.resolve(fileName);
        String sentence = "the server's certificate '" + name(certificate) + "' is not trusted; ";
        try (Stream<Path> kept = Files.list(rejected)) {
            if (!Files.exists(file) && kept.count() >= REJECTED_LIMIT) {
                return sentence + "clear " + rejected + ", which is full, to see it there";
            }
            Files.write(file, certificate.getEncoded());
        } catch (IOException | CertificateEncodingException e) {
            return sentence + "it could not be written to " + rejected + ": " + e;
        }
        return sentence + "to trust it, move " + file + " to " + folder.resolve("trusted");
    }

    private static List<X509Certificate> certificatesIn(Path folder) throws IOException {
        List<X509Certificate> certificates = new ArrayList<>();
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
                try {
                    certificates.addAll(CertificateUtil.decodeCertificates(Files.readAllBytes(file)));
                } catch (UaException e) {
                    throw new IOException(file + " is not a certificate", e);
                }
            }
        }
        return certificates;
    }

    private static String name(X509Certificate certificate) {
        return certificate.getSubjectX500Principal().getName();
    }
}
