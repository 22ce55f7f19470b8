package io.loopwarden.samplelog;

import io.loopwarden.fleet.Scan;
import java.util.ArrayDeque;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Scans on their way to one listener. Offering never waits: when the listener is behind, new scans are dropped and counted. */
final class ListenerQueue implements AutoCloseable {

    private static final Logger LOG = LoggerFactory.getLogger(ListenerQueue.class);

    private final ScanListener listener;
    private final int capacity;
    private final ArrayDeque<Scan> waiting = new ArrayDeque<>();
    private final Thread thread;
    private long droppedNow;
    private long droppedEver;
    private boolean closed;

    ListenerQueue(ScanListener listener, int capacity) {
        this.listener = listener;
        this.capacity = capacity;
        this.thread = new Thread(this::run, "scan-listener");
        thread.setDaemon(true);
        thread.start();
    }

    synchronized void offer(Scan scan) {
        // Once something was dropped, the rest waits until the listener was told: the gap has one place in the order.
        if (waiting.size() >= capacity || droppedNow > 0) {
            droppedNow++;
            droppedEver++;
        } else {
            waiting.add(scan);
            notifyAll();
        }
    }

    synchronized long dropped() {
        return droppedEver;
    }

    private void run() {
        while (true) {
            Scan scan;
            long dropped = 0;
            synchronized (this) {
                while (waiting.isEmpty() && droppedNow == 0 && !closed) {
                    try {
                        wait();
                    } catch (InterruptedException e) {
                        return;
                    }
                }
                if (closed) {
                    return;
                }
                scan = waiting.poll();
                if (scan == null) {
                    dropped = droppedNow;
                    droppedNow = 0;
                }
            }
            deliver(scan, dropped);
        }
    }

    private void deliver(Scan scan, long dropped) {
        try {
            if (scan != null) {
                listener.onScan(scan);
            } else {
                listener.onDropped(dropped);
            }
        } catch (RuntimeException e) {
            LOG.error("listener failed on {}", scan == null ? "dropped scans" : "a scan of " + scan.unit(), e);
        }
    }

    @Override
    public void close() {
        synchronized (this) {
            closed = true;
            notifyAll();
        }
        thread.interrupt();
    }
}
