package io.loopwarden.mqtt;

import io.loopwarden.collector.ReadingSink;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.mqtt.payload.Arrival;
import io.loopwarden.mqtt.payload.Decoded;
import io.loopwarden.mqtt.payload.EdgeNode;
import io.loopwarden.mqtt.payload.MessageDecoder;
import io.loopwarden.mqtt.payload.Refusal;
import io.loopwarden.mqtt.payload.UnitReadings;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Semaphore;
import java.util.function.Consumer;

/**
 * The way of one connection's messages to the sink and of the acknowledgements back. When a message cannot be kept it stays without
 * acknowledgement, and so do all that came after it, until a new connection gets them again.
 */
final class Delivery {

    /** What one connection's deliveries need from outside; the same for all connections of a collector. */
    record Context(
            String connection,
            MessageDecoder decoder,
            ReadingSink sink,
            RejectLog rejects,
            Consumer<EdgeNode> rebirths) {}

    private final Context context;
    private final Consumer<String> onKeepFailed;
    private final AckOrder acks = new AckOrder();
    private final Semaphore room;
    private volatile boolean closed;

    /** @param onKeepFailed told, for each message that could not be kept, why */
    Delivery(Context context, int maxInFlight, Consumer<String> onKeepFailed) {
        this.context = context;
        this.onKeepFailed = onKeepFailed;
        this.room = new Semaphore(maxInFlight);
    }

    /** Waits while too many messages are under way. Called by one thread at a time. */
    void take(Arrival arrival, Runnable acknowledge) {
        room.acquireUninterruptibly();
        if (closed) {
            return;
        }
        AckOrder.Ticket ticket = acks.add(
                () -> {
                    if (!closed) {
                        acknowledge.run();
                    }
                    room.release();
                },
                System.nanoTime());
        String topic = arrival.topic(); // all that is still needed of the message while it is under way
        keep(arrival).whenComplete((nothing, failure) -> {
            // What will not come again must not hold up what would; the sink has counted it.
            if (failure == null || acknowledge == MqttLink.NO_ACKNOWLEDGEMENT) {
                ticket.ready();
            } else {
                onKeepFailed.accept(LinkException.sentence("a message on " + topic + " was not kept", failure));
            }
        });
    }

    private CompletableFuture<Void> keep(Arrival arrival) {
        Decoded decoded = decode(arrival);
        for (Refusal refusal : decoded.refusals()) {
            context.rejects().reject(context.connection(), refusal.reason(), refusal.detail(), arrival.payload());
        }
        decoded.rebirthWanted().ifPresent(context.rebirths());
        List<UnitReadings> units = decoded.units();
        if (units.size() == 1) {
            return hand(units.get(0), arrival);
        }
        return CompletableFuture.allOf(
                units.stream().map(unit -> hand(unit, arrival)).toArray(CompletableFuture<?>[]::new));
    }

    private Decoded decode(Arrival arrival) {
        try {
            synchronized (context.decoder()) {
                return context.decoder().decode(arrival);
            }
        } catch (RuntimeException e) {
            // A fault of ours must not bring the message back for ever: it counts as unreadable.
            String detail = LinkException.sentence("cannot read a message on " + arrival.topic(), e);
            return Decoded.refused(new Refusal(RejectReason.MALFORMED, detail));
        }
    }

    private CompletableFuture<Void> hand(UnitReadings unit, Arrival arrival) {
        try {
            return context.sink().accept(unit.unit(), arrival.receivedAt(), unit.readings());
        } catch (RuntimeException e) {
            return CompletableFuture.failedFuture(e);
        }
    }

    /** How long the oldest message has been under way. */
    Duration oldest() {
        return Duration.ofNanos(acks.oldestNanos(System.nanoTime()));
    }

    /** Waits, bounded, until all that was taken is kept and acknowledged. */
    void drain(Duration atMost) throws InterruptedException {
        acks.awaitEmpty(atMost.toMillis());
    }

    /** No acknowledgement leaves from now on, and nobody waits for room. */
    void close() {
        closed = true;
        room.release(1_000_000);
    }
}
