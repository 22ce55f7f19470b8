package io.loopwarden.replay;

import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.watch.UnitFigures;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.List;

/** Figures as CSV, a row a window and indicator; numbers with all their digits. */
public final class ResultFile {

    private static final String HEADER =
            "time,from,to,indicator,unit,value,standard uncertainty,lower 95 %,upper 95 %,reason,detail\n";

    private final Writer out;

    public ResultFile(Writer out) throws IOException {
        this.out = out;
        out.write(HEADER);
    }

    public void write(UnitFigures figures) {
        try {
            for (IndicatorResult result : figures.results()) {
                out.write(row(figures, result));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The lines that a unit's figures make. */
    public static List<String> rows(UnitFigures figures) {
        return figures.results().stream().map(result -> row(figures, result)).toList();
    }

    private static String row(UnitFigures figures, IndicatorResult r) {
        String start = figures.at() + "," + r.from() + "," + r.to() + "," + r.key() + "," + r.unit() + ",";
        return start
                + r.value()
                        .fold(
                                e -> e.value() + "," + e.standardUncertainty() + "," + e.lower95() + "," + e.upper95()
                                        + ",,",
                                gap -> ",,,," + gap.reason() + "," + quoted(gap.detail()))
                + "\n";
    }

    private static String quoted(String text) {
        return "\"" + text.replace("\"", "\"\"") + "\"";
    }
}
