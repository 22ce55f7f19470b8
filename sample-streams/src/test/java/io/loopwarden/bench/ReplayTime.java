package io.loopwarden.bench;

import io.loopwarden.fleet.PointName;
import io.loopwarden.replay.CsvSource;
import io.loopwarden.replay.Replay;
import io.loopwarden.replay.ResultFile;
import io.loopwarden.virtual.Readings;
import io.loopwarden.virtual.VirtualUnit;
import io.loopwarden.watch.UnitWatch;
import java.io.IOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Collectors;

/** Replay of a unit's file of 1-minute rows with all indicators, against parsing the file and nothing else. */
final class ReplayTime implements BenchMain.Row {

    private static final Duration EVERY = Duration.ofMinutes(15);

    @Override
    public Sheet run(Wanted wanted) throws Exception {
        int days = wanted.of(2, 30, 365);
        int runs = wanted.of(1, 5, 3);
        PlayedUnit unit = new PlayedUnit(wanted.root(), 1);
        double[] parsed = new double[runs];
        double[] replayed = new double[runs];
        try (Folder folder = Folder.make()) {
            Path file = folder.path().resolve("unit.csv");
            write(unit, days, file);
            if (wanted.size() != Wanted.Size.TINY) {
                parse(file);
                replay(unit, file, folder);
            }
            for (int run = 0; run < runs; run++) {
                parsed[run] = parse(file);
                replayed[run] = replay(unit, file, folder);
            }
            String what = "replay of " + days + " days of 1-minute rows of "
                    + unit.points().size() + " points";
            return Sheet.of(Line.costs(what + ", against parsing", Runs.of(replayed), Runs.of(parsed), "s", 3));
        }
    }

    private static void write(PlayedUnit played, int days, Path file) throws IOException {
        VirtualUnit unit = played.virtual();
        List<PointName> points = played.points();
        try (Writer out = Files.newBufferedWriter(file)) {
            out.write("time,"
                    + points.stream()
                            .map(point ->
                                    point.value() + " [" + point.quantity().ucum() + "]")
                            .collect(Collectors.joining(","))
                    + "\n");
            for (int minute = 0; minute < 1440 * days; minute++) {
                unit.coarseStep(Duration.ofMinutes(1));
                Readings shown = unit.readings();
                StringBuilder row = new StringBuilder(shown.at().toString());
                for (PointName point : points) {
                    row.append(',').append((float) shown.value(point.value()));
                }
                out.write(row.append('\n').toString());
            }
        }
    }

    private static double parse(Path file) {
        long[] count = {0};
        long begin = System.nanoTime();
        new CsvSource(file).samples(sample -> count[0]++);
        return (System.nanoTime() - begin) / 1e9;
    }

    private static double replay(PlayedUnit unit, Path file, Folder folder) throws IOException {
        long begin = System.nanoTime();
        try (Writer out = Files.newBufferedWriter(folder.path().resolve("figures.csv"))) {
            Replay replay = new Replay(new UnitWatch(unit.unit("R-01")), EVERY, List.of(), new ResultFile(out)::write);
            new CsvSource(file).samples(replay::accept);
            replay.finish();
        }
        return (System.nanoTime() - begin) / 1e9;
    }
}
