package io.loopwarden.exchanger;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Estimate;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

/**
 * What is remembered of one exchanger's fouling: the clean model, or the windows it is being learnt from, then a figure a day and
 * the cleanings. Immutable and small (a few numbers a day), so it can be stored as it is; time comes from the windows.
 *
 * <p>The baseline is the unit as it was in the learning span. If that was not right after commissioning or a cleaning, fouling
 * counts from there, not from bare plates.
 *
 * @param model from the nameplate alone until {@code learntAt}
 * @param learning windows kept for the baseline; empty once it is learnt
 * @param days whole days since, in order
 * @param today the day that windows are still added to
 * @param cleanings found or written, in order, as far as days on both sides show what they brought
 * @param cleanedOn days of UTC on which somebody wrote of a cleaning, in order
 * @param takenUntil end of the last window taken; windows do not overlap
 */
public record FoulingHistory(
        FoulingSettings settings,
        CleanModel model,
        Optional<Instant> learntAt,
        List<SteadyState> learning,
        List<FoulingDay> days,
        Optional<FoulingDay> today,
        List<Cleaning> cleanings,
        List<Long> cleanedOn,
        Instant takenUntil) {

    private static final int SECONDS_A_DAY = 86_400;

    public FoulingHistory {
        Objects.requireNonNull(settings, "settings");
        Objects.requireNonNull(model, "model");
        learning = List.copyOf(learning);
        days = List.copyOf(days);
        cleanings = List.copyOf(cleanings);
        cleanedOn = List.copyOf(cleanedOn);
    }

    /** Of a unit of which nothing is known yet but its nameplate. */
    public static Computed<FoulingHistory> begin(Nameplate nameplate, Exchanger exchanger, FoulingSettings settings) {
        return CleanLearning.fromNameplate(nameplate, exchanger)
                .map(prior -> new FoulingHistory(
                        settings,
                        prior,
                        Optional.empty(),
                        List.of(),
                        List.of(),
                        Optional.empty(),
                        List.of(),
                        List.of(),
                        Instant.EPOCH));
    }

    /** The same, kept in another way from now on. */
    public FoulingHistory with(FoulingSettings others) {
        return new FoulingHistory(others, model, learntAt, learning, days, today, cleanings, cleanedOn, takenUntil);
    }

    /** The history after a window; the same where the window overlaps the last one or says nothing. */
    public FoulingHistory after(SteadyState window) {
        if (window.from().isBefore(takenUntil) || window.from().isBefore(settings.learnFrom())) {
            return this;
        }
        FoulingHistory taken =
                new FoulingHistory(settings, model, learntAt, learning, days, today, cleanings, cleanedOn, window.to());
        return learntAt.isEmpty() ? taken.learnFrom(window) : taken.measure(window);
    }

    /** Fouling in a window: before the baseline is learnt against the nameplate, and known no better than it. */
    public Computed<FoulingEstimate> fouling(SteadyState window) {
        return model.fouling(window.measured(), window.noise());
    }

    /** UA in a window with what has been learnt of the sensors, W/K. */
    public Computed<Estimate> conductanceWPerK(SteadyState window) {
        return model.conductanceWPerK(window.measured(), window.noise());
    }

    /** Why days and trends are not there yet; empty once the baseline is learnt. */
    public Optional<String> stillLearning() {
        return learntAt.isPresent()
                ? Optional.empty()
                : Optional.of("The baseline is being learnt; it takes "
                        + settings.learningSpan().toHours() + " h and " + settings.leastLearningWindows()
                        + " steady windows.");
    }

    /** Whole days since the last cleaning. */
    public List<FoulingDay> daysSinceCleaning() {
        long found = cleanings.stream().mapToLong(Cleaning::epochDay).max().orElse(Long.MIN_VALUE);
        long from = cleanedOn.stream().mapToLong(day -> day).reduce(found, Math::max);
        return days.stream().filter(d -> d.epochDay() > from).toList();
    }

    /** With the days on which somebody wrote of a cleaning, in place of those written before; a written one wins over a found one. */
    public FoulingHistory cleanedOn(List<Long> written) {
        if (written.equals(cleanedOn)) {
            return this;
        }
        List<Cleaning> kept = cleanings.stream()
                .filter(c -> !c.written() && written.stream().noneMatch(c::near))
                .toList();
        return new FoulingHistory(settings, model, learntAt, learning, days, today, kept, written, takenUntil)
                .withWrittenCleanings();
    }

    private FoulingHistory withWrittenCleanings() {
        List<Cleaning> all = new ArrayList<>(cleanings);
        for (long day : cleanedOn) {
            if (all.stream().noneMatch(c -> c.epochDay() == day)) {
                Cleaning.written(day, days, model).ifPresent(all::add);
            }
        }
        all.sort(Comparator.comparingLong(Cleaning::epochDay));
        return withDays(days, today, all);
    }

    private FoulingHistory learnFrom(SteadyState window) {
        boolean apart = learning.isEmpty()
                || !window.from()
                        .isBefore(learning.get(learning.size() - 1).from().plus(settings.windowsApart()));
        boolean speaks = model.sighting(window.measured(), window.noise()).isAvailable();
        if (!apart || !speaks) {
            return this;
        }
        List<SteadyState> more = new ArrayList<>(learning);
        more.add(window);
        boolean longEnough = !window.to().isBefore(more.get(0).from().plus(settings.learningSpan()));
        boolean enough = longEnough && more.size() >= settings.leastLearningWindows()
                || more.size() >= FoulingSettings.MOST_LEARNING_WINDOWS;
        FoulingHistory waiting = with(model, Optional.empty(), more);
        return enough
                ? CleanLearning.learn(
                                model, more.stream().map(SteadyState::window).toList())
                        .fold(learnt -> with(learnt, Optional.of(window.to()), List.of()), gap -> waiting)
                : waiting;
    }

    private FoulingHistory with(CleanModel newModel, Optional<Instant> newLearntAt, List<SteadyState> newLearning) {
        return new FoulingHistory(
                settings, newModel, newLearntAt, newLearning, days, today, cleanings, cleanedOn, takenUntil);
    }

    private FoulingHistory measure(SteadyState window) {
        long day = Math.floorDiv(window.to().getEpochSecond(), SECONDS_A_DAY);
        return fouling(window)
                .fold(
                        f -> {
                            FoulingHistory begun =
                                    today.isPresent() && today.get().epochDay() == day ? this : dayClosed();
                            FoulingDay so =
                                    begun.today.orElse(FoulingDay.empty(day)).with(f, middle(window));
                            return begun.withDays(begun.days, Optional.of(so), begun.cleanings);
                        },
                        gap -> this);
    }

    private static double middle(SteadyState window) {
        return (window.from().getEpochSecond() + window.to().getEpochSecond()) / 2.0;
    }

    private FoulingHistory dayClosed() {
        if (today.isEmpty() || today.get().windows() < settings.leastWindowsPerDay()) {
            return withDays(days, Optional.empty(), cleanings);
        }
        List<FoulingDay> more = new ArrayList<>(days);
        more.add(today.get());
        List<FoulingDay> kept = more.subList(Math.max(0, more.size() - settings.mostDays()), more.size());
        FoulingHistory closed = withDays(kept, Optional.empty(), cleanings).withWrittenCleanings();
        List<Cleaning> found = new ArrayList<>(closed.cleanings);
        Cleaning.find(closed.daysSinceCleaning(), model).ifPresent(found::add);
        return closed.withDays(kept, Optional.empty(), found);
    }

    private FoulingHistory withDays(
            List<FoulingDay> newDays, Optional<FoulingDay> newToday, List<Cleaning> newCleanings) {
        return new FoulingHistory(
                settings, model, learntAt, learning, newDays, newToday, newCleanings, cleanedOn, takenUntil);
    }
}
