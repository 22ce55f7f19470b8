package io.loopwarden.pointmap;

import io.loopwarden.pointmap.RegisterLayout.Table;
import io.loopwarden.pointmap.RegisterLayout.Type;
import io.loopwarden.pointmap.RegisterLayout.WordOrder;
import io.loopwarden.yaml.YamlMap;
import io.loopwarden.yaml.YamlText;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Function;

/** Reads the fields of a Modbus point: {@code source}, {@code type}, {@code words}, {@code no-value}. */
final class RegisterField {

    static final Map<String, Table> TABLES = names(Table.values(), table -> word(table));
    static final Map<String, Type> TYPES = names(Type.values(), type -> word(type));
    static final Map<String, WordOrder> ORDERS = names(WordOrder.values(), order -> word(order));

    private RegisterField() {}

    static Optional<RegisterLayout> read(YamlMap point, String source) {
        Optional<Table> table = table(point, source);
        OptionalInt address = address(point, source);
        boolean bitTable = table.isPresent() && isBitTable(table.get());
        Optional<Type> type =
                bitTable && !point.has("type") ? Optional.of(Type.BIT) : point.requiredChoice("type", TYPES);
        Optional<WordOrder> order = order(point, type);
        Set<Long> markers = markers(point, type);
        if (table.isEmpty() || address.isEmpty() || type.isEmpty() || order.isEmpty()) {
            return Optional.empty();
        }
        if (bitTable != (type.get() == Type.BIT)) {
            String fitting = bitTable ? "only a bit" : "no single bit";
            point.fault(
                    "type",
                    "'" + word(type.get()) + "' does not fit table '" + word(table.get()) + "', which has " + fitting
                            + " at an address");
            return Optional.empty();
        }
        if (address.getAsInt() + type.get().registers() > 65536) {
            point.fault("source", "'" + source + "' runs over the last register, 65535");
            return Optional.empty();
        }
        return Optional.of(new RegisterLayout(table.get(), address.getAsInt(), type.get(), order.get(), markers));
    }

    private static Optional<Table> table(YamlMap point, String source) {
        String word = source.substring(0, Math.max(0, source.indexOf('/')));
        Table table = TABLES.get(word);
        if (table == null) {
            point.fault(
                    "source",
                    "'" + source + "' is not a register: write " + String.join(", ", TABLES.keySet())
                            + " then '/' and the address from 0, for example 'holding/100'");
        }
        return Optional.ofNullable(table);
    }

    private static OptionalInt address(YamlMap point, String source) {
        String digits = source.substring(source.indexOf('/') + 1);
        boolean number =
                !digits.isEmpty() && digits.length() <= 6 && digits.chars().allMatch(c -> c >= '0' && c <= '9');
        int address = number ? Integer.parseInt(digits) : -1;
        if (address < 0 || address > 65535) {
            point.fault(
                    "source",
                    "address '" + digits + "' is not a number from 0 to 65535"
                            + (address >= 400_001 ? "; '400001' in a manual is holding/0" : ""));
            return OptionalInt.empty();
        }
        return OptionalInt.of(address);
    }

    /** The order of words is in no standard, so a value of several registers must state it. */
    private static Optional<WordOrder> order(YamlMap point, Optional<Type> type) {
        boolean several = type.isPresent() && type.get().registers() > 1;
        if (several) {
            return point.requiredChoice("words", ORDERS);
        }
        return point.has("words") ? point.choice("words", ORDERS) : Optional.of(WordOrder.HIGH_FIRST);
    }

    private static Set<Long> markers(YamlMap point, Optional<Type> type) {
        Set<Long> markers = new HashSet<>();
        for (YamlText text : point.texts("no-value")) {
            try {
                long marker = text.value().startsWith("0x")
                        ? Long.parseUnsignedLong(text.value().substring(2), 16)
                        : Long.parseLong(text.value());
                type.flatMap(t -> bits(marker, t)).ifPresentOrElse(markers::add, () -> misfit(point, text, type));
            } catch (NumberFormatException notWhole) {
                point.fault("no-value", "'" + text.value() + "' is not a whole number or 0x and hexadecimal digits");
            }
        }
        return markers;
    }

    private static void misfit(YamlMap point, YamlText text, Optional<Type> type) {
        type.ifPresent(t -> point.fault("no-value", "'" + text.value() + "' does not fit " + word(t)));
    }

    /** The marker cut to the width of the type; empty if digits would be lost. */
    private static Optional<Long> bits(long marker, Type type) {
        int width = type == Type.BIT ? 1 : 16 * type.registers();
        if (width == 64) {
            return Optional.of(marker);
        }
        boolean fits = marker >= -(1L << (width - 1)) && marker < (1L << width);
        return fits ? Optional.of(marker & ((1L << width) - 1)) : Optional.empty();
    }

    private static boolean isBitTable(Table table) {
        return table == Table.COIL || table == Table.DISCRETE;
    }

    static String word(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static <E> Map<String, E> names(E[] values, Function<E, String> name) {
        Map<String, E> names = new LinkedHashMap<>();
        for (E value : values) {
            names.put(name.apply(value), value);
        }
        return names;
    }
}
