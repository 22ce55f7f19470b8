package io.loopwarden.service;

import io.loopwarden.alarm.AlarmState;
import io.loopwarden.collector.ConnectionStatus;
import io.loopwarden.collector.IntakeCounters;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.live.LivePush;
import io.loopwarden.oncall.Dispatcher;
import io.loopwarden.samplelog.LogStatus;
import io.loopwarden.spool.SpoolStatus;
import io.micrometer.core.instrument.FunctionCounter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.TimeGauge;
import jakarta.enterprise.context.ApplicationScoped;
import java.time.Clock;
import java.time.Duration;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.function.ToDoubleFunction;
import java.util.function.ToLongFunction;

/** What the service says of itself under /q/metrics; read from counters that are kept anyway. */
@ApplicationScoped
public class Metrics {

    private final LoopwardenService service;
    private final MeterRegistry registry;
    private final Clock clock;

    Metrics(LoopwardenService service, MeterRegistry registry, Clock clock) {
        this.service = service;
        this.registry = registry;
        this.clock = clock;
    }

    void register(Alarms alarms) {
        for (AlarmState state : AlarmState.values()) {
            if (state != AlarmState.NORMAL) {
                Gauge.builder(
                                "loopwarden.alarms",
                                alarms,
                                a -> a.desk().snapshot().alarms().values().stream()
                                        .filter(alarm -> alarm.state() == state)
                                        .count())
                        .description("alarms by state of IEC 62682")
                        .tag("state", state.words())
                        .register(registry);
            }
        }
        Gauge.builder(
                        "loopwarden.incidents.open",
                        alarms,
                        a -> a.desk().snapshot().open().size())
                .description("incidents that are not over")
                .register(registry);
        for (Dispatcher.ChannelState channel : alarms.dispatcher().states()) {
            messages(alarms, channel.name(), "delivered", Dispatcher.ChannelState::delivered);
            messages(alarms, channel.name(), "failed", Dispatcher.ChannelState::failed);
        }
    }

    private void messages(
            Alarms alarms, String channel, String outcome, ToDoubleFunction<Dispatcher.ChannelState> count) {
        FunctionCounter.builder(
                        "loopwarden.messages",
                        alarms,
                        a -> a.dispatcher().states().stream()
                                .filter(state -> state.name().equals(channel))
                                .mapToDouble(count)
                                .sum())
                .description("attempts to deliver a message, by channel and outcome")
                .tag("channel", channel)
                .tag("outcome", outcome)
                .register(registry);
    }

    void register(LivePush push) {
        service.lines().forEach(this::register);
        gauge("loopwarden.log.queued.samples", "samples waiting to be stored", LogStatus::queuedSamples);
        spool("loopwarden.spool.samples", "samples waiting on disk for the store", SpoolStatus::heldSamples);
        spool("loopwarden.spool.bytes", "what they take on disk", SpoolStatus::heldBytes);
        spool("loopwarden.spool.damages", "damaged places stepped over", SpoolStatus::damages);
        spool("loopwarden.spool.lost.samples", "samples in damaged places", SpoolStatus::lostSamples);
        count("loopwarden.store.samples", "stored", log -> log.counts().stored());
        count("loopwarden.store.samples", "duplicate", log -> log.counts().duplicate());
        count("loopwarden.store.samples", "conflict", log -> log.counts().conflict());
        count("loopwarden.store.samples", "late", log -> log.counts().late());
        count("loopwarden.store.failures", "all", LogStatus::failures);
        TimeGauge.builder(
                        "loopwarden.store.write",
                        service,
                        TimeUnit.NANOSECONDS,
                        s -> s.logStatus().lastWrite().toNanos())
                .description("how long the last batch took to commit")
                .register(registry);
        Gauge.builder("loopwarden.live.readers", push, LivePush::readerCount)
                .description("open pages")
                .register(registry);
        FunctionCounter.builder("loopwarden.live.dropped", push, LivePush::droppedCount)
                .description("pages dropped because they could not keep up")
                .register(registry);
        FunctionCounter.builder(
                        "loopwarden.watch.faults", service, s -> s.fleet().faultCount())
                .description("evaluations that failed")
                .register(registry);
    }

    /** Counts a connection that came into service; one that was opened anew goes on under its name. */
    public void register(Line line) {
        samples(line, "good", IntakeCounters::good);
        samples(line, "uncertain", IntakeCounters::uncertain);
        samples(line, "bad", IntakeCounters::bad);
        for (RejectReason reason : RejectReason.values()) {
            samples(
                    line,
                    "rejected-" + reason.name().toLowerCase(Locale.ROOT).replace('_', '-'),
                    counters -> counters.rejected().getOrDefault(reason, 0L));
        }
        String name = line.connection().name();
        TimeGauge.builder(
                        "loopwarden.connection.lag",
                        service,
                        TimeUnit.MILLISECONDS,
                        s -> s.line(name).map(this::lagMs).orElse(Double.NaN))
                .description("time since anything came over the connection; absent before the first")
                .tag("connection", line.connection().name())
                .tag("protocol", line.connection().protocol())
                .register(registry);
    }

    private double lagMs(Line line) {
        ConnectionStatus status = line.collector().status();
        return status.lastDataAt()
                .map(at -> (double) Duration.between(at, clock.instant()).toMillis())
                .orElse(Double.NaN);
    }

    private void samples(Line line, String outcome, ToLongFunction<IntakeCounters> count) {
        String name = line.connection().name();
        FunctionCounter.builder(
                        "loopwarden.samples",
                        service,
                        s -> s.line(name)
                                .map(now ->
                                        (double) count.applyAsLong(now.intake().counters()))
                                .orElse(0.0))
                .description("samples by protocol and outcome")
                .tag("connection", line.connection().name())
                .tag("protocol", line.connection().protocol())
                .tag("outcome", outcome)
                .register(registry);
    }

    private void gauge(String name, String description, ToDoubleFunction<LogStatus> value) {
        Gauge.builder(name, service, s -> value.applyAsDouble(s.logStatus()))
                .description(description)
                .register(registry);
    }

    private void spool(String name, String description, ToDoubleFunction<SpoolStatus> value) {
        Gauge.builder(name, service, s -> value.applyAsDouble(s.spoolStatus()))
                .description(description)
                .register(registry);
    }

    private void count(String name, String outcome, ToDoubleFunction<LogStatus> value) {
        FunctionCounter.builder(name, service, s -> value.applyAsDouble(s.logStatus()))
                .tag("outcome", outcome)
                .register(registry);
    }
}
