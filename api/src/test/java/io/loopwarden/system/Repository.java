package io.loopwarden.system;

import java.nio.file.Files;
import java.nio.file.Path;

/** Where this checkout is. */
public final class Repository {

    private Repository() {}

    public static Path root() {
        Path folder = Path.of("").toAbsolutePath();
        while (!Files.exists(folder.resolve("sample-streams/scenario"))) {
            folder = folder.getParent();
            if (folder == null) {
                throw new IllegalStateException("not inside a checkout: no sample-streams/scenario above");
            }
        }
        return folder;
    }

    /** Class path of the virtual fleet and the broker. */
    static String virtualClassPath() {
        Path root = root();
        return root.resolve("sample-streams/target/classes") + ":" + root.resolve("sample-streams/target/lib") + "/*";
    }
}
