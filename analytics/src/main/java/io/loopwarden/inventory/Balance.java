package io.loopwarden.inventory;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fluid.Coolant;
import java.util.List;
import java.util.Optional;

/**
 * Makes of a minute what the filter looks at: litres in the reservoir, with make-up put back and the ordinary loss taken out, how much
 * of it follows temperatures and pumps, and how far it can be trusted. For one thread.
 */
final class Balance {

    private static final double LITRES = 1000;
    private static final double REFERENCE_C = 35;
    private static final double TURNING = 0.02;
    /** Speed that moves by more within a minute, or between two, makes the reservoir swing. */
    private static final double MOVING = 0.04;

    private static final int SETTLING_MINUTES = 2;
    private static final int WARMING_MINUTES = 5;
    /** Pipes that nothing flows through cool where no sensor sees it: of the loop, for each root hour. */
    private static final double STAGNANT_PER_ROOT_H = 3e-3;
    /** Temperatures that are not known: 3 K of the loop. */
    private static final double UNKNOWN_TEMPERATURES = 1.2e-3;

    private final double loopL;
    private final double reservoirL;
    private final Coolant coolant;
    private final LeakSettings settings;
    private final double[] sensitivities = {1, 0, 0, 0};
    private boolean temperaturesKnown;
    private double speed = -1;
    private int unsettledMinutes;
    private boolean makeupKnown;
    private double makeupLastM3;
    private double offsetL;
    private double hours;
    private double observedL;
    private double noise;
    private double wander;
    private boolean running;
    private boolean pumpsMoved;
    private boolean madeUpUncounted;
    private double movedSpeedSquared;

    Balance(Nameplate nameplate, LeakSettings settings) {
        this.loopL = LITRES * nameplate.loopVolumeM3();
        this.reservoirL = LITRES * nameplate.reservoirVolumeM3();
        this.coolant = Coolant.of(nameplate.tcsCoolant());
        this.settings = settings;
    }

    /** Before anything is learnt: a good third to half of the loop at either temperature, pumps that move the level a little. */
    LoopFilter filter(double contentL) {
        return new LoopFilter(
                new double[] {contentL, 0.45, 0.45, 0}, new double[] {0.1 * reservoirL, 0.2, 0.2, 0.06 * reservoirL});
    }

    /**
     * @param passedHours since the minute before this one that was taken
     */
    void take(LoopMinute minute, double passedHours) {
        hours = passedHours;
        wander = square(settings.wanderPerRootH() * loopL) * hours;
        noise = 0;
        offsetL += settings.toleratedLossPerH() * loopL * hours;
        pumps(minute);
        temperatures(minute);
        makeUp(minute);
        Span level = minute.of(LoopPoint.LEVEL);
        observedL = reservoirL * level.mean() + offsetL;
    }

    private void pumps(LoopMinute minute) {
        double now = -1;
        double least = 0;
        for (int n = 1; n <= LoopPoint.MOST_PUMPS; n++) {
            Span s = minute.of(LoopPoint.speed(n));
            if (s.seen() && s.mean() > now) {
                now = s.mean();
                least = s.most() - s.least();
            }
        }
        Span flow = minute.of(LoopPoint.FLOW);
        boolean turning = now < 0 ? !flow.seen() || flow.mean() > 1e-4 : now > TURNING;
        double before = speed;
        pumpsMoved = now >= 0 && (least > MOVING || before >= 0 && Math.abs(now - before) > MOVING);
        movedSpeedSquared = before < 0 || now < 0 ? 0 : now * now - before * before;
        boolean started = turning && !running;
        running = turning;
        if (pumpsMoved) {
            unsettledMinutes = SETTLING_MINUTES;
        }
        if (started) {
            unsettledMinutes = WARMING_MINUTES;
        } else if (!pumpsMoved && unsettledMinutes > 0) {
            unsettledMinutes--;
        }
        if (now >= 0) {
            speed = now;
            sensitivities[3] = -now * now;
        }
        if (!running) {
            wander += square(STAGNANT_PER_ROOT_H * loopL) * hours;
        }
    }

    private void temperatures(LoopMinute minute) {
        Span supply = minute.of(LoopPoint.SUPPLY_TEMPERATURE);
        Span back = minute.of(LoopPoint.RETURN_TEMPERATURE);
        boolean seen = supply.seen() && back.seen();
        if (seen && (running || !temperaturesKnown)) {
            noise += square(0.3 * follow(1, supply)) + square(0.3 * follow(2, back));
            temperaturesKnown = true;
        } else if (!seen) {
            wander += square(UNKNOWN_TEMPERATURES * loopL) * Math.min(1, hours);
        }
    }

    /** Growth of the whole loop at that temperature, litres; how far it moved since the minute before. */
    private double follow(int state, Span temperature) {
        double now = Expansion.volumeM3(coolant, loopL, REFERENCE_C, temperature.mean())
                .fold(v -> v, gap -> sensitivities[state]);
        double moved = temperaturesKnown ? now - sensitivities[state] : 0;
        sensitivities[state] = now;
        return moved;
    }

    private void makeUp(LoopMinute minute) {
        Span volume = minute.of(LoopPoint.MAKEUP_VOLUME);
        madeUpUncounted = false;
        if (volume.seen()) {
            double added = LITRES * (volume.last() - makeupLastM3);
            if (makeupKnown && added > 0 && added < reservoirL) {
                offsetL -= added;
                noise += square(0.1 + 0.02 * added);
            }
            makeupKnown = true;
            makeupLastM3 = volume.last();
        } else {
            madeUpUncounted = minute.of(LoopPoint.MAKEUP_RUNNING).most() > 0.5;
        }
    }

    double offsetL() {
        return offsetL;
    }

    Optional<Double> makeupM3() {
        return makeupKnown ? Optional.of(makeupLastM3) : Optional.empty();
    }

    double speed() {
        return speed;
    }

    void restore(LeakMemory memory, List<Double> sensitivitiesThen) {
        offsetL = memory.offsetL();
        makeupKnown = memory.makeupM3().isPresent();
        makeupLastM3 = memory.makeupM3().orElse(0.0);
        speed = memory.speed();
        running = speed > TURNING;
        for (int i = 0; i < sensitivities.length; i++) {
            sensitivities[i] = sensitivitiesThen.get(i);
        }
        temperaturesKnown = true;
    }

    /** Somebody put in or took out so much, as written down: it is put back like make-up. */
    void explain(double addedL, double toleranceL) {
        offsetL -= addedL;
        wander += toleranceL * toleranceL;
    }

    double hours() {
        return hours;
    }

    double observedL() {
        return observedL;
    }

    /** Variance of the observation beside that of the level sensor. */
    double noise() {
        return noise;
    }

    double wander() {
        return wander;
    }

    double[] sensitivities() {
        return sensitivities;
    }

    boolean running() {
        return running;
    }

    boolean temperaturesKnown() {
        return temperaturesKnown;
    }

    boolean pumpsMoved() {
        return pumpsMoved;
    }

    double movedSpeedSquared() {
        return movedSpeedSquared;
    }

    boolean settled() {
        return unsettledMinutes == 0;
    }

    /** Make-up ran and nobody counts how much. */
    boolean madeUpUncounted() {
        return madeUpUncounted;
    }

    double reservoirL() {
        return reservoirL;
    }

    double loopL() {
        return loopL;
    }

    private static double square(double x) {
        return x * x;
    }
}
