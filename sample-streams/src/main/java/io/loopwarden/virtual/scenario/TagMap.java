package io.loopwarden.virtual.scenario;

import io.loopwarden.fleet.PointName;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;

/** All tags of one model over one protocol, read from the fleet's point map but with arithmetic of its own. */
public record TagMap(String name, String protocol, List<Tag> tags) {

    public TagMap {
        tags = List.copyOf(tags);
    }

    static TagMap load(Path file) {
        Node top = Node.load(file);
        return new TagMap(
                top.text("map"),
                top.text("protocol"),
                top.list("points").stream().map(TagMap::tag).toList());
    }

    private static Tag tag(Node node) {
        PointName point = PointName.of(node.text("point"));
        double sign = node.number("sign", 1);
        double scale = node.number("scale", 1);
        double shift = node.number("offset", 0);
        var unit = node.has("full-scale")
                ? new UnitsOfMeasure.Linear(1 / node.number("full-scale"), 0)
                : UnitsOfMeasure.of(node.text("unit", "1"));
        String source = node.text("source");
        boolean bit = source.startsWith("coil/") || source.startsWith("discrete/");
        return new Tag(
                point,
                source,
                sign * scale * unit.factor(),
                shift * unit.factor() + unit.offset(),
                node.text("type", bit ? "bit" : ""),
                Map.of("low-first", true, "high-first", false).get(node.text("words", "high-first")));
    }
}
