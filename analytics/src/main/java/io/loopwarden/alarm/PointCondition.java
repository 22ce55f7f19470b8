package io.loopwarden.alarm;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Sample;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * A point beyond a limit. With {@code {n}} in its name it stands for each such point of the unit, and the worst one decides.
 *
 * @param pattern a name of the vocabulary, {@code {n}} left as it is
 */
public record PointCondition(String pattern, Limit limit) implements Condition {

    /** A value older than this says nothing of now; the same as where the watch calls a point stale. */
    static final Duration STALE_AFTER = Duration.ofSeconds(60);

    public PointCondition {
        Objects.requireNonNull(pattern, "pattern");
        Objects.requireNonNull(limit, "limit");
        if (!Points.vocabulary().containsKey(pattern) && !Points.vocabulary().containsKey(numberless(pattern))) {
            throw new IllegalArgumentException("'" + pattern + "' is not a point");
        }
    }

    static String numberless(String name) {
        return name.replaceFirst("\\.[1-9][0-9]?\\.", ".{n}.");
    }

    @Override
    public boolean concerns(Facts facts) {
        return facts instanceof Facts.OfUnit;
    }

    @Override
    public Verdict judge(Facts facts) {
        Facts.OfUnit unit = (Facts.OfUnit) facts;
        Nameplate nameplate = unit.unit().nameplate();
        Sample worst = null;
        for (Map.Entry<PointName, Sample> entry : unit.figures().latest().entrySet()) {
            if (matches(entry.getKey().value()) && believed(entry.getValue(), facts.at())) {
                boolean worse = worst == null
                        || limit.excess(entry.getValue().valueSi(), nameplate)
                                > limit.excess(worst.valueSi(), nameplate);
                worst = worse ? entry.getValue() : worst;
            }
        }
        if (worst == null) {
            return new Verdict(Verdict.Kind.UNKNOWN, pattern + " has no fresh, believable value");
        }
        return new Verdict(judge(worst.valueSi(), nameplate), sentence(worst, nameplate));
    }

    public Verdict.Kind judge(double valueSi, Nameplate nameplate) {
        double excess = limit.excess(valueSi, nameplate);
        if (excess > 0) {
            return Verdict.Kind.BEYOND;
        }
        return excess <= -limit.deadband() ? Verdict.Kind.GOOD : Verdict.Kind.WITHIN_DEADBAND;
    }

    private String sentence(Sample sample, Nameplate nameplate) {
        String ucum = sample.point().quantity().ucum();
        String unit = ucum.equals("1") ? "" : " " + (ucum.equals("Cel") ? "°C" : ucum);
        return sample.point() + " is " + Condition.text(sample.valueSi()) + unit + "; limit " + limit.words() + " "
                + Condition.text(limit.of(nameplate)) + unit;
    }

    public boolean matches(String point) {
        return pattern.contains("{n}")
                ? point.matches(Pattern.quote(pattern).replace("{n}", "\\E[1-9][0-9]?\\Q"))
                : point.equals(pattern);
    }

    private static boolean believed(Sample sample, Instant at) {
        return sample.hasValue()
                && sample.quality().level() != Quality.Level.BAD
                && !sample.measuredAt().isBefore(at.minus(STALE_AFTER));
    }

    @Override
    public String words() {
        return pattern + " " + limit.words() + " " + Condition.text(limit.value())
                + limit.over().map(name -> " over " + name).orElse("");
    }

    @Override
    public Set<String> points() {
        return Set.of(pattern);
    }
}
