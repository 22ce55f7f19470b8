package io.loopwarden.store;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Sample;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;

/** Gives samples of a unit in order of time, holding one hour in memory. */
final class HourStream {

    /** What is made of the frames of one hour. */
    interface Target {

        void frame(Connection connection, Dictionary dictionary, long startNs, int layoutId, byte[] payload)
                throws SQLException;

        /** The hour is complete; give what lies within the range. */
        void endOfHour(Dictionary dictionary, long fromNs, long toNs);
    }

    private final Connection connection;
    private final Dictionary dictionary;
    private final Target target;
    private long hourNs = Long.MIN_VALUE;

    HourStream(Connection connection, Dictionary dictionary, Target target) {
        this.connection = connection;
        this.dictionary = dictionary;
        this.target = target;
    }

    void run(int unitId, long fromNs, long toNs) throws SQLException {
        FrameQueries.overlapping(connection, unitId, fromNs, toNs, (startNs, layoutId, payload) -> {
            if (Times.hourOf(startNs) != hourNs) {
                target.endOfHour(dictionary, fromNs, toNs);
                hourNs = Times.hourOf(startNs);
            }
            target.frame(connection, dictionary, startNs, layoutId, payload);
        });
        target.endOfHour(dictionary, fromNs, toNs);
    }

    /** Frames of one point, one hour at a time. */
    private abstract static class PointTarget implements Target {

        final PointName point;
        private final FrameDecoder decoder = new FrameDecoder();
        private PointSamples samples = new PointSamples();

        PointTarget(PointName point) {
            this.point = point;
        }

        abstract void hour(PointSamples inOrder, long fromNs, long toNs);

        @Override
        public void frame(Connection connection, Dictionary dictionary, long startNs, int layoutId, byte[] payload)
                throws SQLException {
            Layout layout = dictionary.layout(connection, layoutId);
            int c = layout.columnOf(point);
            if (c >= 0) {
                decoder.open(payload, 0, payload.length, startNs);
                decoder.read(c, samples.column(layout.conversion(c)));
            }
        }

        @Override
        public void endOfHour(Dictionary dictionary, long fromNs, long toNs) {
            hour(samples.inOrder(), fromNs, toNs);
            samples = new PointSamples();
        }
    }

    /** Samples of one point. */
    static final class OnePoint extends PointTarget {

        private final Consumer<Sample> each;

        OnePoint(PointName point, Consumer<Sample> each) {
            super(point);
            this.each = each;
        }

        @Override
        void hour(PointSamples inOrder, long fromNs, long toNs) {
            for (int i = 0; i < inOrder.size(); i++) {
                if (inOrder.timeNs(i) >= fromNs && inOrder.timeNs(i) < toNs) {
                    each.accept(inOrder.sample(point, i));
                }
            }
        }
    }

    /** Samples of one point, summed up. */
    static final class OnePointSums extends PointTarget {

        private final BucketLine line;

        OnePointSums(PointName point, BucketLine line) {
            super(point);
            this.line = line;
        }

        @Override
        void hour(PointSamples inOrder, long fromNs, long toNs) {
            line.add(inOrder);
        }
    }

    /** Samples of all points, merged. */
    static final class AllPoints implements Target {

        private final Consumer<Sample> each;
        private UnitHour hour;

        AllPoints(Consumer<Sample> each) {
            this.each = each;
        }

        @Override
        public void frame(Connection connection, Dictionary dictionary, long startNs, int layoutId, byte[] payload)
                throws SQLException {
            if (hour == null) {
                hour = new UnitHour(dictionary);
            }
            hour.add(connection, startNs, layoutId, payload);
        }

        @Override
        public void endOfHour(Dictionary dictionary, long fromNs, long toNs) {
            if (hour != null) {
                merge(hour.points(), fromNs, toNs);
                hour = null;
            }
        }

        private void merge(Map<PointName, PointSamples> points, long fromNs, long toNs) {
            List<PointName> names = List.copyOf(points.keySet());
            List<PointSamples> samples = List.copyOf(points.values());
            int[] next = new int[names.size()];
            long time = Long.MIN_VALUE;
            while (time < toNs) {
                long following = Long.MAX_VALUE;
                for (int p = 0; p < next.length; p++) {
                    PointSamples of = samples.get(p);
                    if (next[p] < of.size() && of.timeNs(next[p]) == time) {
                        if (time >= fromNs) {
                            each.accept(of.sample(names.get(p), next[p]));
                        }
                        next[p]++;
                    }
                    following = next[p] < of.size() ? Math.min(following, of.timeNs(next[p])) : following;
                }
                time = following;
            }
        }
    }
}
