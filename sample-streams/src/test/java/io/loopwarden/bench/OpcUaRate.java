package io.loopwarden.bench;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;

import io.loopwarden.collector.Connection;
import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.opcua.OpcUaCollector;
import io.loopwarden.opcua.OpcUaSettings;
import io.loopwarden.pointmap.PointMap;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.LongAdder;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.IntStream;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.sdk.client.subscriptions.OpcUaMonitoredItem;
import org.eclipse.milo.opcua.sdk.client.subscriptions.OpcUaSubscription;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.enumerated.DataChangeTrigger;
import org.eclipse.milo.opcua.stack.core.types.structured.DataChangeFilter;

/** OPC UA notifications, committed, against a bare subscription of the same client library that only counts. */
final class OpcUaRate implements BenchMain.Row {

    private static final double PUBLISHING_MS = 20;
    private static final double SAMPLING_MS = 5;
    private static final int QUEUE = 100;

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int units = wanted.of(2, 24, 24);
        int runs = wanted.of(1, 5, 7);
        double seconds = wanted.of(1, 4, 10);
        double[] ours = new double[runs];
        double[] bare = new double[runs];
        List<PointName> points = MadeScans.names(MadeScans.POINTS);
        List<String> nodes = IntStream.rangeClosed(1, units)
                .boxed()
                .flatMap(unit -> points.stream().map(point -> "U" + unit + "/" + point.value()))
                .toList();
        try (CountingServer server = new CountingServer(nodes);
                BenchStore database = new BenchStore()) {
            if (wanted.size() != Wanted.Size.TINY) {
                bare(server, nodes, seconds);
                ours(database, server, units, points, seconds);
            }
            for (int run = 0; run < runs; run++) {
                bare[run] = bare(server, nodes, seconds);
                ours[run] = ours(database, server, units, points, seconds);
            }
        }
        return Sheet.of(Line.rate(
                "OPC UA notifications committed, " + nodes.size() + " nodes, against a bare subscription",
                Runs.of(ours),
                Runs.of(bare),
                "samples/s",
                0.7));
    }

    private static double bare(CountingServer server, List<String> nodes, double seconds) throws Exception {
        OpcUaClient client = OpcUaClient.create(
                server.address().toString(),
                endpoints -> endpoints.stream().findFirst(),
                transport -> {},
                config -> {});
        client.connect();
        try {
            OpcUaSubscription subscription = new OpcUaSubscription(client, PUBLISHING_MS);
            LongAdder count = new LongAdder();
            subscription.setSubscriptionListener(new OpcUaSubscription.SubscriptionListener() {
                @Override
                public void onDataReceived(
                        OpcUaSubscription from, List<OpcUaMonitoredItem> items, List<DataValue> values) {
                    count.add(values.size());
                }
            });
            subscription.create();
            for (String node : nodes) {
                OpcUaMonitoredItem item = OpcUaMonitoredItem.newDataItem(NodeId.parse(CountingServer.node(node)));
                item.setSamplingInterval(SAMPLING_MS);
                item.setQueueSize(uint(QUEUE));
                item.setFilter(new DataChangeFilter(DataChangeTrigger.StatusValueTimestamp, uint(0), 0.0));
                subscription.addMonitoredItem(item);
            }
            subscription.createMonitoredItems();
            while (count.sum() < nodes.size()) {
                LockSupport.parkNanos(1_000_000);
            }
            long before = count.sum();
            long begin = System.nanoTime();
            LockSupport.parkNanos((long) (seconds * 1e9));
            return (count.sum() - before) / ((System.nanoTime() - begin) / 1e9);
        } finally {
            client.disconnect();
        }
    }

    private static double ours(
            BenchStore database, CountingServer server, int units, List<PointName> points, double seconds)
            throws Exception {
        List<PointMap.Entry> entries = new ArrayList<>();
        for (PointName point : points) {
            entries.add(new PointMap.Entry(
                    point,
                    CountingServer.node("{unit}/" + point.value()),
                    Conversion.none(point.quantity()),
                    null,
                    -1e12,
                    1e12));
        }
        PointMap map = new PointMap("rate", "opc-ua", entries);
        Connection connection = new Connection(
                "rate",
                "opc-ua",
                server.address(),
                Map.of(
                        "publishing-interval", "PT0.02S",
                        "sampling-interval", "PT0.005S",
                        "queue-size", Integer.toString(QUEUE)),
                IntStream.rangeClosed(1, units)
                        .mapToObj(unit -> new Connection.ServedUnit(new UnitId("U" + unit), "U" + unit, map))
                        .toList());
        try (Pipeline pipeline = new Pipeline(database, connection);
                OpcUaCollector collector = new OpcUaCollector(
                        connection,
                        OpcUaSettings.from(connection),
                        pipeline.intake,
                        pipeline.rejects,
                        Clock.systemUTC())) {
            collector.start();
            pipeline.awaitCommitted((long) units * points.size(), System.nanoTime());
            long before = pipeline.committed();
            long begin = System.nanoTime();
            LockSupport.parkNanos((long) (seconds * 1e9));
            return (pipeline.committed() - before) / ((System.nanoTime() - begin) / 1e9);
        }
    }
}
