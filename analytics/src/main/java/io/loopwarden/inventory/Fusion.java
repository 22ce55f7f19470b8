package io.loopwarden.inventory;

import io.loopwarden.statistics.Computed;
import io.loopwarden.statistics.Computed.Reason;
import io.loopwarden.statistics.Estimate;
import io.loopwarden.statistics.SizePrior;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * One suspicion of all evidence: odds of each explanation against nothing, multiplied by what each source says. A source that is
 * missing multiplies by one. The level counts once: pressure only decides between a loss and a sensor that shows one, and of two wet
 * switches one counts.
 */
final class Fusion {

    private static final double M3_PER_S = 1e-3 / 3600;
    private static final double HOURS_A_YEAR = 8766;
    private static final double LITRE_M3 = 1e-3;
    /** Share of external losses that end at a switch; the rest goes where none is. */
    private static final double REACHES_SWITCH = 0.6;

    private static final double MOST_LOG_ODDS = 9;
    /** Litres that must have gone before a dry switch speaks against an external loss. */
    private static final double ENOUGH_FOR_SWITCH_L = 4;
    /** A leak that stops by itself is rare; a drain always does. */
    private static final double STOPS_BY_ITSELF = Math.log(0.03);
    /** Share of jumps of the level that are the sensor's. */
    private static final double JUMPS_BY_SENSOR = 0.3;

    private static final double NEVER = Double.NEGATIVE_INFINITY;

    private static final double BURST_L_PER_H = 100;
    private static final double CALLED_AT = 0.5;
    private static final double STALE_S = 300;

    /** What the judge knows at the end of a minute. */
    record View(
            Instant at,
            LossTests.Finding finding,
            Optional<Episode> episode,
            LevelSensor sensor,
            long levelAgeS,
            double levelRatio,
            Balance balance,
            double contentL,
            double contentDeviationL,
            double scale,
            Witnesses witnesses,
            Track track,
            Explained explained,
            long gainAgeS,
            double gainL,
            int levelMinutes) {

        boolean levelMissing() {
            return levelAgeS < 0 || levelAgeS > STALE_S;
        }

        double rateLPerH() {
            return episode.map(Episode::rateLPerH).orElse(finding.rateLPerH());
        }

        double lostL() {
            return episode.map(Episode::lostL).orElse(finding.rateLPerH() * finding.ageH());
        }
    }

    private final View view;
    private final LeakSettings settings;
    private final List<LeakEvidence> evidence = new ArrayList<>();

    private Fusion(View view, LeakSettings settings) {
        this.view = view;
        this.settings = settings;
    }

    static LeakSuspicion of(View view, LeakSettings settings) {
        return new Fusion(view, settings).fuse();
    }

    private LeakSuspicion fuse() {
        Map<LeakClass, Double> logOdds = logOdds();
        // nothing has log-odds 0
        double all = 0;
        for (double each : logOdds.values()) {
            all = SizePrior.sum(all, each);
        }
        Map<LeakClass, Double> shares = new EnumMap<>(LeakClass.class);
        double leak = 0;
        for (Map.Entry<LeakClass, Double> e : logOdds.entrySet()) {
            double share = Math.exp(e.getValue() - all);
            shares.put(e.getKey(), share);
            leak += e.getKey().isLeak() ? share : 0;
        }
        boolean goesOn = view.episode().map(e -> !e.stopped()).orElse(false);
        boolean beyond = goesOn
                || view.finding().crossMargin() > 0
                || view.witnesses().flow().signals() && view.episode().isEmpty();
        boolean called = beyond && leak >= CALLED_AT;
        evidence.sort(Comparator.comparingDouble((LeakEvidence e) -> -Math.abs(e.logOdds())));
        return new LeakSuspicion(
                view.at(),
                probability(Math.min(1, leak)),
                called,
                shares,
                content(),
                rate(),
                lost(),
                toLowLevel(called),
                visible(),
                evidence,
                view.track().plot());
    }

    private Map<LeakClass, Double> logOdds() {
        LossTests.Finding f = view.finding();
        double driftRarer = Math.log(settings.sensorDriftsPerYear() / settings.lossesPerYear());
        double jumpRarer = Math.log(settings.jumpsPerYear() / settings.lossesPerYear());
        double loss = f.loss();
        double cross = f.cross();
        double jump = f.jump();
        double drift = loss + driftRarer;
        if (view.episode().isPresent()) {
            Episode e = view.episode().get();
            if (e.stopped()) {
                jump = Math.max(jump, e.logOdds() + jumpRarer);
                loss = Math.max(loss, e.logOdds() + STOPS_BY_ITSELF);
                drift = Math.max(drift, e.logOdds() + driftRarer);
            } else {
                loss = Math.max(loss, e.logOdds());
                // a loss that goes on is no jump, though there may have been one too
                jump = Math.min(jump, loss + jumpRarer) + STOPS_BY_ITSELF;
            }
        }
        double prior = Math.log(LossTests.LONGEST_H / HOURS_A_YEAR);
        if (view.levelMissing() || view.levelMinutes() < 60) {
            loss = Math.max(loss, prior + Math.log(settings.lossesPerYear()));
            cross = Math.max(cross, prior + Math.log(settings.crossPerYear()));
        }
        level(f, clip(loss - prior - Math.log(settings.lossesPerYear())));
        double atRest = decay();
        double external = loss + flow() + switches() + atRest;
        double between = cross + conductivity() + atRest;
        double bySensor = -pressure();
        gains();
        boolean burst = view.rateLPerH() >= BURST_L_PER_H;
        boolean outward = view.witnesses().outward();
        Map<LeakClass, Double> odds = new EnumMap<>(LeakClass.class);
        odds.put(LeakClass.SEEP, burst ? NEVER : external);
        odds.put(LeakClass.BURST, burst ? external : NEVER);
        odds.put(LeakClass.INTO_FWS, outward ? between : NEVER);
        odds.put(LeakClass.FROM_FWS, outward ? NEVER : between);
        odds.put(LeakClass.SENSOR, SizePrior.sum(drift, Math.log(JUMPS_BY_SENSOR) + jump) + bySensor);
        odds.put(LeakClass.STAFF, Math.log(1 - JUMPS_BY_SENSOR) + jump);
        return odds;
    }

    private void level(LossTests.Finding f, double says) {
        if (view.levelMissing()) {
            add("level", 0, "The reservoir's level is missing: small losses cannot be seen.");
            return;
        }
        if (view.sensor().stuck()) {
            add(
                    "level",
                    0,
                    "The reservoir's level repeats its value, which its noise would not allow: it is stuck and counts as"
                            + " nothing.");
            return;
        }
        if (view.episode().isPresent()) {
            Episode e = view.episode().get();
            String tail = e.stopped() ? ", then stopped." : ", and goes on.";
            add(
                    "level",
                    says,
                    "Since " + Instant.ofEpochSecond(e.onsetS()) + " the loop lost " + Litres.of(e.lostL()) + " ± "
                            + Litres.of(Estimate.K95 * e.lostUncertaintyL())
                            + " that temperatures, pumps and make-up do not explain" + tail);
        } else if (f.crossMargin() > 0) {
            add(
                    "level",
                    says,
                    "The content follows the pressure difference between the loops, " + Litres.perHour(f.crossLPerH())
                            + " at 100 kPa.");
        } else {
            add(
                    "level",
                    Math.min(says, 0.0),
                    "Level, temperatures, pumps and make-up agree: a loss of " + Litres.perHour(f.visibleLPerH())
                            + " or more would be noticed within a day.");
        }
        double usual = settings.levelNoiseRatio();
        if (view.sensor().noise() > 2.5 * usual || view.scale() > 3) {
            add(
                    "level",
                    0,
                    "The level is noisier than usual ("
                            + Litres.percent(view.sensor().noise()) + " a value): certainty is lower.");
        }
    }

    private double pressure() {
        PressureWitness p = view.witnesses().pressure();
        double lost = view.lostL();
        if (!(lost > 0) || !p.learnt()) {
            return 0;
        }
        long since = view.episode()
                .map(Episode::onsetS)
                .orElse(view.at().getEpochSecond()
                        - Math.round(3600 * view.finding().ageH()));
        double[] moved = view.track().movedSince(since);
        if (moved.length == 0) {
            return 0;
        }
        double says = p.logOdds(moved[0], lost, moved[1]);
        if (Math.abs(says) > 0.5) {
            add(
                    "pressure",
                    says,
                    says > 0
                            ? "Static pressure fell with the level, so the coolant is gone, not only the reading."
                            : "Static pressure did not fall with the level: the sensor is doubtful.");
        }
        return says;
    }

    private double flow() {
        FlowImbalance f = view.witnesses().flow();
        double says = f.logOdds(view.rateLPerH());
        if (view.rateLPerH() <= 0 && f.signals()) {
            says = f.logOdds(Math.max(1, f.imbalanceLPerH()));
        }
        if (Math.abs(says) > 0.3) {
            add(
                    "flow",
                    says,
                    "Supply less return flow is " + Litres.perHour(f.imbalanceLPerH()) + " ± "
                            + Litres.perHour(Estimate.K95 * f.uncertaintyLPerH()) + " beyond what the meters always"
                            + " differ by.");
        }
        return says;
    }

    private double switches() {
        WetSwitch tray = view.witnesses().tray();
        WetSwitch rope = view.witnesses().rope();
        wiring("tray", tray);
        wiring("rope", rope);
        if (tray.wet() || rope.wet()) {
            double byChance = settings.falseWetsPerYear() / HOURS_A_YEAR * LossTests.LONGEST_H;
            double says = clip(Math.log(REACHES_SWITCH / byChance));
            add("wet switches", says, (tray.wet() ? "The tray" : "The rope") + " is wet, and stays so.");
            return says;
        }
        boolean dry = tray.dry() || rope.dry();
        if (dry && view.lostL() > ENOUGH_FOR_SWITCH_L) {
            double says = Math.log(1 - REACHES_SWITCH);
            add(
                    "wet switches",
                    says,
                    "Tray and rope are dry though " + Litres.of(view.lostL())
                            + " are gone: the coolant went elsewhere.");
            return says;
        }
        return 0;
    }

    private void wiring(String name, WetSwitch s) {
        if (s.fitted() && s.wiringSuspect()) {
            add(
                    "wet switches",
                    0,
                    "The " + name + " switch chatters or was never dry: look at its wiring; it counts as nothing.");
        }
    }

    private double decay() {
        PressureDecay d = view.witnesses().decay();
        double says = d.logOdds();
        if (d.decided()) {
            add(
                    "pressure at rest",
                    says,
                    says > 0
                            ? "With the pumps at rest static pressure falls as it does in a loop that leaks."
                            : "With the pumps at rest static pressure holds as it does in a tight loop.");
        }
        return d.decided() ? says : 0;
    }

    private double conductivity() {
        Drift d = view.witnesses().drift();
        double says = d.logOdds();
        if (says > 0) {
            add(
                    "conductivity",
                    says,
                    "Conductivity " + (d.rises() ? "rises" : "falls") + " as if other water came in.");
        }
        return says;
    }

    private void gains() {
        if (view.gainAgeS() >= 0 && view.gainAgeS() < 86400) {
            add(
                    "level",
                    0,
                    "A top-up of " + Litres.of(view.gainL()) + " was recognised "
                            + Litres.hours(view.gainAgeS() / 3600.0) + " ago.");
        }
        view.explained().latest(view.at().getEpochSecond()).ifPresent(s -> add("maintenance log", 0, s));
    }

    private void add(String source, double logOdds, String sentence) {
        evidence.add(new LeakEvidence(source, logOdds, sentence));
    }

    private static double clip(double logOdds) {
        return Math.max(-MOST_LOG_ODDS, Math.min(MOST_LOG_ODDS, logOdds));
    }

    private <T> Computed<T> noLevel() {
        if (view.levelAgeS() < 0) {
            return Computed.unavailable(
                    Reason.INPUT_MISSING,
                    LoopPoint.LEVEL.point() + " or a TCS temperature has never been received from this unit.");
        }
        return Computed.unavailable(
                Reason.INPUT_STALE,
                LoopPoint.LEVEL.point() + " last came " + Litres.hours(view.levelAgeS() / 3600.0) + " ago.");
    }

    private <T> Computed<T> stuck() {
        return Computed.unavailable(
                Reason.INPUT_IMPLAUSIBLE, LoopPoint.LEVEL.point() + " repeats its value: the sensor is stuck.");
    }

    private <T> Optional<Computed<T>> blind() {
        if (view.levelMissing()) {
            return Optional.of(noLevel());
        }
        return view.sensor().stuck() ? Optional.of(stuck()) : Optional.empty();
    }

    private Computed<Estimate> probability(double leak) {
        Witnesses w = view.witnesses();
        boolean any = !view.levelMissing()
                || view.episode().isPresent()
                || w.tray().fitted()
                || w.rope().fitted()
                || w.flow().learnt();
        return any ? Computed.of(new Estimate(leak, 0)) : noLevel();
    }

    private Computed<Estimate> content() {
        return this.<Estimate>blind()
                .orElseGet(() ->
                        Computed.of(new Estimate(LITRE_M3 * view.contentL(), LITRE_M3 * view.contentDeviationL())));
    }

    private Computed<Estimate> rate() {
        Optional<Computed<Estimate>> blind = blind();
        if (blind.isPresent()) {
            return blind.get();
        }
        if (view.episode().isPresent()) {
            Episode e = view.episode().get();
            return e.stopped()
                    ? Computed.of(new Estimate(0, M3_PER_S * e.rateUncertaintyLPerH()))
                    : Computed.of(new Estimate(M3_PER_S * e.rateLPerH(), M3_PER_S * e.rateUncertaintyLPerH()));
        }
        LossTests.Finding f = view.finding();
        if (f.crossMargin() > 0) {
            double driver = view.witnesses().meanDriver();
            return Computed.of(new Estimate(
                    M3_PER_S * f.crossLPerH() * driver, M3_PER_S * f.crossUncertaintyLPerH() * Math.abs(driver)));
        }
        double u = f.visibleLPerH() / 5;
        return u < 1e6
                ? Computed.of(new Estimate(0, M3_PER_S * u))
                : Computed.unavailable(Reason.BASELINE_MISSING, "The level has not been watched for long enough yet.");
    }

    private Computed<Estimate> lost() {
        return view.episode()
                .map(e -> Computed.of(new Estimate(LITRE_M3 * e.lostL(), LITRE_M3 * e.lostUncertaintyL())))
                .orElseGet(() -> this.<Estimate>blind().orElseGet(() -> Computed.of(new Estimate(0, 0))));
    }

    private Computed<Estimate> toLowLevel(boolean called) {
        Optional<Computed<Estimate>> blind = blind();
        if (blind.isPresent()) {
            return blind.get();
        }
        if (!called || !(view.rateLPerH() > 0) || view.episode().isEmpty()) {
            return Computed.unavailable(Reason.NOT_OBSERVABLE, "No loss is called, so no low level is in sight.");
        }
        double leftL = Math.max(0, view.levelRatio() - settings.lowLevelRatio())
                * view.balance().reservoirL();
        double seconds = 3600 * leftL / view.rateLPerH();
        double ratio = view.episode().get().rateUncertaintyLPerH() / view.rateLPerH();
        return Computed.of(new Estimate(seconds, seconds * ratio));
    }

    private Computed<Estimate> visible() {
        double lPerH = view.finding().visibleLPerH();
        return this.<Estimate>blind()
                .orElseGet(() -> lPerH < 1e6
                        ? Computed.of(new Estimate(M3_PER_S * lPerH, 0))
                        : Computed.unavailable(
                                Reason.BASELINE_MISSING, "The level has not been watched for long enough yet."));
    }
}
