package io.loopwarden.collector;

import java.time.Duration;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Reads a connection's settings by name and collects every fault instead of stopping at the first. Ask for all
 * settings, then call {@link #finish()}; a setting that nobody asked for is a fault too.
 */
public final class SettingsReader {

    private final Connection connection;
    private final Set<String> asked = new HashSet<>();
    private final List<String> faults = new ArrayList<>();

    public SettingsReader(Connection connection) {
        this.connection = Objects.requireNonNull(connection, "connection");
    }

    public Optional<String> text(String name) {
        asked.add(name);
        return Optional.ofNullable(connection.settings().get(name)).filter(value -> !value.isBlank());
    }

    /** A duration as in ISO 8601, for example {@code PT0.5S}. */
    public Duration duration(String name, Duration fallback, Duration least, Duration most) {
        return text(name)
                .map(value -> {
                    try {
                        Duration duration = Duration.parse(value);
                        if (duration.compareTo(least) >= 0 && duration.compareTo(most) <= 0) {
                            return duration;
                        }
                        fault(name, value, "must be " + least + " to " + most);
                    } catch (DateTimeParseException e) {
                        fault(name, value, "is not an ISO 8601 duration such as PT0.5S");
                    }
                    return fallback;
                })
                .orElse(fallback);
    }

    public int integer(String name, int fallback, int least, int most) {
        return text(name)
                .map(value -> {
                    try {
                        int number = Integer.parseInt(value);
                        if (number >= least && number <= most) {
                            return number;
                        }
                    } catch (NumberFormatException e) {
                        // falls through to the one message
                    }
                    fault(name, value, "must be a whole number, " + least + " to " + most);
                    return fallback;
                })
                .orElse(fallback);
    }

    public boolean flag(String name, boolean fallback) {
        return text(name)
                .map(value -> {
                    if (value.equals("true") || value.equals("false")) {
                        return value.equals("true");
                    }
                    fault(name, value, "must be true or false");
                    return fallback;
                })
                .orElse(fallback);
    }

    /**
     * One of the constants of an enum, spelt in lower case with hyphens: {@code SIGN_AND_ENCRYPT} is {@code
     * sign-and-encrypt}.
     */
    public <E extends Enum<E>> E choice(String name, E fallback) {
        E[] all = fallback.getDeclaringClass().getEnumConstants();
        return text(name)
                .map(value -> {
                    Optional<E> found = Stream.of(all)
                            .filter(one -> spelt(one).equals(value))
                            .findFirst();
                    if (found.isEmpty()) {
                        String choices =
                                Stream.of(all).map(SettingsReader::spelt).collect(Collectors.joining(", "));
                        fault(name, value, "must be one of " + choices);
                    }
                    return found.orElse(fallback);
                })
                .orElse(fallback);
    }

    /** Names of the settings that begin so, for settings that carry a point's name. */
    public List<String> namesFrom(String prefix) {
        return connection.settings().keySet().stream()
                .filter(name -> name.startsWith(prefix))
                .sorted()
                .toList();
    }

    public void fault(String name, String value, String whatIsWrong) {
        fault("setting '" + name + "' is '" + value + "', " + whatIsWrong);
    }

    public void fault(String sentence) {
        faults.add("connection '" + connection.name() + "': " + sentence);
    }

    /** @throws ConfigurationException with all faults, if there are any */
    public void finish() {
        connection.settings().keySet().stream()
                .filter(name -> !asked.contains(name))
                .sorted()
                .forEach(name -> fault("unknown setting '" + name + "', " + connection.protocol() + " knows "
                        + String.join(", ", asked.stream().sorted().toList())));
        if (!faults.isEmpty()) {
            throw new ConfigurationException(faults);
        }
    }

    private static String spelt(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
