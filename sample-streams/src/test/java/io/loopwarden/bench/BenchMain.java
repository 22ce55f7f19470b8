package io.loopwarden.bench;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;

/** {@code deploy/bench}: speed and size of ours beside the plain way, all in one run on one machine. */
public final class BenchMain {

    /** One row of the table of goals. */
    interface Row {
        Sheet run(Wanted wanted) throws Exception;
    }

    static final Map<String, Row> ROWS = rows();

    private static final String USAGE = "usage: deploy/bench [" + String.join("|", ROWS.keySet())
            + "]... [--quick] [--minutes N] [--units N] [--timescale jdbc:...]";

    private BenchMain() {}

    private static Map<String, Row> rows() {
        Map<String, Row> rows = new LinkedHashMap<>();
        rows.put("store-write", new StoreWrite());
        rows.put("mqtt", new MqttRate());
        rows.put("opcua", new OpcUaRate());
        rows.put("modbus", new ModbusRate());
        rows.put("indicators", new IndicatorCost());
        rows.put("live-push", new LivePush());
        rows.put("fleet-query", new FleetQuery());
        rows.put("year-query", new YearQuery());
        rows.put("replay", new ReplayTime());
        rows.put("stored-bytes", new StoredBytes());
        rows.put("service-start", new ServiceStart());
        rows.put("growth", new Growth());
        return rows;
    }

    public static void main(String[] words) throws Exception {
        List<String> names = new ArrayList<>();
        Wanted.Size size = Wanted.Size.FULL;
        double minutes = 0;
        OptionalInt units = OptionalInt.empty();
        Optional<String> timescale = Optional.empty();
        try {
            for (int i = 0; i < words.length; i++) {
                switch (words[i]) {
                    case "--quick" -> size = Wanted.Size.QUICK;
                    case "--minutes" -> minutes = Double.parseDouble(value(words, ++i));
                    case "--units" -> units = OptionalInt.of(Integer.parseInt(value(words, ++i)));
                    case "--timescale" -> timescale = Optional.of(value(words, ++i));
                    default -> names.add(known(words[i]));
                }
            }
        } catch (IllegalArgumentException e) {
            System.err.println(e.getMessage() + "\n" + USAGE);
            System.exit(2);
        }
        double watched = minutes > 0 ? minutes : size.of(0, 1, 10);
        Wanted wanted = new Wanted(size, watched, units, Path.of("").toAbsolutePath(), timescale);
        System.exit(run(names.isEmpty() ? List.copyOf(ROWS.keySet()) : names, wanted) ? 0 : 1);
    }

    private static String known(String name) {
        if (!ROWS.containsKey(name)) {
            throw new IllegalArgumentException("unknown: " + name);
        }
        return name;
    }

    private static String value(String[] words, int i) {
        if (i >= words.length) {
            throw new IllegalArgumentException(words[i - 1] + " needs a value");
        }
        return words[i];
    }

    /** Answers whether all of them ran; a goal that is missed is told in the table, not here. */
    private static boolean run(List<String> names, Wanted wanted) {
        Path folder = wanted.root().resolve("target/bench");
        System.out.printf(
                "Java %s, %d cores, heap up to %d MB%n",
                System.getProperty("java.version"),
                Runtime.getRuntime().availableProcessors(),
                Runtime.getRuntime().maxMemory() >> 20);
        Sheet.heading(System.out);
        boolean all = true;
        for (String name : names) {
            try {
                Sheet sheet = ROWS.get(name).run(wanted);
                sheet.print(System.out);
                sheet.write(folder, name);
            } catch (Exception e) {
                all = false;
                System.out.println(name + " did not run: " + e);
                e.printStackTrace(System.err);
            }
        }
        System.out.println("written to " + folder.getParent().getParent().relativize(folder));
        return all;
    }
}
