package io.loopwarden.samplelog;

/** A listener's place at a sample log; closing it ends the deliveries. */
public interface Subscription extends AutoCloseable {

    /** Scans that this listener missed so far, because it was behind. */
    long dropped();

    @Override
    void close();
}
