package io.loopwarden.modbus;

import io.loopwarden.collector.RawReading;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.Quality.Level;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.modbus.Answer.Data;
import io.loopwarden.modbus.Answer.Malformed;
import io.loopwarden.modbus.Answer.Refused;
import io.loopwarden.modbus.Answer.Silent;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executor;

/** Reads all blocks of one unit once, one request at a time; a block that is refused for its range is read again in parts. */
final class UnitRound {

    /** How a round ended. */
    enum End {
        /** Every block was answered, with data or a refusal. */
        ANSWERED,
        /** The device did not answer, and its remaining blocks were not asked for. */
        SILENT,
        /** The connection is gone. */
        BROKEN
    }

    private final ModbusLink link;
    private final PolledUnit unit;
    private final Clock clock;
    private final Executor worker;
    private final Deque<Block> todo;
    private final List<RawReading> readings = new ArrayList<>();
    private final CompletableFuture<End> done = new CompletableFuture<>();
    private Optional<Instant> lastAnswerAt = Optional.empty();

    UnitRound(ModbusLink link, PolledUnit unit, List<Block> blocks, Clock clock, Executor worker) {
        this.link = link;
        this.unit = unit;
        this.clock = clock;
        this.worker = worker;
        this.todo = new ArrayDeque<>(blocks);
    }

    /** Completes in the worker. */
    CompletableFuture<End> run() {
        next();
        return done;
    }

    /** What was read, or marked bad, so far. */
    List<RawReading> readings() {
        return readings;
    }

    Optional<Instant> lastAnswerAt() {
        return lastAnswerAt;
    }

    private void next() {
        Block block = todo.poll();
        if (block == null) {
            done.complete(End.ANSWERED);
            return;
        }
        link.read(unit.number(), block)
                .whenCompleteAsync((answer, failure) -> takeGuarded(block, answer, failure), worker);
    }

    /** A round must end whatever happens, or its unit would never be asked again. */
    private void takeGuarded(Block block, Answer answer, Throwable failure) {
        try {
            if (failure == null) {
                take(block, answer);
            } else {
                done.completeExceptionally(failure);
            }
        } catch (RuntimeException bug) {
            done.completeExceptionally(bug);
        }
    }

    private void take(Block block, Answer answer) {
        if (answer instanceof Data data) {
            lastAnswerAt = Optional.of(data.at());
            unit.accepted(block);
            block.registers().forEach(register -> readings.add(decode(block, register, data)));
            next();
        } else if (answer instanceof Refused refused) {
            lastAnswerAt = Optional.of(refused.at());
            refused(block, refused);
        } else if (answer instanceof Malformed malformed) {
            lastAnswerAt = Optional.of(malformed.at());
            unit.reject(RejectReason.MALFORMED, block, malformed.why(), malformed.bytes());
            markBad(block, malformed.at(), 0);
            next();
        } else if (answer instanceof Silent) {
            endWithout(block, 0, End.SILENT);
        } else {
            done.complete(End.BROKEN);
        }
    }

    private void refused(Block block, Refused refused) {
        if (refused.isAboutDevice()) {
            endWithout(block, refused.code(), End.SILENT);
            return;
        }
        if (refused.isAboutRange() && block.canSplit()) {
            List<Block> parts = block.split();
            unit.replace(block, parts);
            todo.addFirst(parts.get(1));
            todo.addFirst(parts.get(0));
        } else {
            if (refused.isAboutRange()) {
                unit.refused(block, refused);
            }
            markBad(block, refused.at(), refused.code());
        }
        next();
    }

    /** Marks this block and all that were not asked for. */
    private void endWithout(Block block, int code, End end) {
        Instant now = clock.instant();
        markBad(block, now, code);
        todo.forEach(left -> markBad(left, now, code));
        done.complete(end);
    }

    private RawReading decode(Block block, Register register, Data data) {
        RawValue value = RegisterCodec.decode(data.bytes(), block.address(), register.layout());
        if (value instanceof RawValue.None) {
            unit.reject(
                    RejectReason.NOT_A_NUMBER,
                    block,
                    "'" + register.source() + "' has no value",
                    raw(block, register, data));
            return bad(register, data.at(), 0);
        }
        return new RawReading(register.source(), data.at(), value, Quality.GOOD);
    }

    private static byte[] raw(Block block, Register register, Data data) {
        int from = 2 * (register.layout().address() - block.address());
        return Arrays.copyOfRange(
                data.bytes(), from, from + 2 * register.layout().type().registers());
    }

    private void markBad(Block block, Instant at, int code) {
        block.registers().forEach(register -> readings.add(bad(register, at, code)));
    }

    private static RawReading bad(Register register, Instant at, int code) {
        return new RawReading(register.source(), at, RawValue.NONE, new Quality(Level.BAD, code));
    }
}
