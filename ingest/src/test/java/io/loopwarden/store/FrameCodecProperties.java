package io.loopwarden.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.TreeSet;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

class FrameCodecProperties {

    private static final long START_NS = 1_795_600_800_000_000_000L;
    private static final long HOUR_NS = 3_600_000_000_000L;

    @Property(tries = 2000)
    void comesBackToTheBit(@ForAll("frames") List<Column> frame) {
        Column[] columns = frame.toArray(Column[]::new);
        List<Column> read = roundTrip(columns);
        for (int c = 0; c < columns.length; c++) {
            assertSame(read.get(c), columns[c]);
        }
    }

    @Property(tries = 500)
    void onePointIsReadWithoutTheOthers(@ForAll("frames") List<Column> frame) {
        Column[] columns = frame.toArray(Column[]::new);
        ByteSink out = new ByteSink(16);
        new FrameEncoder().encode(columns, columns.length, START_NS, out);
        FrameDecoder decoder = new FrameDecoder();
        decoder.open(out.toArray(), 0, out.size(), START_NS);
        for (int c = columns.length - 1; c >= 0; c--) {
            Column one = new Column();
            assertThat(decoder.read(c, one)).isEqualTo(columns[c].size > 0);
            assertSame(one, columns[c]);
        }
    }

    @Property(tries = 500)
    void damageIsToldOrGivesNumbersButNeverHangs(@ForAll("frames") List<Column> frame, @ForAll Random random) {
        Column[] columns = frame.toArray(Column[]::new);
        ByteSink out = new ByteSink(16);
        new FrameEncoder().encode(columns, columns.length, START_NS, out);
        byte[] cut = Arrays.copyOf(out.array(), random.nextInt(out.size()));
        try {
            FrameDecoder decoder = new FrameDecoder();
            decoder.open(cut, 0, cut.length, START_NS);
            Column[] into = new Column[columns.length];
            Arrays.setAll(into, i -> new Column());
            decoder.readAll(into);
            throw new AssertionError("a cut frame was read as if whole");
        } catch (CorruptFrameException told) {
            assertThat(told).hasMessageNotContaining("null");
        }
    }

    static List<Column> roundTrip(Column[] columns) {
        ByteSink out = new ByteSink(16);
        out.u8(7);
        new FrameEncoder().encode(columns, columns.length, START_NS, out);
        FrameDecoder decoder = new FrameDecoder();
        decoder.open(out.toArray(), 1, out.size() - 1, START_NS);
        Column[] into = new Column[columns.length];
        Arrays.setAll(into, i -> new Column());
        decoder.readAll(into);
        return List.of(into);
    }

    private static void assertSame(Column read, Column written) {
        assertThat(read.size).isEqualTo(written.size);
        for (int i = 0; i < written.size; i++) {
            assertThat(read.timeNs[i]).isEqualTo(written.timeNs[i]);
            assertThat(read.kind[i]).isEqualTo(written.kind[i]);
            assertThat(read.bits[i]).isEqualTo(written.bits[i]);
            assertThat(read.quality[i]).isEqualTo(written.quality[i]);
        }
    }

    @Provide
    Arbitrary<List<Column>> frames() {
        return Arbitraries.longs()
                .map(seed -> frame(new Random(seed)))
                .filter(frame -> frame.stream().anyMatch(column -> column.size > 0));
    }

    private static List<Column> frame(Random random) {
        List<Column> columns = new ArrayList<>();
        int count = 1 + random.nextInt(12);
        int size = random.nextInt(4) == 0 ? 1 : random.nextInt(400);
        long unitNs = FrameCodec.UNIT_NS[random.nextInt(4)];
        List<Long> shared = times(random, size, unitNs);
        for (int c = 0; c < count; c++) {
            List<Long> times = switch (random.nextInt(6)) {
                case 0 -> List.<Long>of();
                case 1 -> times(random, random.nextInt(size + 2), unitNs);
                default -> shared;
            };
            columns.add(column(random, times));
        }
        return columns;
    }

    private static List<Long> times(Random random, int size, long unitNs) {
        TreeSet<Long> times = new TreeSet<>();
        boolean regular = random.nextBoolean();
        for (int i = 0; i < size; i++) {
            long steps = regular ? i : random.nextLong(HOUR_NS / unitNs);
            times.add(START_NS + Math.min(steps * unitNs, HOUR_NS - unitNs));
        }
        return List.copyOf(times);
    }

    private static Column column(Random random, List<Long> times) {
        Column column = new Column();
        int style = random.nextInt(9);
        boolean troubled = random.nextInt(3) == 0;
        long counter = random.nextLong();
        for (long time : times) {
            boolean none = troubled && random.nextInt(4) == 0;
            long quality = troubled && random.nextBoolean()
                    ? (long) random.nextInt(3) << 32 | random.nextInt(3) * 0x7FFF_FFFFL
                    : none ? 2L << 32 : 0;
            counter += random.nextInt(50);
            boolean whole = style == 0 || style == 1 || style == 2 && random.nextBoolean();
            column.add(
                    time,
                    none ? Column.NONE : whole ? Column.WHOLE : Column.DECIMAL,
                    none ? 0 : bits(random, style, counter, whole),
                    quality);
        }
        return column;
    }

    private static long bits(Random random, int style, long counter, boolean whole) {
        if (whole) {
            return style == 0 ? random.nextLong() : counter;
        }
        return Double.doubleToRawLongBits(
                switch (style) {
                    case 3 -> random.nextInt(100_000) / 1000.0;
                    case 4 -> (float) (random.nextInt(100_000) / 100.0);
                    case 5 -> random.nextFloat();
                    case 6 -> odd(random);
                    case 7 -> random.nextGaussian();
                    default -> random.nextInt(20) == 0 ? odd(random) : random.nextInt(4000) / 10.0;
                });
    }

    private static double odd(Random random) {
        double[] all = {
            -0.0,
            0.0,
            Double.MIN_VALUE,
            -Double.MIN_VALUE,
            Double.MIN_NORMAL,
            Double.MAX_VALUE,
            -Double.MAX_VALUE,
            Float.MIN_VALUE,
            Float.MAX_VALUE,
            0x1p53,
            0x1p53 + 2,
            -0x1p63,
            1e-9,
            123456789.123456789,
            0.1 + 0.2,
            1.0 / 3
        };
        return all[random.nextInt(all.length)];
    }
}
