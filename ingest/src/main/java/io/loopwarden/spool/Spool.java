package io.loopwarden.spool;

import io.loopwarden.fleet.Scan;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Scans on disk in the order they came. What {@link #append} has returned from survives a crash; reading begins at the oldest, and a
 * file is deleted once all of it was taken. After a restart the oldest file is read from its beginning again: storing is idempotent.
 */
public final class Spool implements AutoCloseable {

    /** The oldest scans, and where reading goes on once they are stored. */
    public record Batch(List<Scan> scans, long segment, int end) {

        public Batch {
            scans = List.copyOf(scans);
        }
    }

    private static final Logger LOG = LoggerFactory.getLogger(Spool.class);
    private static final String PREFIX = "segment-";

    private final Path folder;
    private final SpoolLimits limits;
    /** Bytes of each segment by its number; the last one is written to. */
    private final TreeMap<Long, Integer> segments = new TreeMap<>();

    private FileChannel writing;
    private int readAt;
    private long readSamples;
    private long writtenSamples;
    private long heldBytes;
    private long damages;
    private long lostSamples;
    private long cutBytes;

    private Spool(Path folder, SpoolLimits limits) {
        this.folder = folder;
        this.limits = limits;
    }

    /** Opens what an earlier run left in the folder, after cutting off a write that did not end. */
    public static Spool open(Path folder, SpoolLimits limits) throws IOException {
        Files.createDirectories(folder);
        Spool spool = new Spool(folder, limits);
        List<Path> files;
        try (Stream<Path> all = Files.list(folder)) {
            files = all.filter(file -> file.getFileName().toString().startsWith(PREFIX))
                    .sorted()
                    .toList();
        }
        boolean first = true;
        for (Path file : files) {
            first = !spool.recover(file, first) && first;
        }
        return spool;
    }

    /** Answers whether anything sound was in the file. */
    private boolean recover(Path file, boolean first) throws IOException {
        ByteBuffer bytes = ByteBuffer.wrap(Files.readAllBytes(file));
        int soundEnd = 0;
        Frame last = null;
        for (int at = Frame.next(bytes, 0); at < bytes.limit(); at = Frame.next(bytes, soundEnd)) {
            Frame frame = Frame.read(bytes, at);
            if (last == null && first) {
                readSamples = frame.samplesBefore();
            }
            last = frame;
            soundEnd = at + frame.bytes();
        }
        if (soundEnd < bytes.limit()) {
            cutBytes += bytes.limit() - soundEnd;
            LOG.warn("{} ended in {} bytes of an unfinished write; they were cut off", file, bytes.limit() - soundEnd);
            try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
                channel.truncate(soundEnd);
                channel.force(true);
            }
        }
        if (last == null) {
            Files.delete(file);
            return false;
        }
        writtenSamples = last.samplesAfter();
        long number = Long.parseLong(file.getFileName().toString().substring(PREFIX.length()));
        segments.put(number, soundEnd);
        heldBytes += soundEnd;
        return true;
    }

    /**
     * Returns once the scans are on disk.
     *
     * @throws IOException if there is no room within the bound, or the disk takes no more; then none of them is kept
     */
    public synchronized void append(List<Scan> scans) throws IOException {
        List<Frame> frames = new ArrayList<>(scans.size());
        long samples = writtenSamples;
        int bytes = 0;
        for (Scan scan : scans) {
            Frame frame = new Frame(samples, scan.samples().size(), ScanCodec.encode(scan));
            samples = frame.samplesAfter();
            bytes = Math.addExact(bytes, frame.bytes());
            frames.add(frame);
        }
        if (heldBytes + bytes > limits.mostBytes()) {
            throw new IOException("the spool in " + folder + " holds " + heldBytes + " of " + limits.mostBytes()
                    + " bytes, no room for " + bytes + " more");
        }
        ByteBuffer buffer = ByteBuffer.allocate(bytes);
        frames.forEach(frame -> frame.write(buffer));
        write(buffer.flip());
        writtenSamples = samples;
    }

    private void write(ByteBuffer buffer) throws IOException {
        if (writing == null || segments.lastEntry().getValue() >= limits.segmentBytes()) {
            openSegment();
        }
        long number = segments.lastKey();
        int before = segments.get(number);
        int bytes = buffer.remaining();
        try {
            while (buffer.hasRemaining()) {
                writing.write(buffer);
            }
            writing.force(false);
        } catch (IOException e) {
            takeBack(before, e);
            throw e;
        }
        segments.put(number, before + bytes);
        heldBytes += bytes;
    }

    /** Half a write must not stand before the next one. */
    private void takeBack(int before, IOException cause) {
        try {
            writing.truncate(before);
            writing.position(before);
        } catch (IOException e) {
            cause.addSuppressed(e);
            closeWriting();
        }
    }

    private void openSegment() throws IOException {
        closeWriting();
        long number = segments.isEmpty() ? 1 : segments.lastKey() + 1;
        writing = FileChannel.open(file(number), StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
        segments.put(number, 0);
    }

    private Path file(long number) {
        return folder.resolve(String.format("%s%012d", PREFIX, number));
    }

    /** The oldest scans, about so many samples; empty when nothing is held. Damaged places before them are stepped over. */
    public synchronized Batch oldest(int mostSamples) throws IOException {
        while (!segments.isEmpty()) {
            long number = segments.firstKey();
            int size = segments.get(number);
            if (readAt < size) {
                Batch batch = read(number, size, mostSamples);
                if (!batch.scans().isEmpty()) {
                    return batch;
                }
                readAt = batch.end();
            }
            if (readAt >= size) {
                dropFirst();
            }
        }
        return new Batch(List.of(), 0, 0);
    }

    private Batch read(long number, int size, int mostSamples) throws IOException {
        ByteBuffer bytes = bytes(number, size);
        List<Scan> scans = new ArrayList<>();
        int samples = 0;
        int at = 0;
        while (at < bytes.limit() && samples < mostSamples) {
            Frame frame = Frame.read(bytes, at);
            if (frame == null) {
                if (!scans.isEmpty()) {
                    break; // What is sound is stored first; the damaged place is met again at the front.
                }
                at = Frame.next(bytes, at);
                damages++;
                LOG.error("{} is damaged after byte {}; what stands there is stepped over", file(number), readAt);
                continue;
            }
            if (scans.isEmpty() && frame.samplesBefore() > readSamples) {
                lostSamples += frame.samplesBefore() - readSamples;
                readSamples = frame.samplesBefore();
            }
            at += frame.bytes();
            try {
                scans.add(ScanCodec.decode(frame.payload()));
                samples += frame.samples();
            } catch (IOException e) {
                damages++;
                lostSamples += frame.samples();
                LOG.error("a spooled scan cannot be read and is stepped over", e);
                if (scans.isEmpty()) {
                    readSamples = frame.samplesAfter();
                }
            }
        }
        return new Batch(scans, number, readAt + at);
    }

    private ByteBuffer bytes(long number, int size) throws IOException {
        ByteBuffer bytes = ByteBuffer.allocate(size - readAt);
        try (FileChannel channel = FileChannel.open(file(number), StandardOpenOption.READ)) {
            for (long at = readAt; bytes.hasRemaining(); ) {
                int read = channel.read(bytes, at);
                if (read < 0) {
                    break;
                }
                at += read;
            }
        }
        return bytes.flip();
    }

    /** These scans are stored and need not be kept. */
    public synchronized void stored(Batch batch) throws IOException {
        if (segments.isEmpty() || segments.firstKey() != batch.segment()) {
            return;
        }
        readAt = batch.end();
        readSamples +=
                batch.scans().stream().mapToLong(scan -> scan.samples().size()).sum();
        if (readAt >= segments.get(batch.segment())) {
            dropFirst();
        }
    }

    private void dropFirst() throws IOException {
        long number = segments.firstKey();
        if (number == segments.lastKey()) {
            closeWriting();
        }
        Files.deleteIfExists(file(number));
        heldBytes -= segments.remove(number);
        readAt = 0;
        if (segments.isEmpty()) {
            readSamples = writtenSamples;
        }
    }

    public synchronized boolean isEmpty() {
        return segments.isEmpty();
    }

    public synchronized SpoolStatus status() {
        return new SpoolStatus(
                Math.max(0, writtenSamples - readSamples),
                heldBytes,
                limits.mostBytes(),
                damages,
                lostSamples,
                cutBytes);
    }

    private void closeWriting() {
        if (writing != null) {
            try {
                writing.close();
            } catch (IOException e) {
                LOG.warn("a segment of the spool in {} did not close", folder, e);
            }
            writing = null;
        }
    }

    @Override
    public synchronized void close() {
        closeWriting();
    }
}
