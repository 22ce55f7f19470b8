package io.loopwarden.alarmfile;

import io.loopwarden.alarm.Definition;
import io.loopwarden.indicator.Indicator;
import io.loopwarden.indicator.Indicators;
import io.loopwarden.yaml.Faults;
import io.loopwarden.yaml.YamlFile;
import io.loopwarden.yaml.YamlMap;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

/**
 * Reads alarm definitions. A definition with a fault is left out and told; the one that comes with the program then stays in force.
 */
public final class AlarmsFile {

    /** In the fleet folder; may be missing. */
    public static final String NAME = "alarms.yaml";

    private static final String STANDARD = "alarms.yaml of the program";

    private AlarmsFile() {}

    /** The definitions of the program, with those of {@code alarms.yaml} in the folder in their place or beside them. */
    public static AlarmDefinitions load(Path folder) {
        Faults faults = new Faults();
        Map<String, Definition> definitions = new LinkedHashMap<>();
        YamlFile.parse(standard(), STANDARD, faults).ifPresent(top -> read(top, definitions));
        Path own = folder.resolve(NAME);
        if (Files.exists(own)) {
            YamlFile.open(own, NAME, faults).ifPresent(top -> read(top, definitions));
        }
        return new AlarmDefinitions(List.copyOf(definitions.values()), faults.sorted());
    }

    /** The definitions in a text of the form of {@code alarms.yaml}, on their own. */
    public static AlarmDefinitions parse(String text, String name) {
        Faults faults = new Faults();
        Map<String, Definition> definitions = new LinkedHashMap<>();
        YamlFile.parse(text, name, faults).ifPresent(top -> read(top, definitions));
        return new AlarmDefinitions(List.copyOf(definitions.values()), faults.sorted());
    }

    /** The text of the definitions that come with the program. */
    public static String standard() {
        try (InputStream in = AlarmsFile.class.getResourceAsStream(NAME)) {
            return new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static void read(YamlMap top, Map<String, Definition> into) {
        top.refuseOthers(List.of("alarms"));
        if (!top.present("alarms")) {
            return;
        }
        Map<String, Indicator> indicators = new HashMap<>();
        Indicators.ALL.forEach(indicator -> indicators.put(indicator.key(), indicator));
        Map<String, Integer> seen = new HashMap<>();
        for (YamlMap fields : top.maps("alarms")) {
            Optional<String> key = fields.requiredText("alarm");
            if (key.isEmpty()) {
                continue;
            }
            if (seen.put(key.get(), fields.line()) != null) {
                fields.fault("alarm", "'" + key.get() + "' is defined twice in this file");
            } else if (fields.text("enabled").filter("false"::equals).isPresent()) {
                fields.refuseOthers(List.of("alarm", "enabled", "because"));
                if (fields.requiredText("because").isPresent() && into.remove(key.get()) == null) {
                    fields.fault("alarm", "there is no alarm '" + key.get() + "' to switch off");
                }
            } else {
                new DefinitionFields(fields, indicators).read(key.get()).ifPresent(made -> into.put(key.get(), made));
            }
        }
    }
}
