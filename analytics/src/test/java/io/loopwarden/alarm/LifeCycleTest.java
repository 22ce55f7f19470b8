package io.loopwarden.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Every state with every event, as the state diagram of IEC 62682 has it. */
class LifeCycleTest {

    /** Columns in the order of {@link AlarmEvent}; upper case: an alarm that latches. Written from the diagram, not from the code. */
    private static final String[] DIAGRAM = {
        //  occur clear ack reset realarm shelve unshelve suppress unsuppress remove return
        "A  B     A     x   x     A       G      x        H        A          I      x",
        "B  B     D     C   x     B       G      x        H        B          I      x",
        "C  C     A     x   x     B       G      x        H        C          I      x",
        "D  B     D     A   x     D       G      x        H        D          I      x",
        "E  B     E     F   x     E       G      x        H        E          I      x",
        "F  B     F     x   A     F       G      x        H        F          I      x",
        "G  G     G     x   x     G       G      A        G        G          I      x",
        "H  H     H     x   x     H       G      x        H        A          I      x",
        "I  I     I     x   x     I       x      I        I        I          x      A",
    };

    static Stream<Arguments> everyPair() {
        List<Arguments> pairs = new ArrayList<>();
        for (String line : DIAGRAM) {
            String[] cells = line.split(" +");
            for (AlarmEvent event : AlarmEvent.values()) {
                pairs.add(Arguments.of(cells[0].charAt(0), event, cells[1 + event.ordinal()].charAt(0)));
            }
        }
        return pairs.stream();
    }

    @ParameterizedTest(name = "{0} {1} gives {2}")
    @MethodSource("everyPair")
    void everyStateAnswersEveryEvent(char from, AlarmEvent event, char to) {
        Alarm alarm = Alarms.in(state(from));
        Next next = alarm.next(Alarms.change(event, Alarms.NOON.plusSeconds(60)), false);
        if (to == 'x') {
            assertThat(next).isInstanceOf(Next.Refused.class);
            assertThat(((Next.Refused) next).reason()).contains(Alarms.ID.toString());
        } else if (next instanceof Next.Changed changed) {
            assertThat(changed.alarm().state()).isEqualTo(state(to));
            assertThat(changed.transition().from()).isEqualTo(state(from));
            assertThat(changed.transition().to()).isEqualTo(state(to));
            assertThat(changed.transition().who()).isEqualTo(event.byPerson() ? "Ines" : Change.SYSTEM);
        } else {
            assertThat(next).isInstanceOf(Next.Same.class);
            assertThat(to).isEqualTo(from);
        }
    }

    @Test
    void thereAreNineStatesAndElevenEventsAndEachPairIsTested() {
        assertThat(everyPair()).hasSize(9 * 11);
        assertThat(AlarmState.values().length * AlarmEvent.values().length).isEqualTo(9 * 11);
    }

    @ParameterizedTest(name = "latching: {0} {1} gives {2}")
    @CsvSource({"B, CLEAR, E", "C, CLEAR, F", "E, ACKNOWLEDGE, F", "F, RESET, A", "E, OCCUR, B", "F, OCCUR, B"})
    void aLatchingAlarmStaysUntilItIsReset(char from, AlarmEvent event, char to) {
        Next next = Alarms.in(state(from)).next(Alarms.change(event, Alarms.NOON), true);
        assertThat(((Next.Changed) next).alarm().state()).isEqualTo(state(to));
    }

    @ParameterizedTest(name = "{0}: condition {1}, shelved {2}, suppressed {3}, out of service {4}: back to {6} by {5}")
    @CsvSource({
        "G, true,  true,  false, false, UNSHELVE,   B",
        "G, false, true,  false, false, UNSHELVE,   A",
        "G, true,  true,  true,  false, UNSHELVE,   H",
        "H, true,  false, true,  false, UNSUPPRESS, B",
        "H, false, false, true,  false, UNSUPPRESS, A",
        "I, true,  false, false, true,  RETURN,     B",
        "I, false, false, false, true,  RETURN,     A",
        "I, true,  true,  false, true,  RETURN,     G",
        "I, true,  false, true,  true,  RETURN,     H",
        "I, true,  true,  true,  true,  RETURN,     G",
    })
    void theWayBackKnowsWhatStillHolds(
            char from, boolean condition, boolean shelved, boolean suppressed, boolean out, AlarmEvent event, char to) {
        Alarm alarm = Alarms.in(state(from), condition, shelved, suppressed, out);
        Next next = alarm.next(Alarms.change(event, Alarms.NOON), false);
        assertThat(((Next.Changed) next).alarm().state()).isEqualTo(state(to));
    }

    @Test
    void theDocumentPrintsTheTableOfTheCode() throws IOException {
        List<String> rows = Files.readString(Path.of("ALARMS.md"))
                .lines()
                .filter(line -> line.matches("\\| [A-I] \\|.*"))
                .toList();
        assertThat(rows)
                .containsExactlyElementsOf(Arrays.stream(AlarmState.values())
                        .map(LifeCycleTest::row)
                        .toList());
        String head = Files.readString(Path.of("ALARMS.md"));
        assertThat(head)
                .contains(String.join(
                        " | ",
                        Arrays.stream(AlarmEvent.values())
                                .map(AlarmEvent::words)
                                .toList()));
    }

    private static String row(AlarmState state) {
        StringBuilder row = new StringBuilder(
                "| " + state.letter() + " | " + state.words() + " | " + (state.stands() ? "yes" : "no"));
        for (AlarmEvent event : AlarmEvent.values()) {
            row.append(" | ").append(LifeCycle.step(state, event).cell());
        }
        return row.append(" |").toString();
    }

    private static AlarmState state(char letter) {
        return AlarmState.values()[letter - 'A'];
    }
}
