package io.loopwarden.samplelog;

/** The store could not take scans now: away, busy with another writer, or out of space. */
public final class StoreUnavailableException extends Exception {

    private static final long serialVersionUID = 1L;

    public StoreUnavailableException(String message, Throwable cause) {
        super(message, cause);
    }
}
