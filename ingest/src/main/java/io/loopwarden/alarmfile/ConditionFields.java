package io.loopwarden.alarmfile;

import static io.loopwarden.alarmfile.DefinitionFields.named;

import io.loopwarden.alarm.Condition;
import io.loopwarden.alarm.FigureCondition;
import io.loopwarden.alarm.Limit;
import io.loopwarden.alarm.PartCondition;
import io.loopwarden.alarm.PointCondition;
import io.loopwarden.alarm.SignalCondition;
import io.loopwarden.alarm.SilenceCondition;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.indicator.Indicator;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.UnitFunction;
import io.loopwarden.pointmap.Measure;
import io.loopwarden.yaml.Nearest;
import io.loopwarden.yaml.YamlMap;
import java.time.Duration;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads what is in {@code when}: one of point, indicator, signal, silent-for, connection and service. */
final class ConditionFields {

    private static final List<String> KINDS =
            List.of("point", "indicator", "signal", "silent-for", "connection", "service");

    /** What the service watches of itself. */
    private static final Map<String, String> PARTS = Map.of("store", "store", "messages", "messages");

    private final YamlMap when;
    private final Map<String, Indicator> indicators;

    ConditionFields(YamlMap when, Map<String, Indicator> indicators) {
        this.when = when;
        this.indicators = indicators;
    }

    Optional<Condition> read() {
        List<String> kinds = KINDS.stream().filter(when::has).toList();
        if (kinds.size() != 1) {
            return refuse(kinds.isEmpty() ? "point" : kinds.get(1), "needs exactly one of " + String.join(", ", KINDS));
        }
        return switch (kinds.get(0)) {
            case "point" -> point();
            case "indicator" -> indicator();
            case "signal" -> signal();
            case "silent-for" -> silence();
            case "connection" ->
                only("connection", Map.of("lost", PartCondition.CONNECTION)).map(PartCondition::new);
            default -> only("service", PARTS).map(PartCondition::new);
        };
    }

    private Optional<Condition> point() {
        when.refuseOthers(List.of("point", "above", "below", "over", "deadband"));
        String name = when.text("point").orElse("");
        Quantity quantity = Points.vocabulary().get(name.replaceFirst("\\.[1-9][0-9]?\\.", ".{n}."));
        if (quantity == null) {
            return refuse(
                    "point",
                    "'" + name + "' is not a point"
                            + Nearest.hint(name, Points.vocabulary().keySet()));
        }
        // On top of a temperature of the nameplate comes a difference of temperatures.
        Quantity of = quantity == Quantity.TEMPERATURE && when.has("over") ? Quantity.TEMPERATURE_DIFFERENCE : quantity;
        Quantity band = quantity == Quantity.TEMPERATURE ? Quantity.TEMPERATURE_DIFFERENCE : quantity;
        return limit(key -> measure(key, of), key -> measure(key, band)).map(limit -> new PointCondition(name, limit));
    }

    private OptionalDouble measure(String key, Quantity quantity) {
        boolean bare = quantity.ucum().equals("1");
        return bare ? when.number(key) : Measure.read(when, key, quantity);
    }

    private Optional<Condition> indicator() {
        when.refuseOthers(List.of("indicator", "above", "below", "over", "deadband", "confidence"));
        String key = when.text("indicator").orElse("");
        Indicator indicator = indicators.get(key);
        if (indicator == null) {
            return refuse("indicator", "there is no indicator '" + key + "'" + Nearest.hint(key, indicators.keySet()));
        }
        OptionalDouble confidence = when.has("confidence") ? when.number("confidence") : OptionalDouble.of(0.5);
        if (confidence.isPresent() && !(confidence.getAsDouble() >= 0.5 && confidence.getAsDouble() < 1)) {
            return refuse("confidence", "'" + confidence.getAsDouble() + "' is not 0.5 or more and below 1");
        }
        Optional<Limit> limit = limit(k -> figure(k, indicator), k -> figure(k, indicator));
        return confidence.isEmpty()
                ? Optional.empty()
                : limit.map(l -> new FigureCondition(key, l, confidence.getAsDouble()));
    }

    /** A number, alone or with the indicator's own unit behind it. */
    private OptionalDouble figure(String key, Indicator indicator) {
        Optional<String> text = when.text(key);
        if (text.isEmpty()) {
            return OptionalDouble.empty();
        }
        String[] parts = text.get().split(" +", 2);
        OptionalDouble number = YamlMap.parseNumber(parts[0]);
        if (number.isEmpty() || parts.length == 2 && !parts[1].equals(indicator.unit())) {
            when.fault(
                    key, "'" + text.get() + "' is not a number in " + indicator.unit() + ", the unit of the indicator");
            return OptionalDouble.empty();
        }
        return number;
    }

    private interface Reader {
        OptionalDouble read(String key);
    }

    private Optional<Limit> limit(Reader value, Reader band) {
        List<String> sides = new ArrayList<>(List.of("above", "below"));
        sides.removeIf(side -> !when.has(side));
        if (sides.size() != 1) {
            return refuse("above", "needs exactly one of above and below");
        }
        OptionalDouble at = value.read(sides.get(0));
        OptionalDouble deadband = when.has("deadband") ? band.read("deadband") : OptionalDouble.of(0);
        Optional<String> over = when.text("over");
        if (over.isPresent() && !Limit.NAMEPLATE.containsKey(over.get())) {
            return refuse(
                    "over",
                    "'" + over.get() + "' is not one of " + String.join(", ", Limit.NAMEPLATE.keySet())
                            + Nearest.hint(over.get(), Limit.NAMEPLATE.keySet()));
        }
        if (at.isEmpty() || deadband.isEmpty() || when.has("over") && over.isEmpty()) {
            return Optional.empty();
        }
        if (deadband.getAsDouble() < 0) {
            return refuse("deadband", "is less than nothing");
        }
        Limit.Side side = sides.get(0).equals("above") ? Limit.Side.ABOVE : Limit.Side.BELOW;
        return Optional.of(new Limit(side, at.getAsDouble(), over, deadband.getAsDouble()));
    }

    private Optional<Condition> signal() {
        when.refuseOthers(List.of("signal", "at-least"));
        Optional<UnitFunction> function = when.choice("signal", named(UnitFunction.values()));
        Map<String, Ne107> signals = new LinkedHashMap<>(named(Ne107.values()));
        signals.remove("good");
        Optional<Ne107> least = when.requiredChoice("at-least", signals);
        return function.flatMap(f -> least.map(l -> new SignalCondition(f, l)));
    }

    private Optional<Condition> silence() {
        when.refuseOthers(List.of("silent-for"));
        String text = when.text("silent-for").orElse("");
        try {
            Duration duration = Duration.parse(text);
            return duration.compareTo(Duration.ofSeconds(1)) >= 0
                    ? Optional.of(new SilenceCondition(duration))
                    : refuse("silent-for", "'" + text + "' is less than PT1S");
        } catch (DateTimeParseException e) {
            return refuse("silent-for", "'" + text + "' is no duration such as PT2M");
        }
    }

    private Optional<String> only(String key, Map<String, String> choices) {
        when.refuseOthers(List.of(key));
        return when.choice(key, choices);
    }

    private <T> Optional<T> refuse(String key, String message) {
        when.fault(key, message);
        return Optional.empty();
    }
}
