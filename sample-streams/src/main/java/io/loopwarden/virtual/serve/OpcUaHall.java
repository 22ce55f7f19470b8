package io.loopwarden.virtual.serve;

import io.loopwarden.virtual.Readings;
import io.loopwarden.virtual.scenario.FleetFile;
import io.loopwarden.virtual.scenario.Tag;
import java.security.KeyPair;
import java.security.cert.X509Certificate;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import org.eclipse.milo.opcua.sdk.server.EndpointConfig;
import org.eclipse.milo.opcua.sdk.server.OpcUaServer;
import org.eclipse.milo.opcua.sdk.server.OpcUaServerConfig;
import org.eclipse.milo.opcua.sdk.server.identity.AnonymousIdentityValidator;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.security.CertificateValidator;
import org.eclipse.milo.opcua.stack.core.security.DefaultApplicationGroup;
import org.eclipse.milo.opcua.stack.core.security.DefaultCertificateManager;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateQuarantine;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateStore;
import org.eclipse.milo.opcua.stack.core.security.MemoryTrustListManager;
import org.eclipse.milo.opcua.stack.core.security.RsaSha256CertificateFactory;
import org.eclipse.milo.opcua.stack.core.security.SecurityPolicy;
import org.eclipse.milo.opcua.stack.core.transport.TransportProfile;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.eclipse.milo.opcua.stack.core.types.enumerated.MessageSecurityMode;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateBuilder;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateGenerator;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransport;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransportConfig;

/**
 * One OPC UA server for the units of a hall, without security and with Basic256Sha256 (any client's certificate will do: it is a
 * virtual plant on loopback). Values are read only, with source times and status codes.
 */
public final class OpcUaHall implements Served {

    private static final String APPLICATION = "urn:loopwarden:virtual:controllers";
    /** Not the application's own URI, which is namespace 1 of every server: the tags are in namespace 2. */
    private static final String TAGS = "urn:loopwarden:virtual:controllers:tags";

    private final String path;
    private final int port = FreePort.find();
    private final OpcUaServer server;
    private final HallNamespace namespace;
    private final Map<String, UnitTags> units;

    public OpcUaHall(FleetFile fleet, FleetFile.Line line) {
        this.path = "/" + line.name();
        this.units = UnitTags.of(fleet, line).stream().collect(Collectors.toMap(UnitTags::id, unit -> unit));
        try {
            server = new OpcUaServer(
                    config(),
                    profile -> new OpcTcpServerTransport(
                            OpcTcpServerTransportConfig.newBuilder().build()));
            namespace = new HallNamespace(server, TAGS);
            namespace.startup();
            units.values().forEach(namespace::addUnit);
            server.startup().get(20, TimeUnit.SECONDS);
        } catch (Exception e) {
            throw new IllegalStateException("OPC UA server of " + line.name() + " cannot start on port " + port, e);
        }
    }

    private OpcUaServerConfig config() throws Exception {
        KeyPair keys = OwnCertificate.KEYS;
        X509Certificate certificate = OwnCertificate.make(keys);
        var quarantine = new MemoryCertificateQuarantine();
        var group = DefaultApplicationGroup.createAndInitialize(
                new MemoryTrustListManager(),
                new MemoryCertificateStore(),
                new OwnCertificate(keys, certificate),
                new CertificateValidator.InsecureCertificateValidator());
        return OpcUaServerConfig.builder()
                .setApplicationUri(APPLICATION)
                .setApplicationName(LocalizedText.english("virtual controllers"))
                .setProductUri(APPLICATION)
                .setEndpoints(endpoints(certificate))
                .setCertificateManager(new DefaultCertificateManager(quarantine, group))
                .setIdentityValidator(AnonymousIdentityValidator.INSTANCE)
                .build();
    }

    private Set<EndpointConfig> endpoints(X509Certificate certificate) {
        Set<EndpointConfig> all = new LinkedHashSet<>();
        for (MessageSecurityMode mode : List.of(MessageSecurityMode.None, MessageSecurityMode.SignAndEncrypt)) {
            all.add(EndpointConfig.newBuilder()
                    .setTransportProfile(TransportProfile.TCP_UASC_UABINARY)
                    .setBindAddress("127.0.0.1")
                    .setBindPort(port)
                    .setHostname("127.0.0.1")
                    .setPath(path)
                    .setCertificate(certificate)
                    .setSecurityMode(mode)
                    .setSecurityPolicy(
                            mode == MessageSecurityMode.None ? SecurityPolicy.None : SecurityPolicy.Basic256Sha256)
                    .addTokenPolicies(OpcUaServerConfig.USER_TOKEN_POLICY_ANONYMOUS)
                    .build());
        }
        return all;
    }

    @Override
    public void show(String id, Readings readings) {
        UnitTags unit = units.get(id);
        DateTime at = new DateTime(readings.at());
        for (Tag tag : unit.tags()) {
            boolean bad = readings.isBad(tag.point().value());
            Variant value = Variant.of(typed(tag, unit.raw(tag, readings)));
            long status = bad ? StatusCodes.Bad_SensorFailure : StatusCodes.Good;
            namespace.put(tag.source(unit.nameAtSource()), new DataValue(value, new StatusCode(status), at));
        }
    }

    @Override
    public void silence(String id) {
        UnitTags unit = units.get(id);
        StatusCode gone = new StatusCode(StatusCodes.Bad_NoCommunication);
        for (Tag tag : unit.tags()) {
            namespace.put(tag.source(unit.nameAtSource()), new DataValue(Variant.NULL_VALUE, gone, new DateTime()));
        }
    }

    private static Object typed(Tag tag, double raw) {
        if (UnitTags.isFlag(tag)) {
            return raw > 0.5;
        }
        return UnitTags.isCount(tag) ? (Object) Math.round(raw) : (Object) raw;
    }

    @Override
    public String endpoint() {
        return "opc.tcp://127.0.0.1:" + port + path;
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

    private static final class OwnCertificate extends RsaSha256CertificateFactory {

        /** Made once: both halls' servers use it, and making takes a second or two. */
        static final KeyPair KEYS = keys();

        private final KeyPair keys;
        private final X509Certificate certificate;

        OwnCertificate(KeyPair keys, X509Certificate certificate) {
            this.keys = keys;
            this.certificate = certificate;
        }

        private static KeyPair keys() {
            try {
                return SelfSignedCertificateGenerator.generateRsaKeyPair(2048);
            } catch (Exception e) {
                throw new IllegalStateException("no RSA key pair can be made", e);
            }
        }

        static X509Certificate make(KeyPair keys) throws Exception {
            return new SelfSignedCertificateBuilder(keys)
                    .setCommonName("virtual controllers")
                    .setApplicationUri(APPLICATION)
                    .addIpAddress("127.0.0.1")
                    .build();
        }

        @Override
        protected KeyPair createRsaSha256KeyPair() {
            return keys;
        }

        @Override
        protected X509Certificate[] createRsaSha256CertificateChain(KeyPair pair) {
            return new X509Certificate[] {certificate};
        }
    }
}
