package io.loopwarden.bench;

import java.util.List;
import java.util.Locale;

/** Curves over a common axis, as SVG; the axes are logarithmic where the values span more than a factor of 20. */
record Chart(String name, String title, String xLabel, String yLabel, List<Curve> curves) {

    /** @param dots x and y */
    record Curve(String label, List<double[]> dots) {}

    private static final int WIDTH = 720;
    private static final int HEIGHT = 400;
    private static final int LEFT = 70;
    private static final int RIGHT = 170;
    private static final int TOP = 40;
    private static final int BOTTOM = 50;
    private static final double WIDE_SPAN = 20;
    private static final String[] COLOURS = {"#1b5e8a", "#b3541e", "#3d7a37", "#7a3d77"};

    Chart {
        curves = List.copyOf(curves);
    }

    String svg() {
        Axis x = Axis.of(curves.stream()
                .flatMap(c -> c.dots().stream())
                .mapToDouble(d -> d[0])
                .toArray());
        Axis y = Axis.of(curves.stream()
                .flatMap(c -> c.dots().stream())
                .mapToDouble(d -> d[1])
                .toArray());
        StringBuilder svg = new StringBuilder();
        add(
                svg,
                "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" font-family=\"sans-serif\" font-size=\"12\">",
                WIDTH,
                HEIGHT);
        add(svg, "<title>%s</title><rect width=\"100%%\" height=\"100%%\" fill=\"white\"/>", escaped(title));
        add(svg, "<text x=\"%d\" y=\"22\" font-size=\"15\">%s</text>", LEFT, escaped(title));
        axes(svg, x, y);
        for (int i = 0; i < curves.size(); i++) {
            curve(svg, curves.get(i), i, x, y);
        }
        return svg.append("</svg>\n").toString();
    }

    private void axes(StringBuilder svg, Axis x, Axis y) {
        int bottom = HEIGHT - BOTTOM;
        for (double tick : x.ticks()) {
            double at = px(x, tick);
            add(svg, "<path d=\"M%.1f %d V%d\" stroke=\"#ddd\"/>", at, TOP, bottom);
            add(svg, "<text x=\"%.1f\" y=\"%d\" text-anchor=\"middle\">%s</text>", at, bottom + 18, Sheet.number(tick));
        }
        for (double tick : y.ticks()) {
            double at = py(y, tick);
            add(svg, "<path d=\"M%d %.1f H%d\" stroke=\"#ddd\"/>", LEFT, at, WIDTH - RIGHT);
            add(svg, "<text x=\"%d\" y=\"%.1f\" text-anchor=\"end\">%s</text>", LEFT - 6, at + 4, Sheet.number(tick));
        }
        add(svg, "<path d=\"M%d %d V%d H%d\" fill=\"none\" stroke=\"#333\"/>", LEFT, TOP, bottom, WIDTH - RIGHT);
        int middle = (LEFT + WIDTH - RIGHT) / 2;
        add(svg, "<text x=\"%d\" y=\"%d\" text-anchor=\"middle\">%s</text>", middle, HEIGHT - 12, escaped(xLabel));
        add(
                svg,
                "<text transform=\"translate(16 %d) rotate(-90)\" text-anchor=\"middle\">%s</text>",
                (TOP + bottom) / 2,
                escaped(yLabel));
    }

    private static void curve(StringBuilder svg, Curve curve, int number, Axis x, Axis y) {
        String colour = COLOURS[number % COLOURS.length];
        StringBuilder path = new StringBuilder();
        for (double[] dot : curve.dots()) {
            add(path, "%s%.1f %.1f", path.isEmpty() ? "M" : " L", px(x, dot[0]), py(y, dot[1]));
            add(svg, "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"3\" fill=\"%s\"/>", px(x, dot[0]), py(y, dot[1]), colour);
        }
        add(svg, "<path d=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"2\"/>", path, colour);
        int row = TOP + 14 + 20 * number;
        add(svg, "<path d=\"M%d %d h20\" stroke=\"%s\" stroke-width=\"2\"/>", WIDTH - RIGHT + 10, row - 4, colour);
        add(svg, "<text x=\"%d\" y=\"%d\">%s</text>", WIDTH - RIGHT + 36, row, escaped(curve.label()));
    }

    private static double px(Axis axis, double value) {
        return LEFT + axis.share(value) * (WIDTH - LEFT - RIGHT);
    }

    private static double py(Axis axis, double value) {
        return HEIGHT - BOTTOM - axis.share(value) * (HEIGHT - TOP - BOTTOM);
    }

    private static void add(StringBuilder svg, String format, Object... values) {
        svg.append(String.format(Locale.ROOT, format, values));
    }

    private static String escaped(String text) {
        return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
    }

    /** A scale from 0, or a logarithmic one between powers of ten. */
    private record Axis(double from, double to, boolean logarithmic) {

        static Axis of(double[] values) {
            double least = Double.POSITIVE_INFINITY;
            double most = Double.MIN_VALUE;
            for (double value : values) {
                least = Math.min(least, value);
                most = Math.max(most, value);
            }
            if (least > 0 && most / least > WIDE_SPAN) {
                return new Axis(
                        Math.pow(10, Math.floor(Math.log10(least))), Math.pow(10, Math.ceil(Math.log10(most))), true);
            }
            return new Axis(0, most * 1.1, false);
        }

        double share(double value) {
            return logarithmic ? Math.log(value / from) / Math.log(to / from) : value / to;
        }

        double[] ticks() {
            if (logarithmic) {
                int decades = (int) Math.round(Math.log10(to / from));
                double[] ticks = new double[decades + 1];
                for (int i = 0; i <= decades; i++) {
                    ticks[i] = from * Math.pow(10, i);
                }
                return ticks;
            }
            double[] ticks = new double[5];
            for (int i = 0; i < ticks.length; i++) {
                ticks[i] = to * i / (ticks.length - 1);
            }
            return ticks;
        }
    }
}
