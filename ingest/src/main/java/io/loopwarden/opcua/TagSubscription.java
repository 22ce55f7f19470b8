package io.loopwarden.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;

import io.loopwarden.fleet.Quantity;
import io.loopwarden.opcua.Deadband.Kind;
import io.loopwarden.opcua.OpcUaSettings.Report;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.sdk.client.subscriptions.MonitoredItemServiceOperationResult;
import org.eclipse.milo.opcua.sdk.client.subscriptions.OpcUaMonitoredItem;
import org.eclipse.milo.opcua.sdk.client.subscriptions.OpcUaSubscription;
import org.eclipse.milo.opcua.stack.core.NamespaceTable;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExpandedNodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.enumerated.DataChangeTrigger;
import org.eclipse.milo.opcua.stack.core.types.enumerated.DeadbandType;
import org.eclipse.milo.opcua.stack.core.types.structured.DataChangeFilter;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** One subscription with a monitored item for each tag that the server knows. Its methods wait for the server. */
final class TagSubscription {

    private static final Logger LOG = LoggerFactory.getLogger(TagSubscription.class);

    /** The subscription is gone or silent and has to be made anew. */
    @FunctionalInterface
    interface Gone {
        void because(String why);
    }

    /** Answers of servers that cannot do the filter; the item is then made without one. */
    private static final Set<Long> FILTER_REFUSED = Set.of(
            StatusCodes.Bad_FilterNotAllowed,
            StatusCodes.Bad_MonitoredItemFilterInvalid,
            StatusCodes.Bad_MonitoredItemFilterUnsupported,
            StatusCodes.Bad_DeadbandFilterInvalid);

    /**
     * Patience with a silent subscription, in keep-alive intervals: longer than the session needs to notice a dead
     * connection (two), because a session that comes back brings the queued samples with it and a new subscription
     * does not.
     */
    private static final double WATCHDOG_MULTIPLIER = 3;

    private final OpcUaClient client;
    private final OpcUaSettings settings;
    private final OpcUaSubscription subscription;
    private final List<Tag> withoutItem;

    TagSubscription(OpcUaClient client, OpcUaSettings settings, List<Tag> tags, Delivery delivery, Gone gone) {
        this.client = client;
        this.settings = settings;
        this.withoutItem = new ArrayList<>(tags);
        this.subscription = new OpcUaSubscription(client, millis(settings.publishingInterval()));
        long keepAliveCount = Math.max(
                1,
                settings.keepAlive().toMillis() / settings.publishingInterval().toMillis());
        long lifetimeCount = settings.sessionTimeout().toMillis()
                / settings.publishingInterval().toMillis();
        subscription.setLifetimeAndKeepAliveCalculated(false);
        subscription.setMaxKeepAliveCount(uint(keepAliveCount));
        subscription.setLifetimeCount(uint(Math.max(3 * keepAliveCount, lifetimeCount)));
        subscription.setWatchdogMultiplier(WATCHDOG_MULTIPLIER);
        subscription.setSubscriptionListener(new Listener(delivery, tags, gone));
    }

    /** @return the tags that the server does not give us, and why */
    Map<Tag, String> create() throws UaException {
        subscription.create();
        subscription
                .getRevisedPublishingInterval()
                .filter(ms -> ms > millis(settings.publishingInterval()))
                .ifPresent(ms ->
                        LOG.info("the server sends every {} ms only, asked for {}", ms, settings.publishingInterval()));
        return createMissing();
    }

    /** Tries again those tags that have no item on the server. */
    Map<Tag, String> createMissing() throws UaException {
        addItems();
        Map<Tag, String> refused = new LinkedHashMap<>();
        withoutItem.forEach(tag -> refused.put(tag, "its namespace is unknown to the server"));
        List<OpcUaMonitoredItem> withoutFilter = new ArrayList<>();
        note(subscription.createMonitoredItems(), refused, withoutFilter);
        if (!withoutFilter.isEmpty()) {
            withoutFilter.forEach(item -> item.setFilter(null));
            note(subscription.createMonitoredItems(withoutFilter::contains), refused, new ArrayList<>());
        }
        return refused;
    }

    /**
     * Stops listening, and asks the server to forget it without waiting; what the server does not hear, it drops by
     * itself.
     */
    void drop() {
        subscription.setSubscriptionListener(null);
        subscription.getSubscriptionId().ifPresent(id -> client.deleteSubscriptionsAsync(List.of(id)));
        subscription.reset();
    }

    private void addItems() throws UaException {
        boolean byUri = withoutItem.stream().anyMatch(tag -> tag.source().startsWith("nsu="));
        NamespaceTable namespaces = byUri ? client.readNamespaceTable() : client.getNamespaceTable();
        for (Tag tag : List.copyOf(withoutItem)) {
            Optional<NodeId> node = ExpandedNodeId.parse(tag.source()).toNodeId(namespaces);
            if (node.isPresent()) {
                subscription.addMonitoredItem(item(tag, node.get()));
                withoutItem.remove(tag);
            }
        }
    }

    private OpcUaMonitoredItem item(Tag tag, NodeId node) {
        OpcUaMonitoredItem item = OpcUaMonitoredItem.newDataItem(node);
        item.setSamplingInterval(millis(settings.samplingInterval()));
        item.setQueueSize(uint(settings.queueSize()));
        item.setDiscardOldest(true);
        item.setFilter(filter(tag));
        item.setUserObject(tag);
        return item;
    }

    private DataChangeFilter filter(Tag tag) {
        Deadband deadband = tag.point().quantity() == Quantity.FLAG ? Deadband.NONE : settings.deadbandOf(tag.point());
        if (deadband.kind() == Kind.NONE) {
            boolean every = settings.report() == Report.EVERY_SCAN;
            return every ? new DataChangeFilter(DataChangeTrigger.StatusValueTimestamp, uint(0), 0.0) : null;
        }
        DeadbandType type = deadband.kind() == Kind.ABSOLUTE ? DeadbandType.Absolute : DeadbandType.Percent;
        return new DataChangeFilter(DataChangeTrigger.StatusValue, uint(type.getValue()), deadband.value());
    }

    private static void note(
            List<MonitoredItemServiceOperationResult> results,
            Map<Tag, String> refused,
            List<OpcUaMonitoredItem> withoutFilter)
            throws UaException {
        for (MonitoredItemServiceOperationResult result : results) {
            if (!result.serviceResult().isGood()) {
                throw new UaException(result.serviceResult(), "monitored items could not be made");
            }
            StatusCode status = result.operationResult().orElse(StatusCode.BAD);
            OpcUaMonitoredItem item = result.monitoredItem();
            if (FILTER_REFUSED.contains(status.value()) && item.getFilter() != null) {
                withoutFilter.add(item);
            } else if (!status.isGood()) {
                refused.put(tag(item), Reasons.name(status));
            }
        }
    }

    private static Tag tag(OpcUaMonitoredItem item) {
        return (Tag) item.getUserObject().orElseThrow();
    }

    private static double millis(Duration duration) {
        return duration.toNanos() / 1e6;
    }

    private record Listener(Delivery delivery, List<Tag> tags, Gone gone)
            implements OpcUaSubscription.SubscriptionListener {

        @Override
        public void onDataReceived(
                OpcUaSubscription subscription, List<OpcUaMonitoredItem> items, List<DataValue> values) {
            delivery.values(items.stream().map(TagSubscription::tag).toList(), values);
        }

        @Override
        public void onKeepAliveReceived(OpcUaSubscription subscription) {
            delivery.heard();
        }

        @Override
        public void onNotificationDataLost(OpcUaSubscription subscription) {
            delivery.markGap(tags);
        }

        @Override
        public void onWatchdogTimerElapsed(OpcUaSubscription subscription) {
            gone.because("the server is silent: neither data nor keep-alive came in time");
        }

        @Override
        public void onStatusChanged(OpcUaSubscription subscription, StatusCode status) {
            gone.because("the server ended the subscription: " + Reasons.name(status));
        }

        @Override
        public void onTransferFailed(OpcUaSubscription subscription, StatusCode status) {
            gone.because("the server did not hand the subscription over: " + Reasons.name(status));
        }
    }
}
