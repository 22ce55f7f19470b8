package io.loopwarden.store;

/** Samples of one unit and hour that wait to become a frame. */
final class HourBuffer {

    private long hourNs;
    private Layout layout;
    private Column[] columns = {};
    private int samples;

    HourBuffer reset(long newHourNs, Layout newLayout) {
        hourNs = newHourNs;
        layout = newLayout;
        samples = 0;
        if (columns.length < layout.size()) {
            Column[] more = new Column[layout.size()];
            System.arraycopy(columns, 0, more, 0, columns.length);
            for (int c = columns.length; c < more.length; c++) {
                more[c] = new Column();
            }
            columns = more;
        }
        for (Column column : columns) {
            column.clear();
        }
        return this;
    }

    long hourNs() {
        return hourNs;
    }

    Layout layout() {
        return layout;
    }

    Column column(int index) {
        return columns[index];
    }

    /** For the encoder: at least as many as the layout has. */
    Column[] columns() {
        return columns;
    }

    int samples() {
        return samples;
    }

    void added() {
        samples++;
    }

    void added(int count) {
        samples += count;
    }

    long firstNs() {
        long first = Long.MAX_VALUE;
        for (int c = 0; c < layout.size(); c++) {
            first = columns[c].size > 0 ? Math.min(first, columns[c].timeNs[0]) : first;
        }
        return first;
    }

    long lastNs() {
        long last = Long.MIN_VALUE;
        for (int c = 0; c < layout.size(); c++) {
            Column column = columns[c];
            last = column.size > 0 ? Math.max(last, column.timeNs[column.size - 1]) : last;
        }
        return last;
    }

    void sortByTime() {
        for (int c = 0; c < layout.size(); c++) {
            columns[c].sortByTime();
        }
    }
}
