package io.loopwarden.pointmap;

import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Pattern;
import javax.measure.Unit;
import javax.measure.UnitConverter;
import systems.uom.ucum.format.UCUMFormat;
import systems.uom.ucum.internal.format.TokenMgrError;
import tech.units.indriya.AbstractUnit;

/** Parses UCUM codes of units that are proportional to an SI unit; keeps what it parsed, bounded. */
final class UcumParser {

    private static final int MAX_LENGTH = 64;
    private static final int MAX_KEPT = 2000;

    /** Curly braces annotate and do not count (UCUM 1.9, §12): {@code {rev}/min} is 1/min, {@code kPa{gauge}} is kPa. */
    private static final Pattern LEADING_ANNOTATION = Pattern.compile("(?<=^|[/.(])\\{[\\x21-\\x7E&&[^{}]]*}");

    private static final Pattern TRAILING_ANNOTATION = Pattern.compile("\\{[\\x21-\\x7E&&[^{}]]*}");

    /** Exponents of three digits and more mean nothing and overflow the parser's stack. */
    private static final Pattern LONG_NUMBER = Pattern.compile("\\d{7,}|(?<=[^\\d/.(])\\d{3,}");

    /** Codes of UCUM that the parser does not know or gets wrong, with what they are made of. */
    private static final Map<String, String> CORRECTED = Map.of(
            // 550 ft·lbf/s; the parser forgets the 550 (UCUM table of British imperial power)
            "[HP]", "745.69987158227022 W");

    private static final UCUMFormat FORMAT = UCUMFormat.getInstance(UCUMFormat.Variant.CASE_SENSITIVE);

    private static final Map<String, Optional<Unit<?>>> PARSED = new ConcurrentHashMap<>();

    private UcumParser() {}

    static boolean isUnit(String code) {
        return CORRECTED.containsKey(code) || parse(code).isPresent();
    }

    /** What one {@code code} is in {@code target}; empty if one of them is no unit or they differ in dimension. */
    static Optional<Double> factor(String code, String target) {
        String corrected = CORRECTED.get(code);
        if (corrected != null) {
            int space = corrected.indexOf(' ');
            return factor(corrected.substring(space + 1), target)
                    .map(factor -> factor * Double.parseDouble(corrected.substring(0, space)));
        }
        return parse(code).flatMap(from -> parse(target).flatMap(to -> factor(from, to)));
    }

    private static Optional<Double> factor(Unit<?> from, Unit<?> to) {
        if (!from.isCompatible(to)) {
            return Optional.empty();
        }
        try {
            UnitConverter converter = from.getConverterToAny(to);
            double zero = converter.convert(0.0);
            double factor = converter.convert(1.0);
            boolean proportional = zero == 0 && Double.isFinite(factor) && factor != 0;
            return proportional ? Optional.of(factor) : Optional.empty();
        } catch (javax.measure.IncommensurableException | RuntimeException cannotConvert) {
            return Optional.empty();
        }
    }

    private static Optional<Unit<?>> parse(String code) {
        if (code.isBlank() || code.length() > MAX_LENGTH) {
            return Optional.empty();
        }
        Optional<Unit<?>> known = PARSED.get(code);
        if (known != null) {
            return known;
        }
        Optional<Unit<?>> unit = parseAnew(code);
        if (PARSED.size() < MAX_KEPT) {
            PARSED.put(code, unit);
        }
        return unit;
    }

    private static synchronized Optional<Unit<?>> parseAnew(String code) {
        String bare = LEADING_ANNOTATION.matcher(code).replaceAll("1");
        bare = TRAILING_ANNOTATION.matcher(bare).replaceAll("");
        if (bare.equals("1")) {
            return Optional.of(AbstractUnit.ONE);
        }
        if (LONG_NUMBER.matcher(bare).find()) {
            return Optional.empty();
        }
        try {
            return Optional.of(FORMAT.parse(bare));
        } catch (RuntimeException | TokenMgrError | StackOverflowError notUcum) {
            return Optional.empty();
        }
    }
}
