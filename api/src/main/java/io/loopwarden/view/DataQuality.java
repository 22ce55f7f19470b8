package io.loopwarden.view;

import static io.loopwarden.view.FigureView.hyphenated;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.collector.IntakeCounters;
import io.loopwarden.collector.RejectLog;
import io.loopwarden.samplelog.LogStatus;
import io.loopwarden.service.Line;
import io.loopwarden.spool.SpoolStatus;
import io.loopwarden.yaml.Fault;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** What comes in, what is refused, what is wrong in the fleet folder, how the store is doing. */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record DataQuality(
        List<ConnectionQuality> connections, List<Reject> rejects, List<FileFault> faults, StoreState store) {

    /** Counts are samples since start. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record ConnectionQuality(
            String name,
            String protocol,
            String endpoint,
            List<String> units,
            String state,
            Instant since,
            Instant lastDataAt,
            String detail,
            long accepted,
            long uncertain,
            long bad,
            long rejected,
            Map<String, Long> rejectedByReason) {}

    /** @param lastPayload beginning of the last refused payload: text, or hexadecimal where it is not printable */
    public record Reject(
            String connection, String reason, long count, Instant lastAt, String lastDetail, String lastPayload) {}

    public record FileFault(String file, int line, String field, String message) {}

    /**
     * @param spooledSamples waiting on disk until the store takes them
     * @param spoolDamages damaged places in the spool that were stepped over
     * @param error why the last attempt to store failed; empty when all is well
     */
    public record StoreState(
            String kind,
            int queueDepth,
            long lastWriteMs,
            long samplesStored,
            long duplicates,
            long conflicts,
            long late,
            long refusedScans,
            long failures,
            long spooledSamples,
            long spooledBytes,
            long spoolDamages,
            long spoolLostSamples,
            String error) {}

    public static DataQuality of(
            Collection<Line> lines,
            List<RejectLog.Entry> rejects,
            List<Fault> faults,
            String storeKind,
            LogStatus log,
            SpoolStatus spool) {
        return new DataQuality(
                lines.stream().map(DataQuality::connection).toList(),
                rejects.stream()
                        .map(entry -> new Reject(
                                entry.connection(),
                                hyphenated(entry.reason()),
                                entry.count(),
                                entry.lastAt(),
                                entry.lastDetail(),
                                entry.lastPayload()))
                        .toList(),
                faults.stream()
                        .map(fault -> new FileFault(fault.file(), fault.line(), fault.field(), fault.message()))
                        .toList(),
                new StoreState(
                        storeKind,
                        log.queuedSamples(),
                        log.lastWrite().toMillis(),
                        log.counts().stored(),
                        log.counts().duplicate(),
                        log.counts().conflict(),
                        log.counts().late(),
                        log.refusedScans(),
                        log.failures(),
                        spool.heldSamples(),
                        spool.heldBytes(),
                        spool.damages(),
                        spool.lostSamples(),
                        log.lastError().orElse("")));
    }

    private static ConnectionQuality connection(Line line) {
        ConnectionStatus status = line.collector().status();
        IntakeCounters counters = line.intake().counters();
        Map<String, Long> byReason = new TreeMap<>();
        counters.rejected().forEach((reason, count) -> byReason.put(hyphenated(reason), count));
        return new ConnectionQuality(
                status.connection(),
                status.protocol(),
                line.connection().endpoint().toString(),
                line.connection().units().stream()
                        .map(served -> served.unit().value())
                        .toList(),
                hyphenated(status.state()),
                status.since(),
                status.lastDataAt().orElse(null),
                status.detail(),
                counters.good(),
                counters.uncertain(),
                counters.bad(),
                byReason.values().stream().mapToLong(Long::longValue).sum(),
                byReason);
    }
}
