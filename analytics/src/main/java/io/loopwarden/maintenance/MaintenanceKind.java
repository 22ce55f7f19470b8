package io.loopwarden.maintenance;

import java.util.Arrays;
import java.util.stream.Collectors;

/** Kind of work on a unit. */
public enum MaintenanceKind {
    /** Plates or a strainer opened or flushed: the part names which. */
    CLEANING("cleaning"),
    /** A filter element changed. */
    FILTER_CHANGE("filter-change"),
    /** Coolant put into the loop; the amount in litres if known. */
    TOP_UP("top-up"),
    /** Coolant taken out of the loop; the amount in litres if known. */
    DRAIN("drain"),
    /** A sensor compared with a reference and set right: the part is its point. */
    CALIBRATION("calibration"),
    /** A part changed for another, with serial and supplier. */
    PART_REPLACED("part-replaced"),
    /** Something measured by hand: the part is its point, the amount its value. */
    READING("reading"),
    /** Taken out of use on purpose, from one instant until another. */
    OUT_OF_USE("out-of-use"),
    /** What is shown was looked at and is confirmed: the part names what, for example {@code tcs.filter.2}. */
    CONFIRMATION("confirmation"),
    /** Makes an earlier entry void. */
    WITHDRAWAL("withdrawal");

    private final String word;

    MaintenanceKind(String word) {
        this.word = word;
    }

    /** Its word in files, the store and the service. */
    public String word() {
        return word;
    }

    /** @throws IllegalArgumentException naming the words there are */
    public static MaintenanceKind of(String word) {
        for (MaintenanceKind kind : values()) {
            if (kind.word.equals(word)) {
                return kind;
            }
        }
        throw new IllegalArgumentException("no kind of maintenance '" + word + "'; there are "
                + Arrays.stream(values()).map(MaintenanceKind::word).collect(Collectors.joining(", ")));
    }
}
