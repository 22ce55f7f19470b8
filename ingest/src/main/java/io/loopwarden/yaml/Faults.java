package io.loopwarden.yaml;

import java.util.ArrayList;
import java.util.List;

/** Collects the faults of one or more files; keeps the first {@value #MOST} and counts the rest. */
public final class Faults {

    static final int MOST = 1000;

    private final List<Fault> kept = new ArrayList<>();
    private int count;

    public void add(Fault fault) {
        count++;
        if (kept.size() < MOST) {
            kept.add(fault);
        }
    }

    public void add(String file, int line, String field, String message) {
        add(new Fault(file, line, field, message));
    }

    public void addAll(List<Fault> faults) {
        faults.forEach(this::add);
    }

    /** How many were found so far, those not kept included. */
    public int count() {
        return count;
    }

    /** By file and line. */
    public List<Fault> sorted() {
        return kept.stream().sorted().distinct().toList();
    }
}
