package io.loopwarden.replay;

import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What a replay is asked to do.
 *
 * @param csv file to replay; without it history of {@code unit} between {@code from} and {@code to}
 * @param store folder of the service's own store, or the JDBC address of a database
 * @param speed times real time; without it as fast as it goes
 * @param baselineFrom steady windows before it are not learnt from
 * @param cleaned instants at which the exchangers were cleaned
 */
record Options(
        Optional<Path> csv,
        Path nameplate,
        Path out,
        Optional<String> store,
        Optional<String> unit,
        Instant from,
        Instant to,
        Duration every,
        Optional<Double> speed,
        Optional<Instant> baselineFrom,
        Optional<Duration> baselineSpan,
        List<Instant> cleaned) {

    static final String USAGE = """
            usage: deploy/replay FILE.csv --nameplate FILE.yaml --out RESULT.csv [OPTIONS]
                   deploy/replay --store DIR|jdbc:… --unit UNIT [--from TIME] [--to TIME] --nameplate FILE.yaml --out RESULT.csv [OPTIONS]
            options:
              --every PT15M           from figures to figures
              --speed N               N times real time; as fast as it goes without it
              --baseline-from TIME    learn the clean exchanger from this time on, as if nothing had been known before
              --baseline-days N       from so many days (default 5)
              --cleaned TIME          the exchangers were cleaned then; may be given several times
            a database's user and password: environment LOOPWARDEN_STORE_USER, LOOPWARDEN_STORE_PASSWORD""";

    static Options of(List<String> arguments) {
        Parser p = new Parser();
        for (int i = 0; i < arguments.size(); i++) {
            String word = arguments.get(i);
            if (!word.startsWith("--")) {
                p.csv(word);
                continue;
            }
            if (i + 1 == arguments.size()) {
                throw new ReplayException(word + " needs a value");
            }
            p.option(word, arguments.get(++i));
        }
        return p.options();
    }

    /** Collects options as they come. */
    private static final class Parser {
        private Optional<Path> csv = Optional.empty();
        private Path nameplate;
        private Path out;
        private Optional<String> store = Optional.empty();
        private Optional<String> unit = Optional.empty();
        private Instant from = Instant.EPOCH;
        private Instant to = Instant.parse("9999-01-01T00:00:00Z");
        private Duration every = Duration.ofMinutes(15);
        private Optional<Double> speed = Optional.empty();
        private Optional<Instant> baselineFrom = Optional.empty();
        private Optional<Duration> baselineSpan = Optional.empty();
        private final List<Instant> cleaned = new ArrayList<>();

        void csv(String word) {
            if (csv.isPresent()) {
                throw new ReplayException("one file at a time: " + csv.get() + " and " + word);
            }
            csv = Optional.of(Path.of(word));
        }

        void option(String name, String value) {
            try {
                switch (name) {
                    case "--nameplate" -> nameplate = Path.of(value);
                    case "--out" -> out = Path.of(value);
                    case "--store" -> store = Optional.of(value);
                    case "--unit" -> unit = Optional.of(value);
                    case "--from" -> from = time(value);
                    case "--to" -> to = time(value);
                    case "--every" -> every = Duration.parse(value);
                    case "--speed" -> speed = Optional.of(positive(value));
                    case "--baseline-from" -> baselineFrom = Optional.of(time(value));
                    case "--baseline-days" ->
                        baselineSpan = Optional.of(Duration.ofHours(Math.round(24 * positive(value))));
                    case "--cleaned" -> cleaned.add(time(value));
                    default -> throw new ReplayException("unknown option " + name + "\n" + USAGE);
                }
            } catch (DateTimeException | NumberFormatException e) {
                throw new ReplayException(name + " is '" + value + "': " + e.getMessage(), e);
            }
        }

        private static Instant time(String text) {
            return OffsetDateTime.parse(text).toInstant();
        }

        private static double positive(String text) {
            double value = Double.parseDouble(text);
            if (!(value > 0) || Double.isInfinite(value)) {
                throw new NumberFormatException("must be more than 0");
            }
            return value;
        }

        Options options() {
            if (nameplate == null || out == null || csv.isPresent() == store.isPresent()) {
                throw new ReplayException(USAGE);
            }
            if (store.isPresent() && unit.isEmpty()) {
                throw new ReplayException("--store needs --unit\n" + USAGE);
            }
            return new Options(
                    csv,
                    nameplate,
                    out,
                    store,
                    unit,
                    from,
                    to,
                    every,
                    speed,
                    baselineFrom,
                    baselineSpan,
                    List.copyOf(cleaned));
        }
    }
}
