package io.loopwarden.setup;

import java.util.List;

/** A point map as the text of its file. */
public final class MapText {

    private MapText() {}

    /** @param unitAtSource the name of the unit at its source, which the file writes as {@code {unit}} */
    public static String of(
            String name, String supplier, String model, String protocol, List<MapLine> lines, String unitAtSource) {
        StringBuilder text = new StringBuilder()
                .append("map: ")
                .append(quoted(name))
                .append('\n')
                .append("supplier: ")
                .append(quoted(supplier))
                .append('\n')
                .append("model: ")
                .append(quoted(model))
                .append('\n')
                .append("protocol: ")
                .append(protocol)
                .append('\n')
                .append("points:\n");
        for (MapLine line : lines) {
            String source = protocol.equals("opc-ua") && !unitAtSource.isEmpty()
                    ? line.source().replace(unitAtSource, "{unit}")
                    : line.source();
            text.append("  - {point: ")
                    .append(line.point())
                    .append(", source: ")
                    .append(quoted(source))
                    .append(", unit: ")
                    .append(quoted(line.ucum()))
                    .append(line.sign() < 0 ? ", sign: -1" : "")
                    .append(line.scale() == 1 ? "" : ", scale: " + line.scale())
                    .append(line.offset() == 0 ? "" : ", offset: " + line.offset())
                    .append("}\n");
        }
        return text.toString();
    }

    static String quoted(String text) {
        return '"' + text.replace("\\", "\\\\").replace("\"", "\\\"") + '"';
    }
}
