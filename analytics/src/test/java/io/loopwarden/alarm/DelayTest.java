package io.loopwarden.alarm;

import static io.loopwarden.alarm.Verdict.Kind.BEYOND;
import static io.loopwarden.alarm.Verdict.Kind.GOOD;
import static io.loopwarden.alarm.Verdict.Kind.UNKNOWN;
import static io.loopwarden.alarm.Verdict.Kind.WITHIN_DEADBAND;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DelayTest {

    private static final Map<Character, Verdict.Kind> KINDS =
            Map.of('b', BEYOND, 'd', WITHIN_DEADBAND, 'g', GOOD, '?', UNKNOWN);

    /** One judgement a second; upper case in the second column: the alarm is there after it. */
    @ParameterizedTest(name = "{0}: on-delay {2} s, off-delay {3} s")
    @CsvSource({
        // judgements,  there,        on, off
        "gbg,           -T-,          0,  0",
        "bbbb,          --TT,         2,  0",
        "bbgbbb,        -----T,       2,  0",
        "bdg,           TT-,          0,  0",
        "b????,         TTTTT,        0,  0", // a gap does not clear
        "b?bbb,         ----T,        2,  0", // and adds nothing to a delay, but does not start it anew
        "????,          ----,         0,  0", // nor does it raise
        "bgggg,         TTTT-,        0,  3",
        "bggdggg,       TTTTTTT,      0,  3",
        "bg?ggg,        TTTTT-,       0,  2",
    })
    void aConditionCountsOnceItsDelayIsOver(String judgements, String there, int on, int off) {
        Delay.Times times = new Delay.Times(Duration.ofSeconds(on), Duration.ofSeconds(off));
        Delay delay = Delay.settled(false);
        StringBuilder seen = new StringBuilder();
        for (int i = 0; i < judgements.length(); i++) {
            delay = delay.next(KINDS.get(judgements.charAt(i)), Alarms.NOON.plusSeconds(i), times);
            seen.append(delay.there() ? 'T' : '-');
        }
        assertThat(seen).hasToString(there);
    }
}
