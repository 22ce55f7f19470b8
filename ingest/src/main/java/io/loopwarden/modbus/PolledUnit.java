package io.loopwarden.modbus;

import io.loopwarden.collector.Connection.ServedUnit;
import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.fleet.UnitId;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * What is known about one unit behind a connection: its requests, and which of them it refuses or leaves unanswered. Used by the
 * collector's worker only.
 */
final class PolledUnit {

    private record Refusal(int code, Instant askAgainAt) {}

    private final UnitId id;
    private final int number;
    private final String connection;
    private final RejectLog rejects;
    private final Duration refusedRetry;
    private final List<Register> registers;
    private final List<Block> blocks;
    private final Map<Block, Refusal> refusals = new HashMap<>();
    private UnitRound round;
    private int silences;
    private Instant askAgainAt = Instant.MIN;

    PolledUnit(ServedUnit served, String connection, ModbusSettings settings, RejectLog rejects) {
        this.id = served.unit();
        this.number = ModbusSettings.unitNumber(served.nameAtSource());
        this.connection = connection;
        this.rejects = rejects;
        this.refusedRetry = settings.refusedRetry();
        this.registers = served.map().entries().stream()
                .map(entry -> new Register(entry.sourceFor(served.nameAtSource()), entry.register()))
                .toList();
        this.blocks = new ArrayList<>(BlockPlan.of(registers, settings));
    }

    UnitId id() {
        return id;
    }

    int number() {
        return number;
    }

    /** The round that is under way, or null. */
    UnitRound round() {
        return round;
    }

    void round(UnitRound begun) {
        round = begun;
    }

    /** Whether it is time to ask: no round is under way, and a silent unit has been left alone for its back-off. */
    boolean isDue(Instant now) {
        return round == null && !now.isBefore(askAgainAt);
    }

    boolean isSilent() {
        return silences > 0;
    }

    void answered() {
        silences = 0;
        askAgainAt = Instant.MIN;
    }

    /** @return how many rounds in a row went without an answer */
    int silent() {
        return ++silences;
    }

    void leaveAloneUntil(Instant when) {
        askAgainAt = when;
    }

    /** The requests of the next round; what the unit refuses is asked for again only now and then. */
    List<Block> dueBlocks(Instant now) {
        return blocks.stream().filter(block -> !isRefused(block, now)).toList();
    }

    /** Bad readings for what the unit refuses and is not asked for now. */
    List<RawReading> refusedReadings(Instant now) {
        List<RawReading> bad = new ArrayList<>();
        for (Block block : blocks) {
            if (isRefused(block, now)) {
                int code = refusals.get(block).code();
                block.registers().forEach(register -> bad.add(bad(register, now, code)));
            }
        }
        return bad;
    }

    /** Bad readings for every point, for when nothing can be asked. */
    List<RawReading> allBad(Instant now) {
        return registers.stream().map(register -> bad(register, now, 0)).toList();
    }

    /** From now on the parts are asked for in place of the whole. */
    void replace(Block whole, List<Block> parts) {
        int at = blocks.indexOf(whole);
        blocks.remove(at);
        blocks.addAll(at, parts);
    }

    /** A value that the unit does not have; counted when first met, not each time. */
    void refused(Block block, Answer.Refused refused) {
        Refusal before =
                refusals.put(block, new Refusal(refused.code(), refused.at().plus(refusedRetry)));
        if (before == null) {
            String detail = "exception code " + refused.code() + " for '"
                    + block.registers().get(0).source() + "': no such address there; correct the point map";
            reject(RejectReason.UNKNOWN_TAG, block, detail, new byte[0]);
        }
    }

    void accepted(Block block) {
        refusals.remove(block);
    }

    int refusedCount() {
        return refusals.size();
    }

    void reject(RejectReason reason, Block block, String detail, byte[] payload) {
        rejects.reject(
                connection,
                reason,
                id + " (Modbus unit " + number + "), " + block.table() + " " + block.address() + " +" + block.quantity()
                        + ": " + detail,
                payload);
    }

    private boolean isRefused(Block block, Instant now) {
        Refusal refusal = refusals.get(block);
        return refusal != null && now.isBefore(refusal.askAgainAt());
    }

    private static RawReading bad(Register register, Instant at, int code) {
        return new RawReading(register.source(), at, RawValue.NONE, new Quality(Level.BAD, code));
    }
}
