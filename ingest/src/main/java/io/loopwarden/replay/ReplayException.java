package io.loopwarden.replay;

/** What stands in the way of a replay, in words for who asked for it. */
public final class ReplayException extends RuntimeException {

    private static final long serialVersionUID = 1;

    public ReplayException(String message) {
        super(message);
    }

    public ReplayException(String message, Throwable cause) {
        super(message, cause);
    }
}
