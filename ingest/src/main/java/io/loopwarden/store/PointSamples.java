package io.loopwarden.store;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import java.util.ArrayList;
import java.util.List;

/** Samples of one point within one hour in order of time, whatever conversions they came with. */
final class PointSamples {

    private record Part(Column column, Conversion conversion) {}

    private final List<Part> parts = new ArrayList<>();
    private Column merged = new Column();
    /** For each sample which part's conversion it has; null while there is one part. */
    private int[] partOf;

    /** The column to fill with further samples of that conversion. */
    Column column(Conversion conversion) {
        for (Part part : parts) {
            if (part.conversion().equals(conversion)) {
                return part.column();
            }
        }
        Part part = new Part(new Column(64), conversion);
        parts.add(part);
        return part.column();
    }

    int total() {
        return parts.stream().mapToInt(part -> part.column().size).sum();
    }

    /** Call once after the last sample was added. */
    PointSamples inOrder() {
        parts.removeIf(part -> part.column().size == 0);
        parts.forEach(part -> part.column().sortByTime());
        if (parts.size() == 1) {
            merged = parts.get(0).column();
        } else if (parts.size() > 1) {
            merge();
        }
        return this;
    }

    private void merge() {
        int total = parts.stream().mapToInt(part -> part.column().size).sum();
        int[] next = new int[parts.size()];
        partOf = new int[total];
        merged = new Column(total);
        for (int n = 0; n < total; n++) {
            int earliest = -1;
            for (int p = 0; p < next.length; p++) {
                if (next[p] < parts.get(p).column().size
                        && (earliest < 0 || timeOf(p, next) < timeOf(earliest, next))) {
                    earliest = p;
                }
            }
            Column from = parts.get(earliest).column();
            int i = next[earliest]++;
            merged.add(from.timeNs[i], from.kind[i], from.bits[i], from.quality[i]);
            partOf[n] = earliest;
        }
    }

    private long timeOf(int part, int[] next) {
        return parts.get(part).column().timeNs[next[part]];
    }

    int size() {
        return merged.size;
    }

    long timeNs(int i) {
        return merged.timeNs[i];
    }

    boolean isBad(int i) {
        return merged.isBad(i);
    }

    boolean isGood(int i) {
        return merged.isGood(i);
    }

    double valueSi(int i) {
        return conversion(i).apply(merged.rawNumber(i));
    }

    Sample sample(PointName point, int i) {
        return new Sample(point, Times.instant(merged.timeNs[i]), merged.raw(i), conversion(i), merged.quality(i));
    }

    private Conversion conversion(int i) {
        return parts.get(partOf == null ? 0 : partOf[i]).conversion();
    }
}
