package io.loopwarden.virtual.scenario;

import io.loopwarden.virtual.fault.Fault;
import io.loopwarden.virtual.fault.FaultKind;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** Reads one fault, from the scenario or from the control endpoint. */
public final class FaultFields {

    private static final List<String> KNOWN = List.of(
            "unit",
            "kind",
            "target",
            "point",
            "from-days",
            "until-days",
            "step",
            "per-day",
            "limit",
            "time-constant-days");

    private FaultFields() {}

    /** From the fields of a request; {@code from-days} counts from {@code startS}. */
    public static Fault of(Map<?, ?> fields, double startS) {
        return read(Node.of("fault", fields), startS, false);
    }

    /** @param fresh what began before the start begins at the start instead */
    static Fault read(Node node, double startS, boolean fresh) {
        node.refuseOthers(KNOWN);
        double from = node.number("from-days", 0) * 86400;
        double shift = fresh && from < 0 ? -from : 0;
        double until = node.has("until-days") ? node.number("until-days") * 86400 : Double.POSITIVE_INFINITY;
        return new Fault(
                        kind(node.text("kind")),
                        (int) node.number("target", 0),
                        node.has("point") ? Optional.of(node.text("point")) : Optional.empty(),
                        startS + from,
                        startS + until,
                        node.number("step", 0),
                        node.number("per-day", 0),
                        node.number("limit", 0),
                        node.number("time-constant-days", 0))
                .shifted(shift);
    }

    private static FaultKind kind(String word) {
        for (FaultKind kind : FaultKind.values()) {
            if (kind.name().toLowerCase(Locale.ROOT).replace('_', '-').equals(word)) {
                return kind;
            }
        }
        throw new IllegalArgumentException("unknown kind of fault '" + word + "'; known are "
                + List.of(FaultKind.values())
                        .toString()
                        .toLowerCase(Locale.ROOT)
                        .replace('_', '-'));
    }
}
