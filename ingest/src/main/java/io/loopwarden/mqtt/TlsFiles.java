package io.loopwarden.mqtt;

import java.nio.file.Path;
import java.util.Optional;

/**
 * The PEM files of an encrypted connection.
 *
 * @param trustCertificate who may have signed the broker's certificate; the JVM's trust store if empty
 * @param clientCertificate what we show the broker, its chain included; only together with its key
 * @param clientKey PKCS #8, not encrypted
 */
record TlsFiles(Optional<Path> trustCertificate, Optional<Path> clientCertificate, Optional<Path> clientKey) {}
