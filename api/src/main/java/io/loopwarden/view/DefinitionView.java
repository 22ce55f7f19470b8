package io.loopwarden.view;

import static io.loopwarden.view.FigureView.hyphenated;

import io.loopwarden.alarm.Definition;
import java.util.List;

/** One alarm definition as it leaves. */
public record DefinitionView(
        String key,
        String title,
        String function,
        String when,
        double onDelayS,
        double offDelayS,
        String cause,
        String consequence,
        String severity,
        String firstAction,
        double respondWithinS,
        String priority,
        boolean latching,
        String who,
        String group,
        boolean hallWide,
        List<String> follows,
        List<String> suppressedWhile) {

    public static DefinitionView of(Definition definition) {
        return new DefinitionView(
                definition.key(),
                definition.title(),
                definition.function(),
                definition.condition().words(),
                definition.delays().on().toSeconds(),
                definition.delays().off().toSeconds(),
                definition.cause(),
                definition.consequence(),
                hyphenated(definition.severity()),
                definition.firstAction(),
                definition.respondWithin().toSeconds(),
                hyphenated(definition.priority()),
                definition.latching(),
                definition.who(),
                definition.group(),
                definition.hallWide(),
                definition.follows().stream().sorted().toList(),
                definition.suppressedWhile().stream().sorted().toList());
    }
}
