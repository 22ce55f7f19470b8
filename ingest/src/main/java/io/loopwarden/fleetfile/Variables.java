package io.loopwarden.fleetfile;

import io.loopwarden.yaml.YamlMap;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Puts in values that do not belong into a file, such as passwords: {@code ${NAME}}, or {@code ${NAME:instead}}. */
record Variables(Function<String, Optional<String>> lookup) {

    private static final Pattern VARIABLE = Pattern.compile("\\$\\{([A-Za-z_][A-Za-z0-9_]*)(?::([^}]*))?}");

    /** The text with its variables replaced; empty, and a fault each, if one is not set. Never tells a value. */
    Optional<String> replace(YamlMap field, String key, String text) {
        StringBuilder replaced = new StringBuilder();
        boolean complete = true;
        Matcher matcher = VARIABLE.matcher(text);
        while (matcher.find()) {
            Optional<String> value = lookup.apply(matcher.group(1)).or(() -> Optional.ofNullable(matcher.group(2)));
            if (value.isEmpty()) {
                field.fault(key, "the environment variable " + matcher.group(1) + " is not set");
                complete = false;
            }
            matcher.appendReplacement(replaced, Matcher.quoteReplacement(value.orElse("")));
        }
        matcher.appendTail(replaced);
        return complete ? Optional.of(replaced.toString()) : Optional.empty();
    }
}
