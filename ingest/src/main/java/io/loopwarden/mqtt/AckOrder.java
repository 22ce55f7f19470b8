package io.loopwarden.mqtt;

import java.util.ArrayDeque;

/**
 * Gives acknowledgements in the order in which the messages came (MQTT 5, 4.6), in whatever order they get ready.
 *
 * <p>Bounded by whoever adds: one ticket for each message that is under way.
 */
final class AckOrder {

    /** One message that waits for its acknowledgement. */
    final class Ticket {
        private final Runnable acknowledge;
        private final long sinceNanos;
        private boolean ready;

        private Ticket(Runnable acknowledge, long sinceNanos) {
            this.acknowledge = acknowledge;
            this.sinceNanos = sinceNanos;
        }

        /** The message may be acknowledged, and is as soon as all before it are. */
        void ready() {
            synchronized (waiting) {
                ready = true;
                while (!waiting.isEmpty() && waiting.peek().ready) {
                    waiting.remove().acknowledge.run();
                }
                waiting.notifyAll();
            }
        }
    }

    private final ArrayDeque<Ticket> waiting = new ArrayDeque<>();

    Ticket add(Runnable acknowledge, long nowNanos) {
        Ticket ticket = new Ticket(acknowledge, nowNanos);
        synchronized (waiting) {
            waiting.add(ticket);
        }
        return ticket;
    }

    /** How long the oldest message has waited; 0 if none does. */
    long oldestNanos(long nowNanos) {
        synchronized (waiting) {
            return waiting.isEmpty() ? 0 : nowNanos - waiting.peek().sinceNanos;
        }
    }

    /** @return whether none waits any more */
    boolean awaitEmpty(long millis) throws InterruptedException {
        long end = System.nanoTime() + millis * 1_000_000;
        synchronized (waiting) {
            long leftMs = millis;
            while (!waiting.isEmpty() && leftMs > 0) {
                waiting.wait(leftMs);
                leftMs = (end - System.nanoTime()) / 1_000_000;
            }
            return waiting.isEmpty();
        }
    }
}
