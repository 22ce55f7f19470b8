package io.loopwarden.opcua;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.security.GeneralSecurityException;
import java.security.KeyPair;
import java.security.cert.X509Certificate;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.eclipse.milo.opcua.sdk.server.EndpointConfig;
import org.eclipse.milo.opcua.sdk.server.ManagedNamespaceWithLifecycle;
import org.eclipse.milo.opcua.sdk.server.OpcUaServer;
import org.eclipse.milo.opcua.sdk.server.OpcUaServerConfig;
import org.eclipse.milo.opcua.sdk.server.identity.AnonymousIdentityValidator;
import org.eclipse.milo.opcua.sdk.server.identity.CompositeValidator;
import org.eclipse.milo.opcua.sdk.server.identity.UsernameIdentityValidator;
import org.eclipse.milo.opcua.sdk.server.items.DataItem;
import org.eclipse.milo.opcua.sdk.server.items.MonitoredItem;
import org.eclipse.milo.opcua.sdk.server.nodes.UaVariableNode;
import org.eclipse.milo.opcua.sdk.server.nodes.filters.AttributeFilters;
import org.eclipse.milo.opcua.sdk.server.util.SubscriptionModel;
import org.eclipse.milo.opcua.stack.core.NodeIds;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.security.CertificateQuarantine;
import org.eclipse.milo.opcua.stack.core.security.DefaultApplicationGroup;
import org.eclipse.milo.opcua.stack.core.security.DefaultCertificateManager;
import org.eclipse.milo.opcua.stack.core.security.DefaultServerCertificateValidator;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateQuarantine;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateStore;
import org.eclipse.milo.opcua.stack.core.security.MemoryTrustListManager;
import org.eclipse.milo.opcua.stack.core.security.RsaSha256CertificateFactory;
import org.eclipse.milo.opcua.stack.core.security.SecurityPolicy;
import org.eclipse.milo.opcua.stack.core.transport.TransportProfile;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.builtin.QualifiedName;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.eclipse.milo.opcua.stack.core.types.enumerated.MessageSecurityMode;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateBuilder;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateGenerator;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransport;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransportConfig;

/** A real OPC UA server on loopback; after a stop it comes back on the same port with the same nodes and key pair. */
final class PlantServer implements AutoCloseable {

    static final String NAMESPACE = "urn:loopwarden:test:plant";
    static final String USER = "reader";
    static final String PASSWORD = "not-the-usual-one";

    private static final String APPLICATION_URI = "urn:loopwarden:test:server";
    private static final KeyPair KEY_PAIR = keyPair();
    private static final X509Certificate CERTIFICATE = certificate(KEY_PAIR);

    private final int port = freePort();
    private final Map<String, DataValue> values = new LinkedHashMap<>();
    private final MemoryTrustListManager trusted = new MemoryTrustListManager();
    private final CertificateQuarantine refused = new MemoryCertificateQuarantine();
    private final Map<String, AtomicLong> counters = new LinkedHashMap<>();
    private OpcUaServer server;
    private PlantNamespace namespace;

    URI address() {
        return URI.create("opc.tcp://127.0.0.1:" + port + "/plant");
    }

    int port() {
        return port;
    }

    static X509Certificate certificate() {
        return CERTIFICATE;
    }

    /** Lets a client's certificate in. */
    void trust(X509Certificate client) {
        trusted.addTrustedCertificate(client);
    }

    synchronized void start() throws Exception {
        var group = DefaultApplicationGroup.createAndInitialize(
                trusted,
                new MemoryCertificateStore(),
                new OwnKey(),
                new DefaultServerCertificateValidator(trusted, refused));
        OpcUaServerConfig config = OpcUaServerConfig.builder()
                .setApplicationUri(APPLICATION_URI)
                .setApplicationName(LocalizedText.english("plant"))
                .setProductUri(APPLICATION_URI)
                .setEndpoints(endpoints())
                .setCertificateManager(new DefaultCertificateManager(refused, group))
                .setIdentityValidator(new CompositeValidator(
                        AnonymousIdentityValidator.INSTANCE,
                        new UsernameIdentityValidator(who -> who.getUsername().equals(USER)
                                && who.getPassword().equals(PASSWORD))))
                .build();
        server = new OpcUaServer(
                config,
                profile -> new OpcTcpServerTransport(
                        OpcTcpServerTransportConfig.newBuilder().build()));
        namespace = new PlantNamespace(server);
        namespace.startup();
        values.forEach(namespace::put);
        counters.forEach(namespace::count);
        server.startup().get(10, TimeUnit.SECONDS);
    }

    synchronized void stop() throws Exception {
        if (server != null) {
            server.shutdown().get(10, TimeUnit.SECONDS);
            namespace.shutdown();
            server = null;
        }
    }

    @Override
    public void close() {
        try {
            stop();
        } catch (Exception e) {
            throw new IllegalStateException("test server did not stop", e);
        }
    }

    /** A value with the source time; returns that time. */
    Instant set(String name, Object value) {
        return set(name, value, StatusCodes.Good);
    }

    Instant set(String name, Object value, long status) {
        DateTime now = new DateTime();
        set(name, new DataValue(Variant.of(value), new StatusCode(status), now));
        return now.getJavaInstant();
    }

    synchronized void set(String name, DataValue value) {
        values.put(name, value);
        if (server != null) {
            namespace.put(name, value);
        }
    }

    /** A node whose value is one more each time it is sampled, over restarts too: a number that is missing was lost. */
    synchronized void count(String name) {
        counters.put(name, new AtomicLong());
    }

    /** The node is missing from the next start on. */
    synchronized void remove(String name) {
        values.remove(name);
    }

    static String node(String name) {
        return "ns=2;s=" + name;
    }

    private Set<EndpointConfig> endpoints() {
        Set<EndpointConfig> all = new LinkedHashSet<>();
        for (MessageSecurityMode mode :
                List.of(MessageSecurityMode.None, MessageSecurityMode.Sign, MessageSecurityMode.SignAndEncrypt)) {
            all.add(EndpointConfig.newBuilder()
                    .setTransportProfile(TransportProfile.TCP_UASC_UABINARY)
                    .setBindAddress("127.0.0.1")
                    .setBindPort(port)
                    .setHostname("plant-controller.invalid") // as in a plant: a name that only the controller knows
                    .setPath("/plant")
                    .setCertificate(CERTIFICATE)
                    .setSecurityMode(mode)
                    .setSecurityPolicy(
                            mode == MessageSecurityMode.None ? SecurityPolicy.None : SecurityPolicy.Basic256Sha256)
                    .addTokenPolicies(
                            OpcUaServerConfig.USER_TOKEN_POLICY_ANONYMOUS, OpcUaServerConfig.USER_TOKEN_POLICY_USERNAME)
                    .build());
        }
        return all;
    }

    private static int freePort() {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static KeyPair keyPair() {
        try {
            return SelfSignedCertificateGenerator.generateRsaKeyPair(2048);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
    }

    private static X509Certificate certificate(KeyPair pair) {
        try {
            return new SelfSignedCertificateBuilder(pair)
                    .setCommonName("plant controller")
                    .setApplicationUri(APPLICATION_URI)
                    .addDnsName("plant-controller.invalid")
                    .build();
        } catch (Exception e) {
            throw new IllegalStateException(e);
        }
    }

    private static final class OwnKey extends RsaSha256CertificateFactory {

        @Override
        protected KeyPair createRsaSha256KeyPair() {
            return KEY_PAIR;
        }

        @Override
        protected X509Certificate[] createRsaSha256CertificateChain(KeyPair keyPair) {
            return new X509Certificate[] {CERTIFICATE};
        }
    }

    private static final class PlantNamespace extends ManagedNamespaceWithLifecycle {

        private final SubscriptionModel sampling;

        PlantNamespace(OpcUaServer server) {
            super(server, NAMESPACE);
            sampling = new SubscriptionModel(server, this);
            getLifecycleManager().addLifecycle(sampling);
        }

        void put(String name, DataValue value) {
            UaVariableNode node = (UaVariableNode) getNodeManager().get(newNodeId(name));
            if (node == null) {
                node = new UaVariableNode.UaVariableNodeBuilder(getNodeContext())
                        .setNodeId(newNodeId(name))
                        .setBrowseName(new QualifiedName(getNamespaceIndex(), name))
                        .setDisplayName(LocalizedText.english(name))
                        .setDataType(value.value().value() instanceof Double ? NodeIds.Double : NodeIds.BaseDataType)
                        .setTypeDefinition(NodeIds.BaseDataVariableType)
                        .build();
                node.setValue(value);
                getNodeManager().addNode(node);
            } else {
                node.setValue(value);
            }
        }

        void count(String name, AtomicLong counter) {
            put(name, new DataValue(Variant.of(0L)));
            getNodeManager()
                    .get(newNodeId(name))
                    .getFilterChain()
                    .addLast(AttributeFilters.getValue(context ->
                            new DataValue(Variant.of(counter.incrementAndGet()), StatusCode.GOOD, new DateTime())));
        }

        @Override
        public void onDataItemsCreated(List<DataItem> items) {
            sampling.onDataItemsCreated(items);
        }

        @Override
        public void onDataItemsModified(List<DataItem> items) {
            sampling.onDataItemsModified(items);
        }

        @Override
        public void onDataItemsDeleted(List<DataItem> items) {
            sampling.onDataItemsDeleted(items);
        }

        @Override
        public void onMonitoringModeChanged(List<MonitoredItem> items) {
            sampling.onMonitoringModeChanged(items);
        }
    }
}
