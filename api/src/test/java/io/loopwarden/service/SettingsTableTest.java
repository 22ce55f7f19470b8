package io.loopwarden.service;

import static org.assertj.core.api.Assertions.assertThat;

import io.smallrye.config.WithDefault;
import java.io.IOException;
import java.lang.reflect.Method;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** The table of settings that people read says what the code does. */
class SettingsTableTest {

    private static final Pattern ROW =
            Pattern.compile("^\\| `(loopwarden\\.[a-z.-]+)` \\| (?:`([^`]*)`|–) \\|", Pattern.MULTILINE);

    @Test
    void everySettingHasARowWithItsDefaultAndNoRowIsLeftOver() throws IOException {
        Map<String, String> inTable = new TreeMap<>();
        Matcher row = ROW.matcher(Files.readString(Path.of("../deploy/README.md")));
        while (row.find()) {
            inTable.put(row.group(1), String.valueOf(row.group(2)));
        }
        Map<String, String> inCode = new TreeMap<>();
        collect("loopwarden", LoopwardenConfig.class, inCode);
        assertThat(inTable).isEqualTo(inCode);
    }

    private static void collect(String prefix, Class<?> group, Map<String, String> into) {
        for (Method setting : group.getDeclaredMethods()) {
            String key = prefix + "."
                    + setting.getName().replaceAll("([A-Z])", "-$1").toLowerCase(java.util.Locale.ROOT);
            WithDefault standard = setting.getAnnotation(WithDefault.class);
            if (setting.getReturnType().isInterface()
                    && setting.getReturnType().getEnclosingClass() == LoopwardenConfig.class) {
                collect(key, setting.getReturnType(), into);
            } else {
                into.put(key, standard == null ? "null" : standard.value());
            }
        }
    }
}
