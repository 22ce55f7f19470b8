package io.loopwarden.samplelog;

/** The sample log had no room within the bounded wait; the source keeps the samples or they are counted as lost. */
public final class LogFullException extends RuntimeException {

    private static final long serialVersionUID = 1L;

    public LogFullException(String message) {
        super(message);
    }
}
