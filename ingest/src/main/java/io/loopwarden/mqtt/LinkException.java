package io.loopwarden.mqtt;

/** Why there is no connection, in one sentence for the operator. */
final class LinkException extends Exception {

    private static final long serialVersionUID = 1L;

    LinkException(String sentence, Throwable cause) {
        super(sentence, cause);
    }

    /** The sentence about a failure of the client library: its own words, and those of the cause that it wraps. */
    static String sentence(String what, Throwable failure) {
        Throwable cause = failure.getCause();
        if (cause == null) {
            return what + ": " + failure.getMessage();
        }
        String words = cause.getMessage() == null ? "" : ": " + cause.getMessage();
        return what + ": " + failure.getMessage() + " (" + cause.getClass().getSimpleName() + words + ")";
    }
}
