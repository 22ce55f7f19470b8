package io.loopwarden.study;

import static io.loopwarden.study.Report.number;

import java.util.List;
import java.util.Locale;

/** One drawing of a study, as SVG; colours come from the page. */
record Picture(String title, String caption, String svg) {

    private static final int WIDTH = 640;
    private static final int HEIGHT = 260;
    private static final int LEFT = 46;
    private static final int RIGHT = 16;
    private static final int TOP = 28;
    private static final int BOTTOM = 40;

    /** A named row of bars or a named curve. */
    record Row(String name, double[] values) {}

    /** Bars side by side, a group a label. */
    static Picture bars(String title, String caption, List<String> labels, String unit, List<Row> rows) {
        double most = rows.stream()
                .flatMapToDouble(r -> java.util.Arrays.stream(r.values()))
                .max()
                .orElse(1);
        Drawing d = new Drawing(labels.size(), Math.max(1e-9, most));
        d.axis(unit);
        double slot = (double) (WIDTH - LEFT - RIGHT) / labels.size();
        double bar = 0.8 * slot / rows.size();
        for (int i = 0; i < labels.size(); i++) {
            for (int k = 0; k < rows.size(); k++) {
                double value = rows.get(k).values()[i];
                double x = LEFT + i * slot + 0.1 * slot + k * bar;
                d.rect(x, d.y(value), bar - 1, d.y(0) - d.y(value), "s" + k);
            }
            d.text(LEFT + (i + 0.5) * slot, HEIGHT - BOTTOM + 16, labels.get(i), "middle");
        }
        d.legend(rows.stream().map(Row::name).toList());
        return new Picture(title, caption, d.svg());
    }

    /** Curves in steps over whole numbers from 0. */
    static Picture steps(String title, String caption, String xUnit, String unit, List<Row> rows) {
        int last = rows.get(0).values().length - 1;
        Drawing d = new Drawing(last, 100);
        d.axis(unit);
        for (int k = 0; k < rows.size(); k++) {
            StringBuilder path = new StringBuilder();
            double[] values = rows.get(k).values();
            for (int i = 0; i <= last; i++) {
                path.append(i == 0 ? "M" : "H").append(round(d.x(i)));
                path.append(i == 0 ? " " : "V").append(round(d.y(values[i])));
            }
            d.path(path.toString(), "l" + k);
        }
        for (int i = 0; i <= last; i += 2) {
            d.text(d.x(i), HEIGHT - BOTTOM + 16, Integer.toString(i), "middle");
        }
        d.text(WIDTH - RIGHT, HEIGHT - BOTTOM + 32, xUnit, "end");
        d.legend(rows.stream().map(Row::name).toList());
        return new Picture(title, caption, d.svg());
    }

    private static String round(double x) {
        return String.format(Locale.ROOT, "%.1f", x);
    }

    private static final class Drawing {
        private final double mostX;
        private final double mostY;
        private final StringBuilder out = new StringBuilder();

        Drawing(double mostX, double mostY) {
            this.mostX = mostX;
            this.mostY = mostY;
        }

        double x(double value) {
            return LEFT + value / mostX * (WIDTH - LEFT - RIGHT);
        }

        double y(double value) {
            return HEIGHT - BOTTOM - value / mostY * (HEIGHT - BOTTOM - TOP);
        }

        void axis(String unit) {
            for (int i = 0; i <= 4; i++) {
                double value = mostY * i / 4;
                path("M" + LEFT + " " + round(y(value)) + "H" + (WIDTH - RIGHT), "grid");
                text(LEFT - 6, y(value) + 4, number(value), "end");
            }
            text(2, TOP - 14, unit, "start");
        }

        void legend(List<String> names) {
            double x = LEFT;
            for (int k = 0; k < names.size(); k++) {
                rect(x, HEIGHT - 12, 10, 10, "s" + k);
                text(x + 14, HEIGHT - 3, names.get(k), "start");
                x += 30 + 7.0 * names.get(k).length();
            }
        }

        void rect(double x, double y, double width, double height, String style) {
            out.append("<rect class='")
                    .append(style)
                    .append("' x='")
                    .append(round(x))
                    .append("' y='")
                    .append(round(y));
            out.append("' width='").append(round(width)).append("' height='").append(round(Math.max(0, height)));
            out.append("'/>");
        }

        void path(String d, String style) {
            out.append("<path class='").append(style).append("' d='").append(d).append("'/>");
        }

        void text(double x, double y, String text, String anchor) {
            out.append("<text x='")
                    .append(round(x))
                    .append("' y='")
                    .append(round(y))
                    .append("' text-anchor='");
            out.append(anchor).append("'>").append(escaped(text)).append("</text>");
        }

        String svg() {
            return "<svg viewBox='0 0 " + WIDTH + " " + HEIGHT + "' role='img'>" + out + "</svg>";
        }
    }

    static String escaped(String text) {
        return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
    }
}
