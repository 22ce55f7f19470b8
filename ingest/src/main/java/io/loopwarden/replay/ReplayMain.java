package io.loopwarden.replay;

import io.loopwarden.exchanger.FoulingSettings;
import io.loopwarden.fleet.Sample;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetfile.NameplateFile;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.store.StoredHistory;
import io.loopwarden.watch.UnitWatch;
import io.loopwarden.watch.WatchSettings;
import io.loopwarden.yaml.Fault;
import io.loopwarden.yaml.Loaded;
import java.io.IOException;
import java.io.PrintStream;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import java.util.stream.Collectors;

/** {@code deploy/replay}: a file or stored history through a watch, figures into a file. */
public final class ReplayMain {

    private ReplayMain() {}

    public static void main(String[] arguments) {
        System.exit(run(List.of(arguments), System.err));
    }

    static int run(List<String> arguments, PrintStream tell) {
        try {
            replay(Options.of(arguments), tell);
            return 0;
        } catch (ReplayException e) {
            tell.println(e.getMessage());
            return 2;
        } catch (IOException e) {
            tell.println("the result cannot be written: " + e);
            return 1;
        }
    }

    private static void replay(Options options, PrintStream tell) throws IOException {
        Loaded<NameplateFile> plate =
                NameplateFile.load(options.nameplate(), options.nameplate().toString());
        if (!plate.faults().isEmpty()) {
            throw new ReplayException(
                    plate.faults().stream().map(Fault::toString).collect(Collectors.joining("\n")));
        }
        UnitId id = new UnitId(options.unit().orElse("replay"));
        Unit unit = new Unit(id, "replay", "replay", plate.value().orElseThrow().nameplate());
        List<MaintenanceEntry> entries = new ArrayList<>();
        options.cleaned().forEach(at -> entries.add(cleaning(id, at)));
        if (options.csv().isPresent()) {
            replay(options, unit, new CsvSource(options.csv().get()), entries, tell);
            return;
        }
        try (StoredHistory history =
                StoredHistory.open(options.store().orElseThrow(), id, options.from(), options.to())) {
            entries.addAll(history.maintenance());
            replay(options, unit, history, entries, tell);
        }
    }

    private static void replay(
            Options options, Unit unit, ReplaySource source, List<MaintenanceEntry> entries, PrintStream tell)
            throws IOException {
        Progress progress = new Progress(source, tell);
        Pace pace = new Pace(options.speed());
        try (Writer out = Files.newBufferedWriter(options.out(), StandardCharsets.UTF_8)) {
            ResultFile result = new ResultFile(out);
            Replay replay = new Replay(new UnitWatch(unit, settings(options)), options.every(), entries, result::write);
            Consumer<Sample> each = sample -> {
                pace.until(sample.measuredAt());
                replay.accept(sample);
                progress.at(sample.measuredAt());
            };
            source.samples(each);
            replay.finish();
        }
        tell.println("100 %, written to " + options.out());
    }

    /** The settings of the service, with the baseline as asked. */
    private static WatchSettings settings(Options options) {
        WatchSettings d = WatchSettings.DEFAULT;
        FoulingSettings f = d.fouling();
        try {
            FoulingSettings asked = new FoulingSettings(
                    options.baselineSpan().orElse(f.learningSpan()),
                    f.leastLearningWindows(),
                    f.windowsApart(),
                    f.leastWindowsPerDay(),
                    f.mostDays(),
                    options.baselineFrom().orElse(f.learnFrom()));
            return d.withFouling(asked);
        } catch (IllegalArgumentException e) {
            throw new ReplayException("--baseline-days: " + e.getMessage(), e);
        }
    }

    private static MaintenanceEntry cleaning(UnitId unit, Instant at) {
        return new MaintenanceEntry(
                UUID.nameUUIDFromBytes(("cleaned " + at).getBytes(StandardCharsets.UTF_8)),
                unit,
                MaintenanceKind.CLEANING,
                Optional.of("exchanger"),
                at,
                at,
                "replay",
                at,
                "",
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
    }

    /** Holds samples back so that they come so many times as fast as they were measured. */
    private static final class Pace {
        private final Optional<Double> speed;
        private Instant first;
        private long beganNs;

        Pace(Optional<Double> speed) {
            this.speed = speed;
        }

        void until(Instant at) {
            if (speed.isEmpty()) {
                return;
            }
            if (first == null) {
                first = at;
                beganNs = System.nanoTime();
            }
            double waitS = Duration.between(first, at).toMillis() / 1000.0 / speed.get();
            long dueNs = beganNs + (long) (waitS * 1e9);
            while (System.nanoTime() < dueNs && !Thread.currentThread().isInterrupted()) {
                LockSupport.parkNanos(dueNs - System.nanoTime());
            }
        }
    }
}
