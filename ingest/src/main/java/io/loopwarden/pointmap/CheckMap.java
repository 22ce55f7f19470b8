package io.loopwarden.pointmap;

import io.loopwarden.yaml.Loaded;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.List;

/** Command that checks point maps and prints every fault: {@code CheckMap FILE...}; ends with 0, 1 for faults, 2 for misuse. */
public final class CheckMap {

    private CheckMap() {}

    public static void main(String[] files) {
        System.exit(run(List.of(files), System.out));
    }

    static int run(List<String> files, PrintStream out) {
        if (files.isEmpty()) {
            out.println("usage: CheckMap FILE...   checks point maps and prints every fault");
            return 2;
        }
        boolean clean = true;
        for (String file : files) {
            Loaded<PointMapFile> loaded = PointMapFile.load(Path.of(file));
            loaded.faults().forEach(out::println);
            loaded.value()
                    .ifPresent(good ->
                            out.println(file + ": " + good.map().entries().size() + " points, no fault"));
            clean &= loaded.faults().isEmpty();
        }
        return clean ? 0 : 1;
    }
}
