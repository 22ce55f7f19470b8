package io.loopwarden.oncall;

import java.time.Instant;
import java.util.List;
import java.util.UUID;

/**
 * What a message says, as it is kept and as channels send it.
 *
 * @param id the same however often and over whatever channel it comes
 * @param type CloudEvents type
 * @param subject one line
 * @param place unit, hall, connection
 * @param sources the units, or others, that have an alarm in it
 * @param evidence what was seen
 * @param respondBy when the consequence is to be expected
 * @param link the alarm's page
 * @param acknowledgeLink acknowledges this alarm and no other; empty where there is none
 */
public record Message(
        UUID id,
        String type,
        Instant at,
        String subject,
        String priority,
        String incident,
        String place,
        List<String> sources,
        String title,
        String evidence,
        String cause,
        String consequence,
        String firstAction,
        Instant respondBy,
        String link,
        String acknowledgeLink,
        String text) {

    public static final String ALARM = "io.loopwarden.incident.raised";
    public static final String HAND_OVER = "io.loopwarden.on-call.hand-over";
    public static final String TRIAL = "io.loopwarden.on-call.trial";

    public Message {
        sources = List.copyOf(sources);
    }
}
