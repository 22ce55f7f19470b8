package io.loopwarden.setup;

import io.loopwarden.collector.FoundTag;
import io.loopwarden.fleet.Nameplate;
import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.Points;
import io.loopwarden.fleet.Quantity;
import io.loopwarden.fleet.RawValue;
import io.loopwarden.pointmap.UcumUnits;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.IntStream;

/** A point map proposed from the names, units and live values of what was seen. A person looks at it before it is used. */
public final class MapProposal {

    private static final double LEAST_FIT = 0.65;

    private record Candidate(FoundTag tag, PointName point, double fit) {}

    private MapProposal() {}

    /** At most one line a point and a tag, in the order of the points' names. */
    public static List<MapLine> propose(List<FoundTag> tags, Nameplate nameplate) {
        List<PointName> points = points(nameplate);
        List<Candidate> candidates = new ArrayList<>();
        for (FoundTag tag : tags) {
            TagWords words = TagWords.of(nameOf(tag));
            for (PointName point : points) {
                double fit = words.fit(point.value(), number(point)) * unitFit(tag, point.quantity());
                if (fit >= LEAST_FIT) {
                    candidates.add(new Candidate(tag, point, fit));
                }
            }
        }
        candidates.sort(Comparator.comparingDouble((Candidate c) -> -c.fit())
                .thenComparing(Candidate::point)
                .thenComparing(c -> c.tag().source()));
        Set<String> taken = new HashSet<>();
        List<MapLine> lines = new ArrayList<>();
        for (Candidate c : candidates) {
            if (!taken.contains(c.tag().source()) && taken.add(c.point().value())) {
                taken.add(c.tag().source());
                lines.add(line(c, nameplate));
            }
        }
        lines.sort(Comparator.comparing(MapLine::point));
        return List.copyOf(lines);
    }

    private static MapLine line(Candidate c, Nameplate nameplate) {
        OptionalDouble raw = number(c.tag().value().value());
        String ucum = c.tag()
                .ucum()
                .flatMap(spelling -> UcumUnits.meant(spelling, c.point().quantity()))
                .orElseGet(() -> Expected.likelyUnit(c.point(), raw, nameplate));
        return new MapLine(c.point(), c.tag().source(), ucum, 1, 0, 1, raw);
    }

    /** A unit of another quantity speaks against a point, a unit that is not known against none. */
    private static double unitFit(FoundTag tag, Quantity quantity) {
        if (tag.ucum().isEmpty()) {
            return 1;
        }
        Optional<String> meant = UcumUnits.meant(tag.ucum().get(), quantity);
        boolean other = meant.isEmpty()
                && List.of(Quantity.values()).stream()
                        .anyMatch(any -> UcumUnits.meant(tag.ucum().get(), any).isPresent());
        return other ? 0 : 1;
    }

    private static String nameOf(FoundTag tag) {
        String name = tag.about().isEmpty() ? tag.source() : tag.about();
        return tag.unitAtSource().isEmpty() ? name : name.replace(tag.unitAtSource(), "");
    }

    /** What was sent, as a number. */
    public static OptionalDouble number(RawValue value) {
        if (value instanceof RawValue.Decimal decimal) {
            return OptionalDouble.of(decimal.value());
        }
        return value instanceof RawValue.Whole whole ? OptionalDouble.of(whole.value()) : OptionalDouble.empty();
    }

    /** The points a unit of that nameplate can have. */
    static List<PointName> points(Nameplate nameplate) {
        return Points.vocabulary().keySet().stream()
                .flatMap(pattern -> IntStream.rangeClosed(1, pattern.contains("{n}") ? count(pattern, nameplate) : 1)
                        .mapToObj(n -> Points.numbered(pattern, n)))
                .sorted()
                .toList();
    }

    private static int count(String pattern, Nameplate nameplate) {
        return pattern.startsWith("pump.")
                ? nameplate.pumps()
                : pattern.startsWith("exchanger.") ? nameplate.exchangers() : nameplate.filters();
    }

    private static int number(PointName point) {
        for (String part : point.value().split("\\.")) {
            if (Character.isDigit(part.charAt(0))) {
                return Integer.parseInt(part);
            }
        }
        return 0;
    }
}
