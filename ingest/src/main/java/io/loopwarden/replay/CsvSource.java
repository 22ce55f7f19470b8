package io.loopwarden.replay;

import com.fasterxml.jackson.databind.MappingIterator;
import com.fasterxml.jackson.databind.RuntimeJsonMappingException;
import com.fasterxml.jackson.dataformat.csv.CsvMapper;
import com.fasterxml.jackson.dataformat.csv.CsvParser;
import io.loopwarden.fleet.Sample;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Consumer;

/**
 * A file with a row a time: header {@code time}, then {@code point [UCUM]}; times in ISO 8601 with a zone, in order. An empty cell
 * is no sample, {@code NaN} one that its source called bad.
 */
public final class CsvSource implements ReplaySource {

    private final Path file;
    private final long bytes;
    private long read;

    /** @throws ReplayException if the file cannot be read */
    public CsvSource(Path file) {
        this.file = file;
        try {
            this.bytes = Files.size(file);
        } catch (IOException e) {
            throw new ReplayException(file + " cannot be read: " + e, e);
        }
    }

    @Override
    public double doneRatio() {
        return bytes == 0 ? 1 : Math.min(1, (double) read / bytes);
    }

    @Override
    public void samples(Consumer<Sample> each) {
        int line = 1;
        try (InputStream in = counting(Files.newInputStream(file));
                MappingIterator<String[]> rows = CsvMapper.builder()
                        .enable(CsvParser.Feature.WRAP_AS_ARRAY)
                        .enable(CsvParser.Feature.SKIP_EMPTY_LINES)
                        .build()
                        .readerFor(String[].class)
                        .readValues(in)) {
            if (!rows.hasNext()) {
                throw new ReplayException(file + " is empty");
            }
            List<CsvColumn> columns = columns(rows.next());
            Instant previous = Instant.MIN;
            while (rows.hasNext()) {
                line++;
                previous = row(rows.next(), line, previous, columns, each);
            }
        } catch (RuntimeJsonMappingException | IOException e) {
            throw new ReplayException(file + ", line " + line + ": " + e.getMessage(), e);
        }
    }

    private List<CsvColumn> columns(String[] header) {
        if (!header[0].strip().equals("time")) {
            throw new ReplayException(file + ", line 1: the first column must be 'time', it is '" + header[0] + "'");
        }
        List<CsvColumn> columns = new ArrayList<>();
        Set<Object> points = new HashSet<>();
        for (int i = 1; i < header.length; i++) {
            try {
                CsvColumn column = CsvColumn.of(header[i]);
                if (!points.add(column.point())) {
                    throw new ReplayException(column.point() + " has two columns");
                }
                columns.add(column);
            } catch (ReplayException e) {
                throw new ReplayException(file + ", line 1: " + e.getMessage(), e);
            }
        }
        return columns;
    }

    private Instant row(String[] cells, int line, Instant previous, List<CsvColumn> columns, Consumer<Sample> each) {
        String where = file + ", line " + line;
        if (cells.length != columns.size() + 1) {
            throw new ReplayException(where + ": " + cells.length + " cells, the header has " + (columns.size() + 1));
        }
        Instant at = time(cells[0].strip(), where);
        if (at.isBefore(previous)) {
            throw new ReplayException(where + ": time " + at + " is before " + previous + ", rows must be in order");
        }
        for (int i = 0; i < columns.size(); i++) {
            CsvColumn column = columns.get(i);
            try {
                column.sample(at, cells[i + 1]).ifPresent(each);
            } catch (NumberFormatException e) {
                throw new ReplayException(
                        where + ", " + column.point() + ": '" + cells[i + 1] + "' is not a number", e);
            }
        }
        return at;
    }

    private static Instant time(String text, String where) {
        try {
            return java.time.OffsetDateTime.parse(text).toInstant();
        } catch (DateTimeParseException e) {
            throw new ReplayException(
                    where + ": time '" + text + "' is not ISO 8601 with a zone, for example 2026-11-25T08:00:00Z", e);
        }
    }

    private InputStream counting(InputStream in) {
        return new FilterInputStream(in) {
            @Override
            public int read() throws IOException {
                int b = super.read();
                read += b < 0 ? 0 : 1;
                return b;
            }

            @Override
            public int read(byte[] into, int offset, int length) throws IOException {
                int n = super.read(into, offset, length);
                read += Math.max(0, n);
                return n;
            }
        };
    }
}
