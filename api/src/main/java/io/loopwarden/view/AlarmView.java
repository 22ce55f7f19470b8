package io.loopwarden.view;

import static io.loopwarden.view.FigureView.hyphenated;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.alarm.Alarm;
import io.loopwarden.alarm.Definition;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * One alarm as it leaves, with what its definition says of it.
 *
 * @param id {@code source/definition}
 * @param letter of the state in IEC 62682
 * @param stands whether it belongs into the alarm list
 * @param awaitsAcknowledgement whether somebody still has to acknowledge it
 * @param respondBy until when a person has to have acted
 * @param show points to draw beside it
 */
@JsonInclude(JsonInclude.Include.NON_EMPTY)
public record AlarmView(
        String id,
        String source,
        String hall,
        String definition,
        String title,
        String function,
        String priority,
        String state,
        String letter,
        boolean stands,
        boolean awaitsAcknowledgement,
        boolean condition,
        Instant since,
        Instant raisedAt,
        Instant respondBy,
        String evidence,
        String cause,
        String consequence,
        String firstAction,
        Instant shelvedUntil,
        String suppressedBy,
        boolean outOfService,
        String incident,
        String who,
        boolean latching,
        List<String> show) {

    public static AlarmView of(Alarm alarm, Optional<Definition> definition, Optional<String> hall, String incident) {
        return new AlarmView(
                alarm.id().toString(),
                alarm.id().source(),
                hall.orElse(null),
                alarm.id().definition(),
                definition.map(Definition::title).orElse(alarm.id().definition() + " (not defined any more)"),
                definition.map(Definition::function).orElse(null),
                definition.map(each -> hyphenated(each.priority())).orElse("low"),
                hyphenated(alarm.state()),
                Character.toString(alarm.state().letter()),
                alarm.state().stands(),
                alarm.state().awaitsAcknowledgement(),
                alarm.condition(),
                alarm.since(),
                alarm.raisedAt().orElse(null),
                definition
                        .flatMap(each -> alarm.raisedAt().map(at -> at.plus(each.respondWithin())))
                        .orElse(null),
                alarm.evidence(),
                definition.map(Definition::cause).orElse(null),
                definition.map(Definition::consequence).orElse(null),
                definition.map(Definition::firstAction).orElse(null),
                alarm.shelvedUntil().orElse(null),
                alarm.suppressedBy().orElse(null),
                alarm.outOfService(),
                incident,
                definition.map(Definition::who).orElse(null),
                definition.map(Definition::latching).orElse(false),
                definition.map(Definition::show).orElse(List.of()));
    }
}
