package io.loopwarden.plan;

import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.indicator.FunctionSignal;
import io.loopwarden.indicator.IndicatorResult;
import io.loopwarden.indicator.Ne107;
import io.loopwarden.indicator.Sentences;
import io.loopwarden.indicator.UnitFunction;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.Set;

/** What falls due: every figure that counts days to a limit, and every function whose signal asks for maintenance already. */
public final class Planner {

    /** Half the width of an 80 % interval over its standard deviation, under a normal distribution. */
    private static final double K80 = 1.2815515655446004;

    /** How many of a figure's units make a day, for figures that count down to a limit. */
    private static OptionalDouble unitsADay(IndicatorResult result) {
        if (result.key().contains("days-to")) {
            return OptionalDouble.of(1);
        }
        return result.key().equals("time-to-low-level") ? OptionalDouble.of(86_400) : OptionalDouble.empty();
    }

    private Planner() {}

    /** Jobs due within a time from now, soonest first. */
    public static List<Job> jobs(Collection<UnitNow> units, Instant now, Duration within) {
        List<Job> jobs = new ArrayList<>();
        units.forEach(unit -> addJobs(jobs, unit, now, now.plus(within)));
        jobs.sort(Comparator.comparing(Job::due).thenComparing(Job::unit).thenComparing(Job::work));
        return List.copyOf(jobs);
    }

    private static void addJobs(List<Job> jobs, UnitNow unit, Instant now, Instant until) {
        Set<UnitFunction> counted = EnumSet.noneOf(UnitFunction.class);
        for (IndicatorResult result : unit.figures().results()) {
            OptionalDouble perDay = unitsADay(result);
            if (perDay.isPresent()) {
                result.value()
                        .fold(
                                days -> {
                                    counted.add(result.function());
                                    Job job = counted(
                                            unit,
                                            result,
                                            days.value() / perDay.getAsDouble(),
                                            days.standardUncertainty() / perDay.getAsDouble(),
                                            now);
                                    return !job.due().isAfter(until) && jobs.add(job);
                                },
                                gap -> false);
            }
        }
        for (FunctionSignal signal : unit.figures().signals()) {
            if (signal.signal() == Ne107.MAINTENANCE_REQUIRED && !counted.contains(signal.function())) {
                jobs.add(job(unit, signal.function(), "", "", now, null, null, signal.reason()));
            }
        }
    }

    private static Job counted(UnitNow unit, IndicatorResult result, double days, double uncertainty, Instant now) {
        double half = K80 * uncertainty;
        return job(
                unit,
                result.function(),
                result.key(),
                result.subject(),
                after(now, days),
                after(now, days - half),
                after(now, days + half),
                Sentences.of(result, unit.design()));
    }

    private static Instant after(Instant now, double days) {
        return now.plusSeconds(Math.round(86_400 * Math.max(0, days)));
    }

    private static Job job(
            UnitNow unit,
            UnitFunction function,
            String figure,
            String subject,
            Instant due,
            Instant early,
            Instant late,
            String why) {
        return new Job(
                unit.unit().id().value(),
                unit.unit().hall(),
                unit.unit().nameplate().supplier(),
                function.name().toLowerCase(Locale.ROOT).replace('_', '-'),
                figure.startsWith("strainer") ? "clean the facility strainer" : work(function, subject),
                figure,
                due,
                early,
                late,
                why);
    }

    private static String work(UnitFunction function, String subject) {
        return switch (function) {
            case HEAT_TRANSFER -> subject.isEmpty() ? "clean the exchangers" : "clean " + subject;
            case FILTRATION -> subject.isEmpty() ? "change filters" : "change " + subject;
            case PUMPING -> subject.isEmpty() ? "overhaul a pump" : "overhaul " + subject;
            case CONTAINMENT -> subject.isEmpty() ? "look for a leak, top up coolant" : "look after " + subject;
            case CONTROL -> subject.isEmpty() ? "look after valve and control" : "look after " + subject;
            case INSTRUMENTS -> subject.isEmpty() ? "check the instruments" : "check " + subject;
            case COOLANT -> "bring the coolant within its limits";
        };
    }
}
