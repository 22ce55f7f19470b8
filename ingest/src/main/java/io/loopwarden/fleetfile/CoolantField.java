package io.loopwarden.fleetfile;

import io.loopwarden.fleet.CoolantSpec;
import io.loopwarden.yaml.YamlMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** Reads what fills a loop: {@code {kind: propylene-glycol, mass-percent: 25}}. */
final class CoolantField {

    /** Densities at 20 °C of what is poured together; mass fractions do not depend on contraction. */
    private static final double GLYCOL_KG_PER_M3 = 1036;

    private static final double WATER_KG_PER_M3 = 998.2;

    private static final Map<String, CoolantSpec.Kind> KINDS = new LinkedHashMap<>();

    static {
        KINDS.put("water", CoolantSpec.Kind.WATER);
        KINDS.put("propylene-glycol", CoolantSpec.Kind.PROPYLENE_GLYCOL);
    }

    private CoolantField() {}

    static Optional<CoolantSpec> required(YamlMap top, String key) {
        return top.present(key) ? top.map(key).flatMap(CoolantField::read) : Optional.empty();
    }

    static Optional<CoolantSpec> waterUnlessGiven(YamlMap top, String key) {
        return top.has(key) ? required(top, key) : Optional.of(CoolantSpec.WATER);
    }

    /** Mass fraction of what is poured: w = φ·ρ_glycol / (φ·ρ_glycol + (1 − φ)·ρ_water). */
    static double massFraction(double volumeFraction) {
        double glycol = volumeFraction * GLYCOL_KG_PER_M3;
        return glycol / (glycol + (1 - volumeFraction) * WATER_KG_PER_M3);
    }

    private static Optional<CoolantSpec> read(YamlMap coolant) {
        coolant.refuseOthers(List.of("kind", "mass-percent", "volume-percent"));
        Optional<CoolantSpec.Kind> kind = coolant.requiredChoice("kind", KINDS);
        OptionalDouble massPercent = coolant.number("mass-percent");
        OptionalDouble volumePercent = coolant.number("volume-percent");
        if (kind.isEmpty()) {
            return Optional.empty();
        }
        boolean given = coolant.has("mass-percent") || coolant.has("volume-percent");
        if (kind.get() == CoolantSpec.Kind.WATER) {
            if (given) {
                coolant.fault("kind", "is water, which has no percentage");
            }
            return Optional.of(CoolantSpec.WATER);
        }
        if (coolant.has("mass-percent") == coolant.has("volume-percent")) {
            coolant.fault("kind", "needs either mass-percent or volume-percent, and has " + (given ? "both" : "none"));
            return Optional.empty();
        }
        String key = coolant.has("mass-percent") ? "mass-percent" : "volume-percent";
        OptionalDouble percent = massPercent.isPresent() ? massPercent : volumePercent;
        return percent.isEmpty() ? Optional.empty() : glycol(coolant, key, percent.getAsDouble());
    }

    private static Optional<CoolantSpec> glycol(YamlMap coolant, String key, double percent) {
        double fraction = key.equals("mass-percent") ? percent / 100 : massFraction(percent / 100);
        if (!(fraction >= 0.1 && fraction <= 0.6)) {
            coolant.fault(key, percent + " is out of range: the properties hold for 10 to 60 mass percent");
            return Optional.empty();
        }
        return Optional.of(new CoolantSpec(CoolantSpec.Kind.PROPYLENE_GLYCOL, fraction));
    }
}
