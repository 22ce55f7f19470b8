package io.loopwarden.store;

/** A stored frame that does not follow {@link FrameCodec}'s form: damaged, or written by a later version. */
final class CorruptFrameException extends RuntimeException {

    private static final long serialVersionUID = 1L;

    CorruptFrameException(String message) {
        super(message);
    }
}
