package io.loopwarden.study;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.fluid.Coolant;
import io.loopwarden.inventory.Expansion;
import java.util.List;

/** Volumes of thermal expansion against those worked out from property tables (IAPWS for water, Melinder for glycol). */
final class ExpansionStudy {

    private static final CoolantSpec PG25 = new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, 0.25);

    private record Case(CoolantSpec coolant, double fromC, double toC, double tableL) {}

    /** Litres of a loop of 2 m3. */
    private static final List<Case> CASES = List.of(
            new Case(CoolantSpec.WATER, 20, 40, 12.064),
            new Case(CoolantSpec.WATER, 20, 60, 30.509),
            new Case(CoolantSpec.WATER, 35, 45, 7.707),
            new Case(CoolantSpec.WATER, 38, 42, 3.0772),
            new Case(PG25, 20, 40, 18.556));

    private ExpansionStudy() {}

    static Finding run() {
        double worst = 0;
        for (Case c : CASES) {
            double litres = 1000
                    * Expansion.volumeM3(Coolant.of(c.coolant()), 2, c.fromC(), c.toC())
                            .fold(v -> v, gap -> Double.NaN);
            worst = Math.max(worst, Math.abs(litres / c.tableL() - 1));
        }
        return Finding.of(
                "thermal expansion: worst deviation from property tables", 100 * worst, "%", "<= 0.5", f -> f <= 0.5);
    }
}
