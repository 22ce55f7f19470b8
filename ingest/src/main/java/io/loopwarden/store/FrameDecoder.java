package io.loopwarden.store;

/** Reads frames in the form of {@link FrameCodec}. Keeps its working arrays; one thread at a time. */
final class FrameDecoder {

    private final ByteSource in = new ByteSource();
    private final QualityTable qualities = new QualityTable();
    private int[] forms = new int[64];
    private int[] lists = new int[64];
    private int[] lengths = new int[64];
    private int[] listAt = new int[64];
    private int[] listSize = new int[64];
    private int columnCount;
    private boolean directory;
    private long startNs;
    private long unitNs;
    private int bodyAt;

    /** Looks at the head; columns are then read one by one or passed over. */
    void open(byte[] payload, int from, int length, long frameStartNs) {
        in.open(payload, from, length);
        startNs = frameStartNs;
        int head = in.u8();
        if (head >>> FrameCodec.VERSION_SHIFT != FrameCodec.VERSION) {
            throw new CorruptFrameException(
                    "version " + (head >>> FrameCodec.VERSION_SHIFT) + ", this program reads " + FrameCodec.VERSION);
        }
        unitNs = FrameCodec.UNIT_NS[head & FrameCodec.TIME_UNIT];
        directory = (head & FrameCodec.DIRECTORY) != 0;
        columnCount = in.count(FrameCodec.MOST_COLUMNS);
        room(columnCount);
        readLists((head & FrameCodec.SEVERAL_LISTS) != 0 ? in.count(columnCount) : 1);
        qualities.clear();
        if ((head & FrameCodec.QUALITIES) != 0) {
            qualities.read(in);
        }
        readForms();
        boolean several = (head & FrameCodec.SEVERAL_LISTS) != 0;
        for (int c = 0; c < columnCount; c++) {
            lists[c] = several && forms[c] != NumberForm.ABSENT ? in.count(columnCount - 1) : 0;
        }
        for (int c = 0; directory && c < columnCount; c++) {
            lengths[c] = forms[c] == NumberForm.ABSENT ? 0 : in.count(Integer.MAX_VALUE);
        }
        bodyAt = in.position();
    }

    int columnCount() {
        return columnCount;
    }

    /** Appends the samples of one column of the layout; false if the frame has none. */
    boolean read(int column, Column into) {
        if (column >= columnCount || forms[column] == NumberForm.ABSENT) {
            return false;
        }
        in.seek(bodyAt);
        for (int c = 0; c < column; c++) {
            pass(c);
        }
        readColumn(column, into);
        return true;
    }

    /** Appends the samples of all columns, each to its own. */
    void readAll(Column[] into) {
        in.seek(bodyAt);
        for (int c = 0; c < columnCount; c++) {
            if (forms[c] != NumberForm.ABSENT) {
                readColumn(c, into[c]);
            }
        }
    }

    private void room(int count) {
        if (count > forms.length) {
            forms = new int[count];
            lists = new int[count];
            lengths = new int[count];
            listAt = new int[count];
            listSize = new int[count];
        }
    }

    private void readLists(int count) {
        for (int list = 0; list < count; list++) {
            listSize[list] = in.count(FrameCodec.MOST_TIMES);
            if (listSize[list] == 0) {
                throw new CorruptFrameException("empty time list");
            }
            listAt[list] = in.position();
            in.varint();
            IntegerBlocks.skip(in, listSize[list] - 1);
        }
    }

    private void readForms() {
        for (int c = 0; c < columnCount; ) {
            int form = in.u8();
            int times = (form & FrameCodec.REPEATED) != 0 ? 1 + in.count(columnCount - c - 1) : 1;
            if ((form & FrameCodec.FORM) > NumberForm.LAST) {
                throw new CorruptFrameException("number form " + (form & FrameCodec.FORM));
            }
            for (int i = 0; i < times; i++) {
                forms[c++] = form & ~FrameCodec.REPEATED;
            }
        }
    }

    private void pass(int c) {
        if (forms[c] == NumberForm.ABSENT) {
            return;
        }
        if (directory) {
            in.skip(lengths[c]);
            return;
        }
        int present = listSize[lists[c]];
        if ((forms[c] & FrameCodec.HAS_QUALITY) != 0) {
            present = 0;
            for (int runs = in.count(FrameCodec.MOST_TIMES); runs > 0; runs--) {
                int length = in.count(FrameCodec.MOST_TIMES);
                present += qualities.noValue(in.count(qualities.size() - 1)) ? 0 : length;
            }
        }
        int form = forms[c] & FrameCodec.FORM;
        if (form == NumberForm.MIXED) {
            in.skip((present + 7) / 8);
        }
        if (present == 1 && form == NumberForm.DOUBLE_BITS) {
            in.skip(Double.BYTES);
        } else if (present == 1 && form == NumberForm.SINGLE_BITS) {
            in.skip(Float.BYTES);
        } else {
            IntegerBlocks.skip(in, present);
        }
    }

    private void readColumn(int c, Column into) {
        int count = listSize[lists[c]];
        into.ensure(into.size + count);
        int at = into.size;
        int body = in.position();
        in.seek(listAt[lists[c]]);
        readTimes(into.timeNs, at, count);
        in.seek(body);
        int present = readQualities(forms[c], into, at, count);
        readValues(forms[c] & FrameCodec.FORM, into, at, count, present);
        into.size += count;
    }

    private void readTimes(long[] timeNs, int at, int count) {
        long first = in.varint();
        IntegerBlocks.read(in, timeNs, at + 1, count - 1);
        long time = startNs + first * unitNs;
        timeNs[at] = time;
        for (int i = at + 1; i < at + count; i++) {
            time += timeNs[i] * unitNs;
            timeNs[i] = time;
        }
    }

    /** Marks those without a value; returns how many have one. */
    private int readQualities(int form, Column into, int at, int count) {
        byte kind = (form & FrameCodec.FORM) == NumberForm.WHOLE ? Column.WHOLE : Column.DECIMAL;
        if ((form & FrameCodec.HAS_QUALITY) == 0) {
            for (int i = at; i < at + count; i++) {
                into.quality[i] = 0;
                into.kind[i] = kind;
            }
            return count;
        }
        int present = 0;
        int i = at;
        for (int runs = in.count(count); runs > 0; runs--) {
            int length = in.count(at + count - i);
            int index = in.count(qualities.size() - 1);
            boolean noValue = qualities.noValue(index);
            present += noValue ? 0 : length;
            for (int end = i + length; i < end; i++) {
                into.quality[i] = qualities.packedQuality(index);
                into.kind[i] = noValue ? Column.NONE : kind;
            }
        }
        if (i != at + count) {
            throw new CorruptFrameException("qualities for " + (i - at) + " of " + count + " samples");
        }
        return present;
    }

    private void readValues(int form, Column into, int at, int count, int present) {
        int kindsAt = in.position();
        if (form == NumberForm.MIXED) {
            in.skip((present + 7) / 8);
        }
        if (present == 1 && form == NumberForm.DOUBLE_BITS) {
            into.bits[at] = in.lowBytes(Double.BYTES);
        } else if (present == 1 && form == NumberForm.SINGLE_BITS) {
            into.bits[at] = in.lowBytes(Float.BYTES);
        } else {
            IntegerBlocks.read(in, into.bits, at, present);
        }
        NumberForm.toBits(form, into.bits, at, present);
        if (present < count) {
            spread(into, at, count, present);
        }
        if (form == NumberForm.MIXED) {
            readKinds(kindsAt, into, at, count);
        }
    }

    /** Moves the values, which lie close together, to the samples that have one. */
    private static void spread(Column into, int at, int count, int present) {
        int from = at + present - 1;
        for (int i = at + count - 1; i >= at; i--) {
            into.bits[i] = into.kind[i] == Column.NONE ? 0 : into.bits[from--];
        }
    }

    private void readKinds(int kindsAt, Column into, int at, int count) {
        int body = in.position();
        in.seek(kindsAt);
        int nth = 0;
        int eight = 0;
        for (int i = at; i < at + count; i++) {
            if (into.kind[i] != Column.NONE) {
                eight = (nth & 7) == 0 ? in.u8() : eight;
                into.kind[i] = (eight >> (nth & 7) & 1) == 1 ? Column.DECIMAL : Column.WHOLE;
                nth++;
            }
        }
        in.seek(body);
    }
}
