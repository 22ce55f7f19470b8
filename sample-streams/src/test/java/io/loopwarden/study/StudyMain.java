package io.loopwarden.study;

import java.io.IOException;
import java.nio.file.Path;

/** What all studies are started with: {@code --seed N}, {@code --quick}, {@code --scenario DIR}, {@code --out FILE}. */
final class StudyMain {

    private StudyMain() {}

    interface Study {
        Report run(Path scenario, long seed, boolean quick);
    }

    private record Asked(long seed, boolean quick, Path scenario, Path out) {}

    static void main(String[] args, String name, long defaultSeed, Study study) throws IOException {
        Asked asked;
        try {
            asked = asked(args, name, defaultSeed);
        } catch (IllegalArgumentException e) {
            System.err.println(e.getMessage());
            System.exit(2);
            return;
        }
        Report report = study.run(asked.scenario(), asked.seed(), asked.quick());
        report.print(System.out);
        report.write(asked.out());
        System.out.println("written to " + asked.out()
                + (report.pictures().isEmpty() ? "" : ", pictures in " + Report.page(asked.out())));
    }

    private static Asked asked(String[] args, String name, long defaultSeed) {
        long seed = defaultSeed;
        boolean quick = false;
        Path scenario = Path.of("sample-streams/scenario");
        Path out = Path.of("target/study/" + name + ".json");
        for (int i = 0; i < args.length; i++) {
            switch (args[i]) {
                case "--seed" -> seed = number(args, ++i);
                case "--quick" -> quick = true;
                case "--scenario" -> scenario = Path.of(value(args, ++i));
                case "--out" -> out = Path.of(value(args, ++i));
                default ->
                    throw new IllegalArgumentException(
                            "unknown option " + args[i] + "; known: --seed N, --quick, --scenario DIR, --out FILE");
            }
        }
        return new Asked(seed, quick, scenario, out);
    }

    private static String value(String[] args, int i) {
        if (i >= args.length) {
            throw new IllegalArgumentException(args[i - 1] + " needs a value");
        }
        return args[i];
    }

    private static long number(String[] args, int i) {
        String text = value(args, i);
        try {
            return Long.parseLong(text);
        } catch (NumberFormatException e) {
            throw new IllegalArgumentException(args[i - 1] + " is '" + text + "', must be a whole number", e);
        }
    }
}
