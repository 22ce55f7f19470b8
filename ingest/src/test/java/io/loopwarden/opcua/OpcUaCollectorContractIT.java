package io.loopwarden.opcua;

import io.loopwarden.collector.Collector;
import io.loopwarden.collector.CollectorContract;
import io.loopwarden.collector.Connection;
import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import java.time.Clock;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import org.eclipse.milo.opcua.stack.core.StatusCodes;

class OpcUaCollectorContractIT extends CollectorContract {

    private static final String SUPPLY = "CDU03/TcsSupplyTemp";
    private static final String FLOW = "CDU03/TcsFlow";

    @Override
    protected Rig newRig() {
        return new OpcUaRig();
    }

    private static final class OpcUaRig implements Rig {

        private final PlantServer server = new PlantServer();

        OpcUaRig() {
            server.set(SUPPLY, 0.0);
            server.set(FLOW, 0.0);
        }

        @Override
        public void start() throws Exception {
            server.start();
        }

        @Override
        public void stop() throws Exception {
            server.stop();
        }

        @Override
        public Collector collector(ReadingSink sink, RejectLog rejects, Clock clock) {
            Connection connection = Plants.connection(
                    server.address(),
                    Plants.quick(),
                    Plants.unit(
                            unit(),
                            Map.of(
                                    "tcs.supply.temperature", PlantServer.node(SUPPLY),
                                    "tcs.flow", PlantServer.node(FLOW))));
            return new OpcUaCollector(connection, OpcUaSettings.from(connection), sink, rejects, clock);
        }

        @Override
        public String unit() {
            return "E-03";
        }

        @Override
        public String source() {
            return PlantServer.node(SUPPLY);
        }

        @Override
        public Optional<Instant> set(double value) {
            return Optional.of(server.set(SUPPLY, value));
        }

        @Override
        public void setBad() {
            server.set(SUPPLY, null, StatusCodes.Bad_SensorFailure);
        }

        @Override
        public void meetUnknownTag() throws Exception {
            server.stop();
            server.remove(FLOW);
            server.start();
        }

        @Override
        public boolean isOutside(Thread thread) {
            return thread.getName().startsWith("milo-");
        }

        @Override
        public void close() {
            server.close();
        }
    }
}
