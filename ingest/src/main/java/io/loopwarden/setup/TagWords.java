package io.loopwarden.setup;

import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a tag's name speaks of, in the words of points; abbreviations as they are usual on drawings (ISA-5.1 letters) and in
 * controllers (common practice, no source).
 *
 * @param concepts words of points that the name may mean
 * @param number the number of a pump, exchanger or filter; 0 without
 */
record TagWords(Set<String> concepts, int number) {

    private static final Pattern PIECE = Pattern.compile("[A-Z]+(?![a-z])|[A-Z]?[a-z]+|\\d+");

    private static final Map<String, List<String>> MEANS = Map.ofEntries(
            Map.entry("tcs", List.of("tcs")),
            Map.entry("secondary", List.of("tcs")),
            Map.entry("sec", List.of("tcs")),
            Map.entry("loop", List.of("tcs")),
            Map.entry("rack", List.of("tcs")),
            Map.entry("fws", List.of("fws")),
            Map.entry("facility", List.of("fws")),
            Map.entry("primary", List.of("fws")),
            Map.entry("pri", List.of("fws")),
            Map.entry("supply", List.of("supply")),
            Map.entry("sup", List.of("supply")),
            Map.entry("leaving", List.of("supply")),
            Map.entry("return", List.of("return")),
            Map.entry("ret", List.of("return")),
            Map.entry("rtn", List.of("return")),
            Map.entry("entering", List.of("return")),
            Map.entry("temperature", List.of("temperature")),
            Map.entry("temp", List.of("temperature")),
            Map.entry("t", List.of("temperature")),
            Map.entry("tt", List.of("temperature")),
            Map.entry("flow", List.of("flow")),
            Map.entry("f", List.of("flow")),
            Map.entry("ft", List.of("flow")),
            Map.entry("pressure", List.of("pressure")),
            Map.entry("press", List.of("pressure")),
            Map.entry("pt", List.of("pressure")),
            Map.entry("p", List.of("pressure", "pump")),
            Map.entry("dp", List.of("dp")),
            Map.entry("pdt", List.of("dp")),
            Map.entry("differential", List.of("dp")),
            Map.entry("diff", List.of("dp")),
            Map.entry("setpoint", List.of("setpoint")),
            Map.entry("sp", List.of("setpoint")),
            Map.entry("set", List.of("setpoint")),
            Map.entry("approach", List.of("approach")),
            Map.entry("valve", List.of("valve")),
            Map.entry("vlv", List.of("valve")),
            Map.entry("position", List.of("position")),
            Map.entry("pos", List.of("position")),
            Map.entry("zt", List.of("position", "valve")),
            Map.entry("command", List.of("command")),
            Map.entry("cmd", List.of("command")),
            Map.entry("filter", List.of("filter")),
            Map.entry("flt", List.of("filter")),
            Map.entry("strainer", List.of("strainer")),
            Map.entry("exchanger", List.of("exchanger")),
            Map.entry("hx", List.of("exchanger")),
            Map.entry("phe", List.of("exchanger")),
            Map.entry("pump", List.of("pump")),
            Map.entry("pmp", List.of("pump")),
            Map.entry("speed", List.of("speed")),
            Map.entry("spd", List.of("speed")),
            Map.entry("power", List.of("power")),
            Map.entry("kw", List.of("power")),
            Map.entry("running", List.of("running")),
            Map.entry("run", List.of("running", "run-time")),
            Map.entry("on", List.of("running")),
            Map.entry("starts", List.of("starts")),
            Map.entry("hours", List.of("run-time")),
            Map.entry("time", List.of("run-time")),
            Map.entry("reservoir", List.of("reservoir")),
            Map.entry("res", List.of("reservoir")),
            Map.entry("tank", List.of("reservoir")),
            Map.entry("level", List.of("level")),
            Map.entry("lvl", List.of("level")),
            Map.entry("lt", List.of("level", "reservoir")),
            Map.entry("tray", List.of("tray")),
            Map.entry("pan", List.of("tray")),
            Map.entry("rope", List.of("rope")),
            Map.entry("wet", List.of("wet")),
            Map.entry("leak", List.of("wet", "tray")),
            Map.entry("makeup", List.of("makeup")),
            Map.entry("fill", List.of("makeup")),
            Map.entry("volume", List.of("volume")),
            Map.entry("conductivity", List.of("conductivity", "coolant")),
            Map.entry("cond", List.of("conductivity", "coolant")),
            Map.entry("ph", List.of("ph", "coolant")),
            Map.entry("coolant", List.of("coolant")),
            Map.entry("heartbeat", List.of("heartbeat", "controller")),
            Map.entry("b", List.of("redundant")),
            Map.entry("redundant", List.of("redundant")),
            Map.entry("spare", List.of("redundant")));

    static TagWords of(String tag) {
        Set<String> concepts = new TreeSet<>();
        int number = 0;
        Matcher pieces = PIECE.matcher(tag);
        while (pieces.find()) {
            String piece = pieces.group().toLowerCase(Locale.ROOT);
            if (Character.isDigit(piece.charAt(0))) {
                number = piece.length() < 3 ? Integer.parseInt(piece) : number;
            } else {
                concepts.addAll(MEANS.getOrDefault(piece, List.of()));
            }
        }
        return new TagWords(concepts, number);
    }

    /** How well the name fits a point, 0 to 1: shared words over all words of the point and those that the name has too many. */
    double fit(String point, int pointNumber) {
        Set<String> wanted = new HashSet<>();
        for (String part : point.split("\\.")) {
            if (!Character.isDigit(part.charAt(0))) {
                wanted.add(part);
            }
        }
        if (pointNumber != 0 && number != pointNumber) {
            return 0;
        }
        long shared = wanted.stream().filter(concepts::contains).count();
        long extra = concepts.stream()
                .filter(word -> !wanted.contains(word) && !isSecondMeaning(word, wanted))
                .count();
        return shared / (wanted.size() + 0.5 * extra);
    }

    /** A piece with two meanings has said enough with one of them. */
    private boolean isSecondMeaning(String word, Set<String> wanted) {
        return MEANS.values().stream()
                .anyMatch(meanings -> meanings.size() > 1
                        && meanings.contains(word)
                        && meanings.stream().anyMatch(wanted::contains)
                        && concepts.containsAll(meanings));
    }
}
