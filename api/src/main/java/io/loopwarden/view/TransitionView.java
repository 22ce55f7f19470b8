package io.loopwarden.view;

import static io.loopwarden.view.FigureView.hyphenated;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.alarm.Transition;
import java.time.Instant;

/** One line of an alarm's history as it leaves. */
@JsonInclude(JsonInclude.Include.NON_EMPTY)
public record TransitionView(
        Instant at, String alarm, String event, String from, String to, String who, String why, Instant until) {

    public static TransitionView of(Transition line) {
        return new TransitionView(
                line.at(),
                line.id().toString(),
                hyphenated(line.event()),
                hyphenated(line.from()),
                hyphenated(line.to()),
                line.who(),
                line.why(),
                line.until().orElse(null));
    }
}
