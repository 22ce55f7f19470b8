package io.loopwarden.fleetfile;

import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.pointmap.Measure;
import io.loopwarden.yaml.Faults;
import io.loopwarden.yaml.Loaded;
import io.loopwarden.yaml.YamlFile;
import io.loopwarden.yaml.YamlMap;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** A nameplate as it stands in its file. */
public record NameplateFile(String name, Nameplate nameplate) {

    private static final List<String> FIELDS = List.of(
            "nameplate",
            "supplier",
            "model",
            "rated-duty",
            "rated-approach",
            "rated-tcs-flow",
            "rated-fws-flow",
            "design-fws-dp",
            "available-head",
            "design-fws-supply-temperature",
            "tcs-coolant",
            "fws-coolant",
            "pumps",
            "pumps-needed",
            "exchangers",
            "filters",
            "loop-volume",
            "reservoir-volume",
            "filter-terminal-dp",
            "plate-area",
            "sensors",
            "limits");

    public NameplateFile {
        Objects.requireNonNull(name, "name");
        Objects.requireNonNull(nameplate, "nameplate");
    }

    /** Reads a file; faults name it as {@code fileName}. */
    public static Loaded<NameplateFile> load(Path path, String fileName) {
        Faults faults = new Faults();
        return result(YamlFile.open(path, fileName, faults).flatMap(top -> read(top, faults)), faults);
    }

    /** Reads a nameplate from its text. */
    public static Loaded<NameplateFile> parse(String text, String fileName) {
        Faults faults = new Faults();
        return result(YamlFile.parse(text, fileName, faults).flatMap(top -> read(top, faults)), faults);
    }

    private static Loaded<NameplateFile> result(Optional<NameplateFile> file, Faults faults) {
        return faults.count() == 0 ? Loaded.of(file.orElseThrow()) : Loaded.failed(faults.sorted());
    }

    private static Optional<NameplateFile> read(YamlMap top, Faults faults) {
        top.refuseOthers(FIELDS);
        Optional<String> name = top.requiredText("nameplate");
        Optional<Nameplate> nameplate = new Reader(top, faults).read();
        return name.flatMap(n -> nameplate.map(plate -> new NameplateFile(n, plate)));
    }

    /** Reads every field before it gives up, so that all faults are found. */
    private record Reader(YamlMap top, Faults faults) {

        Optional<Nameplate> read() {
            int before = faults.count();
            Optional<String> supplier = top.requiredText("supplier");
            Optional<String> model = top.requiredText("model");
            double ratedDutyW = positive("rated-duty", Quantity.POWER);
            double ratedApproachK = positive("rated-approach", Quantity.TEMPERATURE_DIFFERENCE);
            double tcsFlowM3PerS = positive("rated-tcs-flow", Quantity.VOLUME_FLOW);
            double fwsFlowM3PerS = positive("rated-fws-flow", Quantity.VOLUME_FLOW);
            OptionalDouble fwsDpPa = optionalPositive("design-fws-dp", Quantity.DIFFERENTIAL_PRESSURE);
            double headPa = positive("available-head", Quantity.DIFFERENTIAL_PRESSURE);
            double fwsSupplyC = fwsSupplyTemperatureC();
            var tcsCoolant = CoolantField.required(top, "tcs-coolant");
            var fwsCoolant = CoolantField.waterUnlessGiven(top, "fws-coolant");
            int pumps = count("pumps", 1, 8);
            int pumpsNeeded = count("pumps-needed", 1, pumps);
            int exchangers = count("exchangers", 1, 16);
            int filters = count("filters", 0, 16);
            double loopVolumeM3 = positive("loop-volume", Quantity.VOLUME);
            double reservoirVolumeM3 = positive("reservoir-volume", Quantity.VOLUME);
            double filterDpPa = positive("filter-terminal-dp", Quantity.DIFFERENTIAL_PRESSURE);
            OptionalDouble plateAreaM2 = sized("plate-area", Measure.readAreaM2(top, "plate-area"));
            var sensors = SensorsField.read(top, "sensors");
            var limits = LimitsField.read(top, "limits");
            if (faults.count() > before) {
                return Optional.empty();
            }
            return Optional.of(new Nameplate(
                    supplier.orElseThrow(),
                    model.orElseThrow(),
                    ratedDutyW,
                    ratedApproachK,
                    tcsFlowM3PerS,
                    fwsFlowM3PerS,
                    fwsDpPa,
                    headPa,
                    fwsSupplyC,
                    tcsCoolant.orElseThrow(),
                    fwsCoolant.orElseThrow(),
                    pumps,
                    pumpsNeeded,
                    exchangers,
                    filters,
                    loopVolumeM3,
                    reservoirVolumeM3,
                    filterDpPa,
                    plateAreaM2,
                    sensors.orElseThrow(),
                    limits.orElseThrow()));
        }

        /** Where there is a fault the answer does not matter: nothing is made of it. */
        private double positive(String key, Quantity quantity) {
            return top.present(key) ? optionalPositive(key, quantity).orElse(1) : 1;
        }

        private OptionalDouble optionalPositive(String key, Quantity quantity) {
            return sized(key, Measure.read(top, key, quantity));
        }

        private OptionalDouble sized(String key, OptionalDouble value) {
            if (value.isPresent() && !(value.getAsDouble() > 0)) {
                top.fault(key, "'" + top.text(key).orElse("") + "' must be more than 0");
                return OptionalDouble.empty();
            }
            return value;
        }

        private double fwsSupplyTemperatureC() {
            String key = "design-fws-supply-temperature";
            OptionalDouble value =
                    top.present(key) ? Measure.read(top, key, Quantity.TEMPERATURE) : OptionalDouble.empty();
            if (value.isPresent() && !(value.getAsDouble() >= 2 && value.getAsDouble() <= 60)) {
                top.fault(key, "'" + top.text(key).orElse("") + "' is not in 2 to 60 Cel");
            }
            return value.orElse(20);
        }

        private int count(String key, int least, int most) {
            OptionalInt count = top.present(key) ? top.integer(key, least, most) : OptionalInt.empty();
            return count.orElse(most);
        }
    }
}
