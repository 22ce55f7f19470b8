package io.loopwarden.bench;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.util.List;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.eclipse.milo.opcua.sdk.server.EndpointConfig;
import org.eclipse.milo.opcua.sdk.server.ManagedNamespaceWithLifecycle;
import org.eclipse.milo.opcua.sdk.server.OpcUaServer;
import org.eclipse.milo.opcua.sdk.server.OpcUaServerConfig;
import org.eclipse.milo.opcua.sdk.server.identity.AnonymousIdentityValidator;
import org.eclipse.milo.opcua.sdk.server.items.DataItem;
import org.eclipse.milo.opcua.sdk.server.items.MonitoredItem;
import org.eclipse.milo.opcua.sdk.server.nodes.UaVariableNode;
import org.eclipse.milo.opcua.sdk.server.nodes.filters.AttributeFilters;
import org.eclipse.milo.opcua.sdk.server.util.SubscriptionModel;
import org.eclipse.milo.opcua.stack.core.NodeIds;
import org.eclipse.milo.opcua.stack.core.security.DefaultCertificateManager;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateQuarantine;
import org.eclipse.milo.opcua.stack.core.security.SecurityPolicy;
import org.eclipse.milo.opcua.stack.core.transport.TransportProfile;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.builtin.QualifiedName;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.eclipse.milo.opcua.stack.core.types.enumerated.MessageSecurityMode;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransport;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransportConfig;

/** An OPC UA server on loopback, without security, whose nodes have another value each time they are sampled. */
final class CountingServer implements AutoCloseable {

    private static final String URN = "urn:loopwarden:bench:server";

    private final int port;
    private final OpcUaServer server;
    private final Namespace namespace;

    CountingServer(List<String> nodes) throws Exception {
        port = freePort();
        OpcUaServerConfig config = OpcUaServerConfig.builder()
                .setApplicationUri(URN)
                .setApplicationName(LocalizedText.english("bench"))
                .setProductUri(URN)
                .setEndpoints(Set.of(EndpointConfig.newBuilder()
                        .setTransportProfile(TransportProfile.TCP_UASC_UABINARY)
                        .setBindAddress("127.0.0.1")
                        .setBindPort(port)
                        .setHostname("127.0.0.1")
                        .setPath("/bench")
                        .setSecurityMode(MessageSecurityMode.None)
                        .setSecurityPolicy(SecurityPolicy.None)
                        .addTokenPolicies(OpcUaServerConfig.USER_TOKEN_POLICY_ANONYMOUS)
                        .build()))
                .setCertificateManager(new DefaultCertificateManager(new MemoryCertificateQuarantine()))
                .setIdentityValidator(AnonymousIdentityValidator.INSTANCE)
                .build();
        server = new OpcUaServer(
                config,
                profile -> new OpcTcpServerTransport(
                        OpcTcpServerTransportConfig.newBuilder().build()));
        namespace = new Namespace(server);
        namespace.startup();
        nodes.forEach(namespace::add);
        server.startup().get(20, TimeUnit.SECONDS);
    }

    private static int freePort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    URI address() {
        return URI.create("opc.tcp://127.0.0.1:" + port + "/bench");
    }

    static String node(String name) {
        return "ns=2;s=" + name;
    }

    @Override
    public void close() {
        try {
            server.shutdown().get(10, TimeUnit.SECONDS);
            namespace.shutdown();
        } catch (Exception e) {
            throw new IllegalStateException("OPC UA server on port " + port + " did not stop", e);
        }
    }

    private static final class Namespace extends ManagedNamespaceWithLifecycle {

        private final SubscriptionModel sampling;

        Namespace(OpcUaServer server) {
            super(server, URN + ":nodes");
            sampling = new SubscriptionModel(server, this);
            getLifecycleManager().addLifecycle(sampling);
        }

        void add(String name) {
            AtomicLong counter = new AtomicLong();
            UaVariableNode node = new UaVariableNode.UaVariableNodeBuilder(getNodeContext())
                    .setNodeId(newNodeId(name))
                    .setBrowseName(new QualifiedName(getNamespaceIndex(), name))
                    .setDisplayName(LocalizedText.english(name))
                    .setDataType(NodeIds.Double)
                    .setTypeDefinition(NodeIds.BaseDataVariableType)
                    .build();
            node.getFilterChain()
                    .addLast(AttributeFilters.getValue(context -> new DataValue(
                            Variant.of(counter.incrementAndGet() % 100_000 / 1000.0),
                            StatusCode.GOOD,
                            new DateTime())));
            getNodeManager().addNode(node);
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
