package io.loopwarden.store;

import java.util.Arrays;

/** Writes frames in the form of {@link FrameCodec}. Keeps its working arrays; one thread at a time. */
final class FrameEncoder {

    private static final int ALL_EQUAL_SEARCH = 4;

    private final ByteSink body = new ByteSink(4096);
    private long[] work = new long[256];
    private long[] values = new long[256];
    private final QualityTable qualities = new QualityTable();

    private int[] forms = new int[64];
    private int[] lists = new int[64];
    private int[] lengths = new int[64];
    /** For each time list, a column that has it. */
    private int[] listOwner = new int[64];

    private int listCount;

    /** Appends the frame's bytes. Columns are sorted by time; empty ones are absent. */
    void encode(Column[] columns, int count, long startNs, ByteSink out) {
        prepare(count);
        int unit = 0;
        int mostTimes = 0;
        for (int c = 0; c < count; c++) {
            Column column = columns[c];
            if (column.size > 0) {
                unit = finestUnit(column, startNs, unit);
                lists[c] = listOf(columns, c);
                mostTimes = Math.max(mostTimes, column.size);
            }
        }
        for (int c = 0; c < count; c++) {
            int before = body.size();
            forms[c] = columns[c].size == 0 ? NumberForm.ABSENT : writeColumn(columns[c]);
            lengths[c] = body.size() - before;
        }
        if (mostTimes == 0) {
            throw new IllegalArgumentException("frame without a sample");
        }
        boolean directory = mostTimes > FrameCodec.DIRECTORY_FROM;
        out.u8(FrameCodec.VERSION << FrameCodec.VERSION_SHIFT
                | (qualities.isEmpty() ? 0 : FrameCodec.QUALITIES)
                | (listCount > 1 ? FrameCodec.SEVERAL_LISTS : 0)
                | (directory ? FrameCodec.DIRECTORY : 0)
                | unit);
        out.varint(count);
        if (listCount > 1) {
            out.varint(listCount);
        }
        for (int list = 0; list < listCount; list++) {
            writeTimes(columns[listOwner[list]], startNs, FrameCodec.UNIT_NS[unit], out);
        }
        if (!qualities.isEmpty()) {
            qualities.write(out);
        }
        writeForms(count, out);
        for (int c = 0; listCount > 1 && c < count; c++) {
            if (forms[c] != NumberForm.ABSENT) {
                out.varint(lists[c]);
            }
        }
        for (int c = 0; directory && c < count; c++) {
            if (forms[c] != NumberForm.ABSENT) {
                out.varint(lengths[c]);
            }
        }
        out.bytes(body.array(), 0, body.size());
    }

    private void prepare(int count) {
        if (count > FrameCodec.MOST_COLUMNS) {
            throw new IllegalArgumentException(
                    "frame of " + count + " points, at most " + FrameCodec.MOST_COLUMNS + " are possible");
        }
        if (count > forms.length) {
            forms = new int[count];
            lists = new int[count];
            lengths = new int[count];
            listOwner = new int[count];
        }
        body.clear();
        qualities.clear();
        listCount = 0;
    }

    private static int finestUnit(Column column, long startNs, int unitSoFar) {
        int unit = unitSoFar;
        for (int i = 0; i < column.size; i++) {
            while ((column.timeNs[i] - startNs) % FrameCodec.UNIT_NS[unit] != 0) {
                unit++;
            }
        }
        return unit;
    }

    private int listOf(Column[] columns, int c) {
        int oldest = Math.max(1, listCount - ALL_EQUAL_SEARCH);
        for (int list = 0; list < listCount; list = Math.max(list + 1, list == 0 ? oldest : 0)) {
            if (sameTimes(columns[listOwner[list]], columns[c])) {
                return list;
            }
        }
        listOwner[listCount] = c;
        return listCount++;
    }

    private static boolean sameTimes(Column a, Column b) {
        return a.size == b.size && Arrays.equals(a.timeNs, 0, a.size, b.timeNs, 0, b.size);
    }

    private void writeTimes(Column column, long startNs, long unitNs, ByteSink out) {
        out.varint(column.size);
        out.varint((column.timeNs[0] - startNs) / unitNs);
        room(column.size);
        for (int i = 1; i < column.size; i++) {
            work[i - 1] = (column.timeNs[i] - column.timeNs[i - 1]) / unitNs;
        }
        IntegerBlocks.write(out, work, column.size - 1);
    }

    private void writeForms(int count, ByteSink out) {
        for (int c = 0; c < count; ) {
            int same = 1;
            while (c + same < count && forms[c + same] == forms[c]) {
                same++;
            }
            if (same > 2) {
                out.u8(forms[c] | FrameCodec.REPEATED);
                out.varint(same - 1L);
                c += same;
            } else {
                out.u8(forms[c]);
                c++;
            }
        }
    }

    private int writeColumn(Column column) {
        room(column.size);
        boolean plain = true;
        int present = 0;
        int decimals = 0;
        for (int i = 0; i < column.size; i++) {
            plain &= column.quality[i] == 0;
            if (column.kind[i] != Column.NONE) {
                values[present++] = column.bits[i];
                decimals += column.kind[i] == Column.DECIMAL ? 1 : 0;
            }
        }
        plain &= present == column.size;
        if (!plain) {
            writeQualities(column);
        }
        int form = writeValues(column, present, decimals);
        return plain ? form : form | FrameCodec.HAS_QUALITY;
    }

    private int writeValues(Column column, int present, int decimals) {
        if (decimals == 0) {
            IntegerBlocks.write(body, values, present);
            return NumberForm.WHOLE;
        }
        if (decimals < present) {
            writeKinds(column, present);
            IntegerBlocks.write(body, values, present);
            return NumberForm.MIXED;
        }
        int form = NumberForm.ofDoubles(values, present, work);
        if (present == 1 && form == NumberForm.DOUBLE_BITS) {
            body.lowBytes(work[0], Double.BYTES);
        } else if (present == 1 && form == NumberForm.SINGLE_BITS) {
            body.lowBytes(work[0], Float.BYTES);
        } else {
            IntegerBlocks.write(body, work, present);
        }
        return form;
    }

    private void writeKinds(Column column, int present) {
        byte[] isDouble = new byte[(present + 7) / 8];
        int at = 0;
        for (int i = 0; i < column.size; i++) {
            if (column.kind[i] != Column.NONE) {
                if (column.kind[i] == Column.DECIMAL) {
                    isDouble[at >> 3] |= (byte) (1 << (at & 7));
                }
                at++;
            }
        }
        body.bytes(isDouble, 0, isDouble.length);
    }

    private void writeQualities(Column column) {
        int runs = 1;
        for (int i = 1; i < column.size; i++) {
            runs += sameQuality(column, i - 1, i) ? 0 : 1;
        }
        body.varint(runs);
        int start = 0;
        for (int i = 1; i <= column.size; i++) {
            if (i == column.size || !sameQuality(column, start, i)) {
                body.varint(i - (long) start);
                body.varint(qualities.indexOf(column.quality[start], column.kind[start] == Column.NONE));
                start = i;
            }
        }
    }

    private static boolean sameQuality(Column column, int a, int b) {
        return column.quality[a] == column.quality[b]
                && (column.kind[a] == Column.NONE) == (column.kind[b] == Column.NONE);
    }

    private void room(int size) {
        if (size > work.length) {
            work = new long[Math.max(size, work.length * 2)];
            values = new long[work.length];
        }
    }
}
