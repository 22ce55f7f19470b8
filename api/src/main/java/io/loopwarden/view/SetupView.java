package io.loopwarden.view;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.loopwarden.collector.FoundTag;
import io.loopwarden.collector.RawReading;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.setup.Finding;
import io.loopwarden.setup.MapLine;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** What is said while a unit is set up. */
public final class SetupView {

    private SetupView() {}

    /** What there is to build on. */
    public record Choices(
            List<ConnectionChoice> connections,
            List<String> halls,
            List<PlateChoice> nameplates,
            List<MapChoice> maps,
            List<String> points) {}

    public record ConnectionChoice(String name, String protocol, String endpoint) {}

    public record PlateChoice(String name, String supplier, String model) {}

    public record MapChoice(String name, String supplier, String model, String protocol) {}

    /** @param map for Modbus: the map to read by */
    public record LookRequest(
            String connection,
            String protocol,
            String endpoint,
            Map<String, String> settings,
            String map,
            String nameAtSource,
            Integer seconds) {}

    /** @param ucum unit of measure as the source spells it */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record TagView(String unit, String source, String about, String ucum, Double value) {

        public static TagView of(FoundTag tag) {
            return new TagView(
                    tag.unitAtSource(),
                    tag.source(),
                    tag.about(),
                    tag.ucum().orElse(null),
                    number(tag.value().value()));
        }

        public FoundTag tag() {
            RawValue raw = value == null ? RawValue.NONE : RawValue.of(value);
            return new FoundTag(
                    unit == null ? "" : unit,
                    source,
                    about == null ? "" : about,
                    Optional.ofNullable(ucum),
                    new RawReading(source, Instant.EPOCH, raw, Quality.GOOD));
        }
    }

    static Double number(RawValue value) {
        if (value instanceof RawValue.Decimal decimal) {
            return decimal.value();
        }
        return value instanceof RawValue.Whole whole ? (double) whole.value() : null;
    }

    /** @param map name of a map to use as it is; absent: one is proposed */
    public record ProposalRequest(String nameplate, List<TagView> tags, String map, String nameAtSource) {}

    /** @param valueSi in the point's inner unit, for people to look at */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    public record LineView(
            String point,
            String source,
            String ucum,
            Double scale,
            Double offset,
            Integer sign,
            Double raw,
            String quantity,
            String unitSi,
            Double valueSi) {

        public static LineView of(MapLine line) {
            return new LineView(
                    line.point().value(),
                    line.source(),
                    line.ucum(),
                    line.scale(),
                    line.offset(),
                    line.sign(),
                    orNull(line.raw()),
                    FigureView.hyphenated(line.point().quantity()),
                    line.point().quantity().ucum(),
                    orNull(line.valueSi()));
        }

        private static Double orNull(OptionalDouble value) {
            return value.isPresent() ? value.getAsDouble() : null;
        }

        public MapLine line() {
            return new MapLine(
                    PointName.of(point),
                    source,
                    ucum == null ? "" : ucum,
                    scale == null ? 1 : scale,
                    offset == null ? 0 : offset,
                    sign == null ? 1 : sign,
                    raw == null ? OptionalDouble.empty() : OptionalDouble.of(raw));
        }
    }

    /** @param remedy lines as they would have to be, by their source */
    public record FindingView(String kind, String sentence, List<String> points, List<LineView> remedy) {

        public static FindingView of(Finding finding) {
            return new FindingView(
                    finding.kind(),
                    finding.sentence(),
                    finding.points(),
                    finding.remedy().stream().map(LineView::of).toList());
        }
    }

    public record Checked(List<LineView> lines, List<FindingView> findings) {}

    public record CheckRequest(String nameplate, List<LineView> lines) {}

    /**
     * @param connection name of one that is there, or of a new one with protocol, endpoint and settings
     * @param map name of a map that is there, or of a new one made of {@code lines}
     */
    public record UnitRequest(
            String id,
            String hall,
            String nameplate,
            String connection,
            String protocol,
            String endpoint,
            Map<String, String> settings,
            String nameAtSource,
            String map,
            List<LineView> lines) {}
}
