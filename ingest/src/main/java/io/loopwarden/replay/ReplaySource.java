package io.loopwarden.replay;

import io.loopwarden.fleet.Sample;
import java.util.function.Consumer;

/** One unit's samples of the past, in order of time. */
public interface ReplaySource {

    /**
     * Gives every sample once.
     *
     * @throws ReplayException if they cannot be read; the message says where and why
     */
    void samples(Consumer<Sample> each);

    /** How much of it has been given, 0 to 1. */
    double doneRatio();
}
