package io.loopwarden.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;

import io.loopwarden.collector.Connection;
import io.loopwarden.opcua.OpcUaSettings.SecurityMode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.security.GeneralSecurityException;
import java.security.cert.X509Certificate;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.sdk.client.OpcUaClientConfig;
import org.eclipse.milo.opcua.sdk.client.OpcUaClientConfigBuilder;
import org.eclipse.milo.opcua.sdk.client.SessionActivityListener;
import org.eclipse.milo.opcua.sdk.client.UaSession;
import org.eclipse.milo.opcua.sdk.client.identity.UsernameProvider;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.UaRuntimeException;
import org.eclipse.milo.opcua.stack.core.security.SecurityPolicy;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.UInteger;
import org.eclipse.milo.opcua.stack.core.types.structured.EndpointDescription;
import org.eclipse.milo.opcua.stack.core.types.structured.UserTokenPolicy;
import org.eclipse.milo.opcua.stack.core.util.CertificateUtil;

/**
 * One client from connect to close: a session and a subscription. The client brings its session back by itself after
 * a short break; the collector above decides when to give it up.
 */
final class OpcUaLink {

    /** What a link tells its collector; called in the client library's threads. */
    interface Listener {

        void sessionActive(OpcUaLink link);

        void sessionInactive(OpcUaLink link);

        void subscriptionGone(OpcUaLink link, String why);
    }

    private static final Duration CLOSE_PATIENCE = Duration.ofSeconds(2);

    private final OpcUaClient client;
    private final OpcUaSettings settings;
    private final List<Tag> tags;
    private final Delivery delivery;
    private final Listener listener;
    private TagSubscription subscription;

    private OpcUaLink(
            OpcUaClient client, OpcUaSettings settings, List<Tag> tags, Delivery delivery, Listener listener) {
        this.client = client;
        this.settings = settings;
        this.tags = tags;
        this.delivery = delivery;
        this.listener = listener;
    }

    /** Finds the endpoint and opens a session; on failure leaves nothing behind. */
    static OpcUaLink open(
            Connection connection, OpcUaSettings settings, List<Tag> tags, Delivery delivery, Listener listener)
            throws UaException, ExecutionException, InterruptedException, TimeoutException, IOException,
                    GeneralSecurityException {
        EndpointDescription endpoint =
                Endpoints.find(connection.endpoint(), settings.securityMode(), settings.requestTimeout());
        OpcUaClientConfigBuilder config = OpcUaClientConfig.builder()
                .setApplicationName(LocalizedText.english("Loopwarden collector"))
                .setSessionName(() -> "loopwarden " + connection.name())
                .setEndpoint(endpoint)
                .setSessionEndpointValidationEnabled(false)
                .setRequestTimeout(millis(settings.requestTimeout()))
                .setSessionTimeout(millis(settings.sessionTimeout()))
                .setKeepAliveInterval(millis(settings.keepAlive()))
                .setKeepAliveTimeout(millis(settings.keepAlive()))
                .setKeepAliveFailuresAllowed(uint(0));
        secure(config, settings, endpoint);
        OpcUaClient client = OpcUaClient.create(
                config.build(), transport -> transport.setConnectTimeout(millis(settings.requestTimeout())));
        OpcUaLink link = new OpcUaLink(client, settings, tags, delivery, listener);
        client.addSessionActivityListener(link.new Activity());
        try {
            await(client.connectAsync(), settings.requestTimeout());
            return link;
        } catch (ExecutionException | InterruptedException | TimeoutException e) {
            link.close();
            if (UaException.extractStatusCode(e).filter(OpcUaLink::refused).isPresent()) {
                throw new UaException(
                        StatusCodes.Bad_SecurityChecksFailed,
                        "the server refuses a secure channel; let it trust "
                                + settings.securityFolder().resolve("own/certificate.der"),
                        e);
            }
            throw e;
        }
    }

    private static boolean refused(StatusCode status) {
        return status.value() == StatusCodes.Bad_SecurityChecksFailed;
    }

    OpcUaClient client() {
        return client;
    }

    /** @return the tags that the server does not give us, and why */
    Map<Tag, String> subscribe() throws UaException {
        if (subscription != null) {
            subscription.drop();
        }
        subscription = new TagSubscription(
                client, settings, tags, delivery, why -> listener.subscriptionGone(OpcUaLink.this, why));
        return subscription.create();
    }

    /** Tries again the tags that {@link #subscribe} could not get. */
    Map<Tag, String> retryMissing() throws UaException {
        return subscription.createMissing();
    }

    /** Waits a short time for the server's farewell, then leaves without. */
    void close() {
        if (subscription != null) {
            subscription.drop();
        }
        boolean interrupted = Thread.interrupted();
        try {
            await(client.disconnectAsync(), CLOSE_PATIENCE);
        } catch (ExecutionException | TimeoutException e) {
            client.getTransport().disconnect();
        } catch (InterruptedException e) {
            interrupted = true;
            client.getTransport().disconnect();
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }

    private static void secure(OpcUaClientConfigBuilder config, OpcUaSettings settings, EndpointDescription endpoint)
            throws IOException, GeneralSecurityException, UaException {
        if (settings.securityMode() == SecurityMode.NONE) {
            return;
        }
        SecurityFolder own = SecurityFolder.open(settings.securityFolder());
        own.trust()
                .validateCertificateChain(
                        CertificateUtil.decodeCertificates(
                                endpoint.getServerCertificate().bytesOrEmpty()),
                        endpoint.getServer().getApplicationUri(),
                        null);
        config.setApplicationUri(own.applicationUri())
                .setKeyPair(own.keyPair())
                .setCertificate(own.certificate())
                .setCertificateChain(new X509Certificate[] {own.certificate()})
                .setCertificateValidator(own.trust());
        if (settings.login().isPresent()) {
            Login login = settings.login().get();
            login.password(); // fails here with its own message rather than inside the log-in
            config.setIdentityProvider(new UsernameProvider(
                    login.userName(),
                    () -> password(login),
                    own.trust(),
                    policies -> encrypting(policies, settings.securityMode())));
        }
    }

    private static byte[] password(Login login) {
        try {
            return login.password();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /**
     * A token policy that encrypts the password; one that does not is good enough only where all is encrypted anyway.
     */
    private static UserTokenPolicy encrypting(List<UserTokenPolicy> policies, SecurityMode mode) {
        return policies.stream()
                .filter(policy -> !SecurityPolicy.None.getUri().equals(policy.getSecurityPolicyUri()))
                .findFirst()
                .or(() -> mode == SecurityMode.SIGN_AND_ENCRYPT
                        ? policies.stream().findFirst()
                        : Optional.empty())
                .orElseThrow(() -> new UaRuntimeException(
                        StatusCodes.Bad_SecurityPolicyRejected, "the server would take the password unencrypted only"));
    }

    private static void await(CompletableFuture<?> future, Duration timeout)
            throws ExecutionException, InterruptedException, TimeoutException {
        future.get(timeout.toMillis(), TimeUnit.MILLISECONDS);
    }

    private static UInteger millis(Duration duration) {
        return uint(duration.toMillis());
    }

    private final class Activity implements SessionActivityListener {

        @Override
        public void onSessionActive(UaSession session) {
            listener.sessionActive(OpcUaLink.this);
        }

        @Override
        public void onSessionInactive(UaSession session) {
            listener.sessionInactive(OpcUaLink.this);
        }
    }
}
