package io.loopwarden.mqtt;

/** Why there is no connection, in one sentence for the operator. */
final class LinkException extends Exception {

    private static final long serialVersionUID = 1L;

    LinkException(String sentence, Throwable cause) {
        super(sentence, cause);
    }

    /** The sentence about a failure of the client library: its own words and those of the deepest cause. */
    static String sentence(String what, Throwable failure) {
        Throwable root = failure;
        for (int depth = 0; root.getCause() != null && depth < 10; depth++) {
            root = root.getCause();
        }
        String words = String.valueOf(failure.getMessage());
        String deepest = root.getClass().getSimpleName() + (root.getMessage() == null ? "" : ": " + root.getMessage());
        return what + ": " + (root == failure ? words : words + " (" + deepest + ")");
    }
}
