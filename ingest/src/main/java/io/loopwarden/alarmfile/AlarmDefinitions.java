package io.loopwarden.alarmfile;

import io.loopwarden.alarm.Definition;
import io.loopwarden.yaml.Fault;
import java.util.List;

/**
 * Alarm definitions and what is wrong with those that were left out.
 *
 * @param definitions in the order of the files
 */
public record AlarmDefinitions(List<Definition> definitions, List<Fault> faults) {

    public AlarmDefinitions {
        definitions = List.copyOf(definitions);
        faults = List.copyOf(faults);
    }
}
