package io.loopwarden.modbus;

/** The innermost cause of a failure, in words. */
final class Reasons {

    private Reasons() {}

    static String of(Throwable failure) {
        Throwable innermost = failure;
        while (innermost.getCause() != null) {
            innermost = innermost.getCause();
        }
        String message = innermost.getMessage();
        return message == null || message.isBlank() ? innermost.getClass().getSimpleName() : message;
    }
}
