package io.loopwarden.pointmap;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import io.loopwarden.fleet.Conversion;
import io.loopwarden.fleet.Quantity;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class UcumUnitsTest {

    /** Factors of the UCUM tables and NIST SP 811 appendix B; digits beyond those given are not checked. */
    @ParameterizedTest(name = "{0} as {1}")
    @CsvSource(quoteCharacter = '"', textBlock = """
            # code,           quantity,               raw,   inside,             relative, source
            [psi],            GAUGE_PRESSURE,         1,     6894.757293168,     1e-12,    UCUM: lbf/in2
            [psi],            DIFFERENTIAL_PRESSURE,  85,    586054.369919,      1e-11,    85 times that
            kPa,              DIFFERENTIAL_PRESSURE,  1,     1000,               0,        SI prefix
            bar,              GAUGE_PRESSURE,         1,     1e5,                0,        UCUM: bar
            mbar,             DIFFERENTIAL_PRESSURE,  1,     100,                1e-15,    UCUM: bar
            Pa,               GAUGE_PRESSURE,         1,     1,                  0,        SI
            [in_i'H2O],       DIFFERENTIAL_PRESSURE,  1,     249.08891,          1e-9,     UCUM: 9.80665 kPa/m times 0.0254 m
            m[H2O],           DIFFERENTIAL_PRESSURE,  1,     9806.65,            1e-12,    UCUM: m[H2O]
            kPa{gauge},       GAUGE_PRESSURE,         2,     2000,               0,        annotations do not count
            [psi]{g},         GAUGE_PRESSURE,         1,     6894.757293168,     1e-12,    annotations do not count
            [gal_us]/min,     VOLUME_FLOW,            1,     6.30901964e-5,      1e-12,    231 in3 a minute
            [gal_us]/min,     VOLUME_FLOW,            500,   0.0315450982,       1e-9,     500 US gal/min is about 31.5 L/s
            L/min,            VOLUME_FLOW,            37.85411784, 6.30901964e-4, 1e-12,   10 US gal/min
            m3/h,             VOLUME_FLOW,            2.2712470704, 6.30901964e-4, 1e-12,  10 US gal/min
            L/s,              VOLUME_FLOW,            31.5,  0.0315,             1e-15,    litre
            m3/s,             VOLUME_FLOW,            1,     1,                  0,        SI
            Cel,              TEMPERATURE,            35.5,  35.5,               0,        inner unit
            [degF],           TEMPERATURE,            100,   37.777777777778,    1e-13,    (100 - 32) 5/9
            [degF],           TEMPERATURE,            32,    0,                  0,        freezing point
            K,                TEMPERATURE,            293.15, 20,                1e-12,    ITS-90 zero
            [degR],           TEMPERATURE,            559.67, 37.777777777778,   1e-12,    100 degF
            K,                TEMPERATURE_DIFFERENCE, 3,     3,                  0,        SI
            [degR],           TEMPERATURE_DIFFERENCE, 10,    5.5555555555556,    1e-13,    a difference has no offset
            %,                RATIO,                  85,    0.85,               1e-15,    UCUM: %
            %{open},          RATIO,                  85,    0.85,               1e-15,    annotations do not count
            1,                RATIO,                  0.5,   0.5,                0,        unity
            kW,               POWER,                  18.5,  18500,              1e-15,    SI prefix
            MW,               POWER,                  1.4,   1.4e6,              1e-15,    SI prefix
            [HP],             POWER,                  1,     745.69987158,       1e-10,    550 ft lbf/s
            [Btu_IT]/h,       POWER,                  12000, 3516.8528,          1e-7,     refrigeration ton
            L,                VOLUME,                 1,     0.001,              0,        litre
            [gal_us],         VOLUME,                 1,     0.003785411784,     1e-13,    231 in3
            h,                DURATION,               1,     3600,               0,        hour
            min,              DURATION,               1,     60,                 0,        minute
            uS/cm,            CONDUCTIVITY,           1,     1e-4,               1e-12,    SI prefixes
            mS/cm,            CONDUCTIVITY,           1,     0.1,                1e-12,    SI prefixes
            [pH],             PH,                     8.2,   8.2,                0,        inner unit
            {count},          COUNT,                  7,     7,                  0,        an annotation alone is unity
            """)
    void convertsToTheInnerUnit(
            String code, Quantity quantity, double raw, double inside, double relative, String source) {
        Conversion conversion = UcumUnits.conversion(code, quantity).known().orElseThrow();
        assertThat(conversion.apply(raw)).as(source).isCloseTo(inside, within(relative * Math.abs(inside) + 1e-14));
        assertThat(conversion.ucum()).isEqualTo(code);
    }

    @ParameterizedTest(name = "{0} as {1}")
    @CsvSource(quoteCharacter = '"', textBlock = """
            # code,     quantity,               says
            [psii],     GAUGE_PRESSURE,         "'[psii]' is not a UCUM unit we know, did you mean '[psi]'?"
            psi,        GAUGE_PRESSURE,         "'psi' is not a UCUM unit we know, did you mean '[psi]'?"
            kpa,        GAUGE_PRESSURE,         "'kpa' is not a UCUM unit we know, did you mean 'kPa'?"
            gpm,        VOLUME_FLOW,            "'gpm' is not a UCUM unit we know, did you mean '[gal_us]/min'?"
            m³/h,       VOLUME_FLOW,            "'m³/h' is not a UCUM unit we know, did you mean 'm3/h'?"
            [psi],      VOLUME_FLOW,            "'[psi]' measures a pressure, not a volume flow, for example 'L/s'"
            kg/s,       VOLUME_FLOW,            "'kg/s' measures something else, not a volume flow"
            C,          TEMPERATURE,            "'C' measures something else, not a temperature, did you mean 'Cel'?"
            °C,         TEMPERATURE,            "did you mean 'Cel'?"
            Cel,        TEMPERATURE_DIFFERENCE, "'Cel' is a temperature with a zero point, a difference needs 'K'"
            [degF],     TEMPERATURE_DIFFERENCE, "a difference needs '[degR]'"
            °F,         TEMPERATURE_DIFFERENCE, "did you mean '[degR]'?"
            kPa,        TEMPERATURE_DIFFERENCE, "'kPa' measures a pressure, not a temperature difference"
            {rev}/min,  RATIO,                  "'{rev}/min' measures a frequency, not a ratio"
            Cel,        RATIO,                  "'Cel' measures a temperature, not a ratio"
            %,          PH,                     "'%' measures a plain number, not a pH, for example '[pH]'"
            " ",        POWER,                  "is not a UCUM unit we know, a power is for example 'kW'"
            m9999,      VOLUME,                 "'m9999' is not a UCUM unit we know"
            ((((,       VOLUME,                 "'((((' is not a UCUM unit we know"
            L/min x,    VOLUME_FLOW,            "'L/min x' is not a UCUM unit we know, did you mean 'L/min'?"
            """)
    void refusesWithAProposal(String code, Quantity quantity, String says) {
        UnitLookup lookup = UcumUnits.conversion(code, quantity);
        assertThat(lookup).isInstanceOf(UnitLookup.Refused.class);
        assertThat(((UnitLookup.Refused) lookup).message()).contains(says);
    }

    @ParameterizedTest
    @EnumSource
    void usualCodesAreKnownAndTheInnerUnitIsUnchanged(Quantity quantity) {
        assertThat(UcumUnits.usual(quantity))
                .isNotEmpty()
                .allSatisfy(
                        code -> assertThat(UcumUnits.conversion(code, quantity).known())
                                .as(code)
                                .isPresent());
        assertThat(UcumUnits.conversion(quantity.ucum(), quantity).known()).contains(Conversion.none(quantity));
    }
}
