package io.loopwarden.collector;

/**
 * Reads one connection. Never writes to a controller: no implementation has an operation that could.
 *
 * <p>A collector reconnects by itself with back-off, and never lets a fault out of {@link #start}: what is wrong is in
 * {@link #status}.
 */
public interface Collector extends AutoCloseable {

    /** Begins to connect and returns at once. */
    void start();

    ConnectionStatus status();

    @Override
    void close();
}
