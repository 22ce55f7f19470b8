package io.loopwarden.opcua;

import io.loopwarden.opcua.OpcUaSettings.SecurityMode;
import java.net.ConnectException;
import java.net.URI;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.stream.Collectors;
import org.eclipse.milo.opcua.sdk.client.DiscoveryClient;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.security.SecurityPolicy;
import org.eclipse.milo.opcua.stack.core.transport.TransportProfile;
import org.eclipse.milo.opcua.stack.core.types.enumerated.MessageSecurityMode;
import org.eclipse.milo.opcua.stack.core.types.structured.EndpointDescription;
import org.eclipse.milo.opcua.stack.core.util.EndpointUtil;

/** Asks a server for its endpoints and picks the one with the security that is configured, never one with less. */
final class Endpoints {

    private static final int DEFAULT_PORT = 4840;

    private Endpoints() {}

    /**
     * The endpoint to use, under the host and port that are configured: what a server calls itself seldom resolves
     * elsewhere.
     */
    static EndpointDescription find(URI address, SecurityMode mode, Duration timeout)
            throws UaException, ExecutionException, InterruptedException, TimeoutException {
        int port = address.getPort() < 0 ? DEFAULT_PORT : address.getPort();
        EndpointDescription chosen = choose(ask(address.toString(), timeout), mode);
        return EndpointUtil.updateUrl(chosen, address.getHost(), port);
    }

    /** A server without an unsecured endpoint answers under {@code /discovery} (OPC UA Part 6, 7.1). */
    private static List<EndpointDescription> ask(String url, Duration timeout)
            throws ExecutionException, InterruptedException, TimeoutException {
        try {
            return get(url, timeout);
        } catch (ExecutionException e) {
            if (Reasons.rootOf(e) instanceof ConnectException || url.endsWith("/discovery")) {
                throw e;
            }
            return get(url.endsWith("/") ? url + "discovery" : url + "/discovery", timeout);
        }
    }

    private static List<EndpointDescription> get(String url, Duration timeout)
            throws ExecutionException, InterruptedException, TimeoutException {
        return DiscoveryClient.getEndpoints(url).get(timeout.toMillis(), TimeUnit.MILLISECONDS);
    }

    static EndpointDescription choose(List<EndpointDescription> offered, SecurityMode mode) throws UaException {
        MessageSecurityMode wantedMode = switch (mode) {
            case NONE -> MessageSecurityMode.None;
            case SIGN -> MessageSecurityMode.Sign;
            case SIGN_AND_ENCRYPT -> MessageSecurityMode.SignAndEncrypt;
        };
        SecurityPolicy wantedPolicy = mode == SecurityMode.NONE ? SecurityPolicy.None : SecurityPolicy.Basic256Sha256;
        return offered.stream()
                .filter(endpoint ->
                        TransportProfile.TCP_UASC_UABINARY.getUri().equals(endpoint.getTransportProfileUri()))
                .filter(endpoint -> endpoint.getSecurityMode() == wantedMode)
                .filter(endpoint -> wantedPolicy.getUri().equals(endpoint.getSecurityPolicyUri()))
                .findFirst()
                .orElseThrow(() -> new UaException(
                        StatusCodes.Bad_SecurityModeRejected,
                        "the server has no endpoint with " + wantedPolicy + " " + wantedMode + "; it offers "
                                + offered.stream()
                                        .map(Endpoints::security)
                                        .distinct()
                                        .collect(Collectors.joining(", "))));
    }

    private static String security(EndpointDescription endpoint) {
        String policy = endpoint.getSecurityPolicyUri();
        return policy.substring(policy.indexOf('#') + 1) + " " + endpoint.getSecurityMode();
    }
}
