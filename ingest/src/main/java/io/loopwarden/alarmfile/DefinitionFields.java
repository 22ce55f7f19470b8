package io.loopwarden.alarmfile;

import io.loopwarden.alarm.Condition;
import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.Delay;
import io.loopwarden.alarm.Priority;
import io.loopwarden.alarm.Severity;
import io.loopwarden.fleet.Points;
import io.loopwarden.indicator.Indicator;
import io.loopwarden.yaml.YamlMap;
import io.loopwarden.yaml.YamlText;
import java.time.Duration;
import java.time.format.DateTimeParseException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Reads one definition. */
final class DefinitionFields {

    private static final List<String> KNOWN = List.of(
            "alarm",
            "title",
            "function",
            "when",
            "on-delay",
            "off-delay",
            "cause",
            "consequence",
            "severity",
            "first-action",
            "respond-within",
            "priority",
            "latching",
            "re-alarm-after",
            "who",
            "group",
            "hall-wide",
            "follows",
            "suppressed-while",
            "show",
            "enabled");

    private static final Duration LONGEST = Duration.ofDays(366);
    private static final int MOST_SHOWN = 2;

    private final YamlMap fields;
    private final Map<String, Indicator> indicators;
    private boolean faulty;

    DefinitionFields(YamlMap fields, Map<String, Indicator> indicators) {
        this.fields = fields;
        this.indicators = indicators;
    }

    /** Reads every field before it gives up, so that all faults are found. */
    Optional<Definition> read(String key) {
        for (String field : fields.keys()) {
            if (!KNOWN.contains(field)) {
                faulty = true;
            }
        }
        fields.refuseOthers(KNOWN);
        if (!key.matches("[a-z0-9][a-z0-9-]{0,63}")) {
            fault("alarm", "'" + key + "' is not 1 to 64 of lower-case letters, digits and '-'");
        }
        String title = words("title");
        String function = words("function");
        Optional<Condition> condition = condition();
        Duration on = duration("on-delay", Duration.ZERO, Duration.ZERO);
        Duration off = duration("off-delay", Duration.ZERO, Duration.ZERO);
        String cause = words("cause");
        String consequence = words("consequence");
        String firstAction = words("first-action");
        Severity severity = chosen("severity", named(Severity.values()), Severity.MINOR);
        Duration within = fields.present("respond-within")
                ? duration("respond-within", Duration.ofDays(1), Duration.ofMinutes(1))
                : bad(Duration.ofDays(1));
        checkPriority(severity, within);
        Optional<Duration> realarm = fields.has("re-alarm-after")
                ? Optional.of(duration("re-alarm-after", Duration.ofDays(1), Duration.ofMinutes(1)))
                : Optional.empty();
        String who = words("who");
        List<String> show = shown();
        if (faulty || condition.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Definition(
                key,
                title,
                function,
                condition.get(),
                new Delay.Times(on, off),
                cause,
                consequence,
                severity,
                firstAction,
                within,
                flag("latching"),
                realarm,
                who,
                fields.text("group").orElse(key),
                flag("hall-wide"),
                texts("follows"),
                texts("suppressed-while"),
                show));
    }

    private Optional<Condition> condition() {
        if (!fields.present("when")) {
            faulty = true;
            return Optional.empty();
        }
        Optional<Condition> condition =
                fields.map("when").flatMap(when -> new ConditionFields(when, indicators).read());
        faulty |= condition.isEmpty();
        return condition;
    }

    /** A priority may be written down, so that it is seen; it has to be the one that severity and time give. */
    private void checkPriority(Severity severity, Duration within) {
        if (!fields.has("priority")) {
            return;
        }
        Priority written = chosen("priority", named(Priority.values()), Priority.LOW);
        Priority due = Priority.of(severity, within);
        if (!faulty && written != due) {
            fault(
                    "priority",
                    "is " + lower(written) + ", but " + lower(severity) + " within " + within + " is " + lower(due)
                            + "; change severity or respond-within");
        }
    }

    private List<String> shown() {
        List<YamlText> texts = fields.texts("show");
        if (texts.size() > MOST_SHOWN) {
            fault("show", "names more than " + MOST_SHOWN + " points");
        }
        for (YamlText text : texts) {
            if (!Points.vocabulary().containsKey(text.value().replaceFirst("\\.[1-9][0-9]?\\.", ".{n}."))) {
                fault("show", "'" + text.value() + "' is not a point");
            }
        }
        return texts.stream().map(YamlText::value).toList();
    }

    private String words(String key) {
        Optional<String> text = fields.requiredText(key);
        faulty |= text.isEmpty();
        return text.orElse("");
    }

    private boolean flag(String key) {
        return chosen(key, Map.of("true", true, "false", false), false);
    }

    private <T> T chosen(String key, Map<String, T> choices, T instead) {
        if (!fields.has(key)) {
            if (key.equals("severity")) {
                fields.present(key);
                faulty = true;
            }
            return instead;
        }
        Optional<T> choice = fields.choice(key, choices);
        faulty |= choice.isEmpty();
        return choice.orElse(instead);
    }

    private Set<String> texts(String key) {
        return fields.texts(key).stream().map(YamlText::value).collect(Collectors.toSet());
    }

    private Duration duration(String key, Duration instead, Duration least) {
        Optional<String> text = fields.text(key);
        if (text.isEmpty()) {
            return fields.has(key) ? bad(instead) : instead;
        }
        try {
            Duration duration = Duration.parse(text.get());
            if (duration.compareTo(least) < 0 || duration.compareTo(LONGEST) > 0) {
                fault(key, "'" + text.get() + "' is not between " + least + " and " + LONGEST);
            }
            return duration;
        } catch (DateTimeParseException e) {
            fault(key, "'" + text.get() + "' is no duration such as PT5M, PT8H or P2D");
            return instead;
        }
    }

    private void fault(String key, String message) {
        faulty = true;
        fields.fault(key, message);
    }

    private <T> T bad(T instead) {
        faulty = true;
        return instead;
    }

    static <E extends Enum<E>> Map<String, E> named(E[] values) {
        Map<String, E> byName = new LinkedHashMap<>();
        for (E value : values) {
            byName.put(lower(value), value);
        }
        return byName;
    }

    private static String lower(Enum<?> name) {
        return name.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
