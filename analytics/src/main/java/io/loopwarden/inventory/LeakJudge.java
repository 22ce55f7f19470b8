package io.loopwarden.inventory;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.maintenance.MaintenanceLog;
import java.time.Instant;
import java.util.Optional;

/**
 * What is thought of one loop's containment, minute by minute, and second by second where the level comes that often. Time is that of
 * the samples. For one thread.
 */
public final class LeakJudge {

    private static final double HOURS_A_SECOND = 1.0 / 3600;
    private static final double OUTLIER = 5;
    private static final double CLIP = 6;
    private static final double SCALE_LEARNING = 1.0 / 720;
    private static final double LONGEST_GAP_H = 6;
    /** A burst's test has ten seconds of its own: see {@link LossTests#limit}. */
    private static final double BURST_AGE_H = 10.0 / 3600;

    private static final double SLOSH_SHARE = 0.1;
    /** Beyond, the reservoir is empty or full and its level says nothing. */
    private static final double LEAST_LEVEL = 0.01;

    private static final double MOST_LEVEL = 0.98;
    private static final double REFERENCE_PRESSURE_PA = 100e3;
    private static final int CALM_SECONDS = 90;
    /** A test at its limit makes a loss twenty times as likely as none. */
    private static final double CALLED_LOG_ODDS = Math.log(20);

    private static final double LEAST_FLOW_RATIO = 0.2;
    private static final int LEVEL_MINUTES = 15;
    private static final int ANY_MINUTES = 60;

    private final LeakSettings settings;
    private final Balance balance;
    private final LevelSensor sensor;
    private final BurstTest burst = new BurstTest();
    private final FlowBurst flowBurst;
    private final double ratedFlowM3PerS;
    private final LossTests tests;
    private final Witnesses witnesses;
    private final Explained explained;
    private final Track track;
    private LoopFilter filter;
    private double scale = 1;
    private boolean held;
    private double heldSign;
    private boolean anchorNext;
    private long endS = Long.MIN_VALUE;
    private long burstFromS = Long.MIN_VALUE;
    private int minutes;
    private int levelMinutes;
    private long levelSeenS = Long.MIN_VALUE;
    private double contentL;
    private double levelRatio;
    private double contentDeviationL;
    private Episode episode;
    private double lastGainL;
    private long lastGainS = Long.MIN_VALUE;
    private LeakSuspicion current;

    public LeakJudge(Nameplate nameplate, LeakSettings settings) {
        this.settings = settings;
        balance = new Balance(nameplate, settings);
        sensor = new LevelSensor(settings.levelNoiseRatio());
        tests = new LossTests(settings, balance.reservoirL(), 0.0005);
        witnesses = new Witnesses(nameplate, Coolant.of(nameplate.tcsCoolant()), balance.loopL(), settings);
        flowBurst = new FlowBurst(settings.falseBurstYears());
        ratedFlowM3PerS = nameplate.ratedTcsFlowM3PerS();
        explained = new Explained();
        track = new Track();
    }

    /** What people wrote of the unit, whenever that changes. */
    public void accept(MaintenanceLog log) {
        explained.accept(log);
        if (filter != null && endS != Long.MIN_VALUE) {
            afterwards();
        }
        current = null;
    }

    /** An entry about a time that was judged already. */
    private void afterwards() {
        for (Explained.Past past : explained.takePast(endS)) {
            balance.explain(past.addedL(), 0);
            anchorNext = true;
            tests.clear();
            boolean about = episode != null && episode.onsetS() >= past.fromS() && episode.onsetS() <= past.untilS();
            boolean all = about
                    && past.drain()
                    && (!past.amountKnown() || episode.lostL() + past.addedL() <= past.toleranceL());
            if (all) {
                episode = null;
            }
        }
    }

    /** Takes one value of the level as it comes, and calls a burst as soon as it is certain enough. */
    public void level(long second, double ratio) {
        burst.accept(second, balance.reservoirL() * ratio);
        if (!watchesSecond(second) || sensor.stuck()) {
            return;
        }
        BurstTest.Result r = burst.look(second, burstFromS, balance.reservoirL() * sensor.noise());
        double limit = LossTests.limit(settings.falseBurstYears(), BURST_AGE_H);
        double half = 0.5 * r.z() * r.z();
        if (r.z() > 0 && half >= limit && 0.5 * r.stepZ() * r.stepZ() <= half + 3) {
            call(second, r.ageS(), half - limit, 3600 * r.rateLPerS(), 3600 * r.rateUncertainty());
        }
    }

    /** Takes one value of both flow meters as they come. */
    public void flows(long second, double supplyM3PerS, double returnM3PerS) {
        FlowImbalance meters = witnesses.flow();
        if (!watchesSecond(second) || !meters.learnt() || supplyM3PerS < LEAST_FLOW_RATIO * ratedFlowM3PerS) {
            flowBurst.reset();
            return;
        }
        if (flowBurst.accept(meters.beyondUsual(supplyM3PerS, returnM3PerS), supplyM3PerS)) {
            call(second, flowBurst.sinceS(), 0, flowBurst.rateLPerH(), flowBurst.rateUncertaintyLPerH());
        }
    }

    private boolean watchesSecond(long second) {
        return filter != null && second > burstFromS && !explained.covers(second);
    }

    private void call(long second, double ageS, double beyond, double rateLPerH, double uncertaintyLPerH) {
        if (episode != null && !episode.stopped()) {
            return;
        }
        episode = new Episode(
                second - Math.round(ageS),
                ageS * HOURS_A_SECOND,
                true,
                beyond + CALLED_LOG_ODDS,
                contentL - rateLPerH * ageS * HOURS_A_SECOND,
                rateLPerH,
                uncertaintyLPerH);
        current = null;
    }

    public void accept(LoopMinute minute) {
        double hours = endS == Long.MIN_VALUE
                ? LoopMinute.SECONDS * HOURS_A_SECOND
                : Math.max(0, minute.endS() - endS) * HOURS_A_SECOND;
        endS = minute.endS();
        minutes++;
        current = null;
        Span level = minute.of(LoopPoint.LEVEL);
        sensor.accept(minute.levels());
        if (level.seen()) {
            levelRatio = level.mean();
            levelSeenS = endS;
            levelMinutes++;
        }
        balance.take(minute, hours);
        if (balance.pumpsMoved() || balance.madeUpUncounted() || burstFromS == Long.MAX_VALUE) {
            burstFromS = endS + CALM_SECONDS - LoopMinute.SECONDS;
        }
        Explained.Step step = explained.step(endS - LoopMinute.SECONDS, endS);
        balance.explain(step.addedL(), step.toleranceL());
        anchorNext |= step.unknownAmount() || balance.madeUpUncounted() || hours > LONGEST_GAP_H;
        observe(minute, level, hours, step.inside());
        witnesses.accept(minute, balance, episode != null || scale > 2);
        track.accept(
                endS,
                contentL,
                balance.reservoirL() * levelRatio,
                minute.of(LoopPoint.RETURN_PRESSURE),
                balance,
                witnesses,
                filter != null);
        decide();
    }

    private void observe(LoopMinute minute, Span level, double hours, boolean inside) {
        double driver = hours * witnesses.crossDriver(minute, REFERENCE_PRESSURE_PA);
        if (filter == null) {
            if (level.seen() && balance.temperaturesKnown()) {
                begin();
            }
            return;
        }
        double moved = SLOSH_SHARE * filter.state(3) * balance.movedSpeedSquared();
        filter.predict(balance.wander() + moved * moved, 1e-4 / 24 * hours);
        double reach = 4 * sensor.noise();
        boolean inRange = level.seen()
                && level.mean() > Math.max(LEAST_LEVEL, reach)
                && level.mean() < Math.min(MOST_LEVEL, 1 - reach);
        boolean usable = inRange && balance.settled() && !inside && !sensor.stuck() && !sensor.repeats();
        if (!usable) {
            tests.pass(hours, driver);
            return;
        }
        double[] h = balance.sensitivities();
        if (anchorNext) {
            anchorNext = false;
            filter.anchor(balance.observedL() - learnt(h), 0.1 * balance.reservoirL());
        }
        double floor = 2e-5 * balance.loopL();
        double reservoir2 = balance.reservoirL() * balance.reservoirL();
        double noise = reservoir2 * sensor.presentVariance() / level.count() + balance.noise() + floor * floor;
        filter.look(balance.observedL(), h, noise, episode != null);
        double variance = filter.variance() * Math.max(1, scale);
        double z = filter.innovation() / Math.sqrt(variance);
        if (Math.abs(z) > OUTLIER && !(held && heldSign == Math.signum(z))) {
            held = true;
            heldSign = Math.signum(z);
            tests.pass(hours, driver);
            return;
        }
        if (held && z > OUTLIER) {
            gain(h);
            filter.look(balance.observedL(), h, noise, true);
            variance = filter.variance() * Math.max(1, scale);
            z = filter.innovation() / Math.sqrt(variance);
        }
        held = held && Math.abs(z) > OUTLIER;
        if (episode == null) {
            scale += SCALE_LEARNING * (Math.min(9, z * z) - scale);
        }
        double share = episode == null ? Math.min(1, CLIP / Math.abs(z)) : 1;
        double[] gain = filter.gain();
        for (int i = 0; i < gain.length; i++) {
            gain[i] *= share;
        }
        tests.accept(hours, driver, h, gain, filter.innovation(), variance);
        filter.learn();
        contentL = episode == null ? filter.state(LoopFilter.CONTENT) : balance.observedL() - learnt(h);
        contentDeviationL = Math.sqrt(noise);
        if (episode != null) {
            boolean before = episode.stopped();
            episode.accept(endS, hours, contentL, contentDeviationL);
            if (episode.stopped() && !before) {
                // another loss is looked for from here on
                tests.clear();
            }
        }
    }

    /** Coolant came in that nothing counts: the content is found anew. */
    private void gain(double[] h) {
        double before = filter.state(LoopFilter.CONTENT);
        double now = balance.observedL() - learnt(h);
        lastGainL = now - before;
        lastGainS = endS;
        filter.anchor(now, 0.1 * balance.reservoirL());
        if (episode != null) {
            episode.explained(-lastGainL);
        }
    }

    private double learnt(double[] h) {
        double sum = 0;
        for (int i = 1; i < LoopFilter.STATES; i++) {
            sum += h[i] * filter.state(i);
        }
        return sum;
    }

    private void begin() {
        LoopFilter fresh = balance.filter(0);
        filter = fresh;
        fresh.anchor(balance.observedL() - learnt(balance.sensitivities()), 0.1 * balance.reservoirL());
        contentL = fresh.state(LoopFilter.CONTENT);
    }

    private void decide() {
        if (filter == null) {
            return;
        }
        if ((episode == null || episode.stopped()) && tests.signals()) {
            LossTests.Finding f = tests.finding();
            if (!f.jumpBetter() && f.margin() > 0) {
                episode = new Episode(
                        endS - Math.round(3600 * f.ageH()),
                        f.ageH(),
                        false,
                        f.margin() + CALLED_LOG_ODDS,
                        balance.observedL() - learnt(balance.sensitivities()),
                        f.rateLPerH(),
                        f.rateUncertaintyLPerH());
            }
        }
        if (episode != null && episode.stopped() && endS - episode.stoppedS() > 86400) {
            episode = null;
            tests.clear();
        }
    }

    public LeakMemory memory() {
        if (endS == Long.MIN_VALUE) {
            return LeakMemory.EMPTY;
        }
        return new LeakMemory(
                endS,
                Optional.ofNullable(filter).map(f -> f.memory(balance.sensitivities(), scale)),
                balance.offsetL(),
                balance.makeupM3(),
                sensor.learntNoiseRatio(),
                sensor.stepRatio(),
                balance.speed(),
                witnesses.flow().memory(),
                witnesses.pressure().memory(),
                Optional.ofNullable(episode).map(Episode::memory),
                explained.memory());
    }

    /** Goes on from before a restart: what went away meanwhile is a loss like any other. */
    public void restore(LeakMemory memory) {
        if (memory.endS() == 0) {
            return;
        }
        endS = memory.endS();
        memory.filter().ifPresent(f -> {
            filter = LoopFilter.of(f);
            scale = f.scale();
            balance.restore(memory, f.sensitivities());
            contentL = filter.state(LoopFilter.CONTENT);
        });
        sensor.restore(memory.levelNoiseRatio(), memory.levelStepRatio());
        witnesses.flow().restore(memory.flow());
        witnesses.pressure().restore(memory.pressure());
        episode = memory.loss().map(Episode::of).orElse(null);
        explained.restore(memory.applied());
        burstFromS = Long.MAX_VALUE;
    }

    /** End of the last minute taken; empty before the first. */
    public Optional<Instant> at() {
        return endS == Long.MIN_VALUE ? Optional.empty() : Optional.of(Instant.ofEpochSecond(endS));
    }

    /** A leak is called; cheaper than asking for all of the suspicion. */
    public boolean called() {
        boolean possible = episode != null || witnesses.flow().signals() || tests.crossSignals();
        return possible && suspicion().map(LeakSuspicion::called).orElse(false);
    }

    /** Empty within the first quarter of an hour of a level, or the first hour without one. */
    public Optional<LeakSuspicion> suspicion() {
        if (levelMinutes < LEVEL_MINUTES && minutes < ANY_MINUTES) {
            return Optional.empty();
        }
        if (current == null) {
            current = Fusion.of(view(), settings);
        }
        return Optional.of(current);
    }

    private Fusion.View view() {
        return new Fusion.View(
                Instant.ofEpochSecond(endS),
                tests.finding(),
                Optional.ofNullable(episode),
                sensor,
                levelSeenS == Long.MIN_VALUE ? -1 : endS - levelSeenS,
                levelRatio,
                balance,
                contentL,
                contentDeviationL,
                scale,
                witnesses,
                track,
                explained,
                lastGainS == Long.MIN_VALUE ? -1 : endS - lastGainS,
                lastGainL,
                levelMinutes);
    }
}
