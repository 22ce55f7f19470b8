package io.loopwarden.spool;

import java.nio.ByteBuffer;
import java.util.zip.CRC32C;

/**
 * One record of a segment: mark, samples before it since the spool began, its own samples, length, CRC-32C over all of that and the
 * payload. The running count tells after a damaged place how many samples were in it.
 */
record Frame(long samplesBefore, int samples, byte[] payload) {

    static final int HEADER_BYTES = 4 + 8 + 4 + 4 + 4;
    static final int MOST_PAYLOAD_BYTES = 64 << 20;
    private static final int MARK = 0x4C57_5350;
    private static final int CRC_AT = HEADER_BYTES - 4;

    int bytes() {
        return HEADER_BYTES + payload.length;
    }

    long samplesAfter() {
        return samplesBefore + samples;
    }

    void write(ByteBuffer to) {
        int start = to.position();
        to.putInt(MARK).putLong(samplesBefore).putInt(samples).putInt(payload.length);
        to.putInt(crc(to, start, ByteBuffer.wrap(payload)));
        to.put(payload);
    }

    /** The frame that begins at this position, or null if there is no whole and sound one. */
    static Frame read(ByteBuffer from, int at) {
        if (from.limit() - at < HEADER_BYTES || from.getInt(at) != MARK) {
            return null;
        }
        int samples = from.getInt(at + 12);
        int length = from.getInt(at + 16);
        if (samples < 1 || length < 0 || length > MOST_PAYLOAD_BYTES || from.limit() - at - HEADER_BYTES < length) {
            return null;
        }
        ByteBuffer payload = from.slice(at + HEADER_BYTES, length);
        if (from.getInt(at + CRC_AT) != crc(from, at, payload)) {
            return null;
        }
        byte[] bytes = new byte[length];
        from.get(at + HEADER_BYTES, bytes);
        return new Frame(from.getLong(at + 4), samples, bytes);
    }

    /** Where the next sound frame begins, from this position on; the limit if there is none. */
    static int next(ByteBuffer from, int at) {
        for (int here = at; here <= from.limit() - HEADER_BYTES; here++) {
            if (from.getInt(here) == MARK && read(from, here) != null) {
                return here;
            }
        }
        return from.limit();
    }

    private static int crc(ByteBuffer header, int start, ByteBuffer payload) {
        CRC32C crc = new CRC32C();
        crc.update(header.slice(start, CRC_AT));
        crc.update(payload.duplicate());
        return (int) crc.getValue();
    }
}
