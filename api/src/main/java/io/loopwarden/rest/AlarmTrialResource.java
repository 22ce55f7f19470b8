package io.loopwarden.rest;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.alarm.Definition;
import io.loopwarden.alarm.PointCondition;
import io.loopwarden.alarm.TestFire;
import io.loopwarden.alarmdesk.HistoryTrial;
import io.loopwarden.alarmfile.AlarmDefinitions;
import io.loopwarden.alarmfile.AlarmsFile;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Unit;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.service.Alarms;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.view.DefinitionView;
import io.loopwarden.yaml.Fault;
import jakarta.ws.rs.Consumes;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.core.MediaType;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Alarm definitions, and what one would have done. */
@Path("/api/v1/alarm-definitions")
@Tag(name = "alarms")
public class AlarmTrialResource {

    private static final Duration LONGEST = Duration.ofDays(100);
    private static final int MOST_TEXT = 100_000;

    private final LoopwardenService service;
    private final Alarms alarms;
    private final Clock clock;

    AlarmTrialResource(LoopwardenService service, Alarms alarms, Clock clock) {
        this.service = service;
        this.alarms = alarms;
        this.clock = clock;
    }

    /**
     * Definitions in force.
     *
     * @param standard the definitions that come with the program, as text: a form to copy from
     * @param faults what is wrong in alarms.yaml, channels.yaml and the on-call plan
     */
    public record Definitions(List<DefinitionView> definitions, String standard, List<Fault> faults) {}

    @GET
    @Operation(summary = "Definitions in force, the text of the standard ones, and faults of the files")
    public Definitions definitions() {
        return new Definitions(
                alarms.definitions().stream().map(DefinitionView::of).toList(), AlarmsFile.standard(), alarms.faults());
    }

    /**
     * What to fire.
     *
     * @param key a definition in force; or
     * @param text one definition in the form of alarms.yaml
     */
    public record Trial(String key, String text, String from, String to) {}

    /**
     * What it would have done.
     *
     * @param judgedEveryS the longest step between two judgements
     * @param unknownShare share of judgements without a value
     */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record Fired(
            DefinitionView definition,
            Instant from,
            Instant to,
            int count,
            Double meanDurationS,
            double judgedEveryS,
            long judged,
            double unknownShare,
            Map<String, Integer> byUnit,
            List<TestFire.Span> spans) {}

    @POST
    @Path("trial")
    @Consumes(MediaType.APPLICATION_JSON)
    @Operation(
            summary =
                    "Fires a definition against stored history: how often, when and for how long would it have stood?")
    public Fired fire(Trial trial) throws SQLException {
        Require.present("body", trial);
        Span span = Span.of(trial.from(), trial.to(), clock.instant(), Duration.ofDays(30), LONGEST);
        Definition definition = definition(trial);
        Map<Unit, List<PointName>> units = new LinkedHashMap<>();
        for (UnitNow unit : service.fleet().units()) {
            units.put(unit.unit(), points(definition, unit));
        }
        HistoryTrial.Outcome outcome;
        try {
            outcome = new HistoryTrial(
                            service.store().figures().reader(), service.store().reader())
                    .fire(definition, units, span.from(), span.to());
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
        Map<String, Integer> byUnit = new LinkedHashMap<>();
        outcome.spans().forEach(each -> byUnit.merge(each.source(), 1, Integer::sum));
        return new Fired(
                DefinitionView.of(definition),
                span.from(),
                span.to(),
                outcome.spans().size(),
                outcome.meanDuration() == null ? null : outcome.meanDuration().toMillis() / 1e3,
                outcome.longestStep().toMillis() / 1e3,
                outcome.judged(),
                outcome.judged() == 0 ? 1 : outcome.unknown() / (double) outcome.judged(),
                byUnit,
                outcome.spans().stream().limit(1000).toList());
    }

    private static List<PointName> points(Definition definition, UnitNow unit) {
        return definition.condition() instanceof PointCondition condition
                ? unit.figures().latest().keySet().stream()
                        .filter(point -> condition.matches(point.value()))
                        .toList()
                : List.of();
    }

    private Definition definition(Trial trial) {
        if (trial.text() == null) {
            return alarms.definition(String.valueOf(trial.key()))
                    .orElseThrow(() -> Problem.notFound("there is no alarm definition '" + trial.key() + "'"));
        }
        if (trial.text().length() > MOST_TEXT) {
            throw Problem.badRequest("the text is longer than " + MOST_TEXT + " characters");
        }
        AlarmDefinitions read = AlarmsFile.parse(trial.text(), "text");
        if (!read.faults().isEmpty()) {
            throw Problem.badRequest(read.faults().get(0)
                    + (read.faults().size() > 1 ? " (and " + (read.faults().size() - 1) + " more)" : ""));
        }
        if (read.definitions().size() != 1) {
            throw Problem.badRequest(
                    "the text holds " + read.definitions().size() + " definitions; one is fired at a time");
        }
        return read.definitions().get(0);
    }
}
