package io.loopwarden.modbus;

import java.time.Instant;

/** What came of one request. */
sealed interface Answer {

    /** The device answered with data of the right length. */
    record Data(byte[] bytes, Instant at) implements Answer {}

    /** The device, or a gateway for it, answered with an exception code. */
    record Refused(int code, Instant at) implements Answer {

        /** Illegal address, or illegal value, as some devices answer a block that crosses a hole: smaller blocks may do. */
        boolean isAboutRange() {
            return code == 2 || code == 3;
        }

        /** The gateway has no path to the device, or the device does not answer it: asking for more is in vain. */
        boolean isAboutDevice() {
            return code == 10 || code == 11;
        }
    }

    /** No answer in time, retries included. */
    record Silent() implements Answer {}

    /** Something came that is no answer to the request. */
    record Malformed(byte[] bytes, String why, Instant at) implements Answer {}

    /** The connection ended, or could not carry the request. */
    record Broken(String why) implements Answer {}
}
