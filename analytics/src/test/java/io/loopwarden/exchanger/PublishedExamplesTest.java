package io.loopwarden.exchanger;

import static io.loopwarden.statistics.Values.valueOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Worked examples of textbooks; tolerance 0.5 % against rounded print, tighter against the same sum done again. */
class PublishedExamplesTest {

    /** Incropera and DeWitt, example 11.1: counterflow oil cooler. */
    @Test
    void oilCooler() {
        double hotRate = 0.1 * 2131;
        double coldRate = 0.2 * 4178;
        double dutyW = hotRate * (100 - 60);
        double coldOutletC = 30 + dutyW / coldRate;
        double ua = valueOf(Conductance.byLogMeanWPerK(dutyW, 100, 60, 30, coldOutletC));

        assertThat(dutyW).isCloseTo(8524, withinPercentage(0.01));
        assertThat(coldOutletC).isCloseTo(40.2, within(0.05));
        assertThat(valueOf(LogMean.differenceK(100 - coldOutletC, 60 - 30))).isCloseTo(43.2, within(0.05));
        assertThat(ua).isCloseTo(197.31, withinPercentage(0.005));
        assertThat(ua / (37.8 * Math.PI * 0.025)).as("length, m").isCloseTo(66.5, withinPercentage(0.5));
    }

    /** The same cooler rated from its area; figures recomputed. */
    @Test
    void oilCoolerRated() {
        double hotRate = 0.1 * 2131;
        double capacityRatio = hotRate / (0.2 * 4178);
        double effectiveness = Counterflow.effectivenessRatio(37.8 * 5.223 / hotRate, capacityRatio);

        assertThat(effectiveness).isCloseTo(0.57163, within(0.000005));
        assertThat(effectiveness * hotRate * 70).isCloseTo(8526.9, within(0.05));
    }

    /** Çengel, geothermal water heater: LMTD and effectiveness–NTU give the same area. */
    @Test
    void geothermalHeater() {
        double coldRate = 1.2 * 4180;
        double hotRate = 2 * 4310;
        double dutyW = coldRate * 60;
        double hotOutletC = 160 - dutyW / hotRate;

        assertThat(dutyW).isCloseTo(300_960, within(0.5));
        assertThat(coldRate / hotRate).isCloseTo(0.5819, within(0.0001));
        assertThat(dutyW / (coldRate * 140)).isCloseTo(0.4286, within(0.0001));
        double byNtu = valueOf(Conductance.byEffectivenessWPerK(dutyW, hotRate, coldRate, 160, 20));
        assertThat(byNtu / coldRate).as("NTU").isCloseTo(0.652, within(0.0005));
        assertThat(byNtu / 640).as("area, m2").isCloseTo(5.11, withinPercentage(0.5));
        assertThat(valueOf(Conductance.byLogMeanWPerK(dutyW, 160, hotOutletC, 20, 80)))
                .isCloseTo(byNtu, withinPercentage(1e-9));
    }

    /** Çengel, hot oil in a shell-and-tube exchanger: 2.5 % on the book, which read its effectiveness from a chart. */
    @Test
    void hotOilInShellAndTube() {
        double smaller = 0.3 * 2130;
        double larger = 0.2 * 4180;
        double areaM2 = 8 * Math.PI * 0.014 * 5;
        double effectiveness = OtherArrangements.shellAndTube(310 * areaM2 / smaller, smaller / larger);

        assertThat(effectiveness).isCloseTo(0.47, withinPercentage(2.5)).isCloseTo(0.46202, within(0.000005));
        assertThat(effectiveness * smaller * 130).isCloseTo(39_100, withinPercentage(2.5));
    }

    /** Holman, example 10-9: cross-flow with the larger rate mixed. */
    @Test
    void crossFlowHeater() {
        double smaller = 0.725 * 1900;
        double larger = 5.2 * 1860;
        double effectiveness = OtherArrangements.crossFlowLargerMixed(275 * 10.82 / smaller, smaller / larger);

        assertThat(effectiveness).isCloseTo(0.831218036, within(1e-9));
        assertThat(effectiveness * smaller * 115).isCloseTo(131_675.327, within(0.001));
    }

    /** Incropera and DeWitt, steam condenser: one capacity rate without limit. */
    @Test
    void condenser() {
        double coldRate = 3e4 * 4179;
        double coldOutletC = 20 + 2e9 / coldRate;
        double ntu = valueOf(Counterflow.ntu(2e9 / (coldRate * 30), 0));

        assertThat(coldOutletC).isCloseTo(36.0, within(0.1));
        assertThat(valueOf(LogMean.differenceK(30, 50 - coldOutletC))).isCloseTo(21, within(0.05));
        assertThat(ntu).isCloseTo(0.7588, within(0.00005));
    }

    @ParameterizedTest
    @CsvSource({
        "1, 0.75, 0.472129,          0.499516,       computed independently",
        "2, 0.75, 0.554173,          0.620431,       computed independently",
        "3, 0.75, 0.568430,          0.653550,       computed independently",
        "5, 0.75, 0.571338,          0.665594,       computed independently",
        "5, 0.7,  0.588115606841759, 0.683497704431, documentation of an open heat transfer library"
    })
    void counterflowBeatsOtherArrangements(
            double ntu, double capacityRatio, double parallel, double shellAndTube, String source) {
        assertThat(OtherArrangements.parallel(ntu, capacityRatio)).as(source).isCloseTo(parallel, within(5.1e-7));
        assertThat(OtherArrangements.shellAndTube(ntu, capacityRatio))
                .as(source)
                .isCloseTo(shellAndTube, within(5.1e-7));
        assertThat(Counterflow.effectivenessRatio(ntu, capacityRatio)).isGreaterThan(shellAndTube);
    }

    /** Skid-sized cases with given specific heats, computed independently; printed to 0.1 mK and 0.5 W. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # case, mh, cph, mc, cpc, Thi, Tci, UA kW/K, Cr, NTU, effectiveness, q kW, Tho, Tco, log mean, approach
            C1, 24, 4180, 24, 4180, 44, 30, 250.8, 1.000000, 2.500000, 0.714286, 1003.200, 34.0000, 40.0000, 4.0000, 4.0000
            C2, 22, 3960, 30, 4180, 42, 30, 264.5, 0.694737, 3.036042, 0.833340, 871.207, 31.9999, 36.9474, 3.2938, 1.9999
            C3, 30, 3960, 22, 4180, 46, 30, 418.2, 0.774074, 4.547629, 0.888144, 1306.780, 35.0002, 44.2103, 3.1248, 5.0002
            C4, 48, 4180, 52, 4180, 45, 32, 595.4, 0.923077, 2.967504, 0.769240, 2006.425, 34.9999, 41.2309, 3.3699, 2.9999
            C5, 27, 3960, 26, 4180, 32, 22, 313.2, 0.983806, 2.929293, 0.749993, 801.892, 24.5001, 29.3785, 2.5603, 2.5001
            C6, 24, 3960, 20, 4180, 52, 30, 315.3, 0.879630, 3.771531, 0.826790, 1520.632, 36.0001, 48.1894, 4.8228, 6.0001
            """)
    void plateCases(
            String name,
            double mh,
            double cph,
            double mc,
            double cpc,
            double thi,
            double tci,
            double ua,
            double cr,
            double ntu,
            double effectiveness,
            double q,
            double tho,
            double tco,
            double logMean,
            double approach) {
        double hotRate = mh * cph;
        double coldRate = mc * cpc;
        double smaller = Math.min(hotRate, coldRate);
        double ratio = smaller / Math.max(hotRate, coldRate);
        double found = Counterflow.effectivenessRatio(1e3 * ua / smaller, ratio);
        double dutyW = found * smaller * (thi - tci);
        double hotOutletC = thi - dutyW / hotRate;
        double coldOutletC = tci + dutyW / coldRate;

        assertThat(ratio).isCloseTo(cr, within(5.1e-7));
        assertThat(1e3 * ua / smaller).isCloseTo(ntu, within(5.1e-7));
        assertThat(found).isCloseTo(effectiveness, within(5.1e-7));
        assertThat(dutyW).isCloseTo(1e3 * q, within(0.51));
        assertThat(hotOutletC).isCloseTo(tho, within(5.1e-5));
        assertThat(coldOutletC).isCloseTo(tco, within(5.1e-5));
        assertThat(valueOf(LogMean.differenceK(thi - coldOutletC, hotOutletC - tci)))
                .isCloseTo(logMean, within(5.1e-5));
        assertThat(hotOutletC - tci).isCloseTo(approach, within(5.1e-5));
        assertThat(valueOf(Conductance.byLogMeanWPerK(dutyW, thi, hotOutletC, tci, coldOutletC)))
                .isCloseTo(1e3 * ua, withinPercentage(1e-7));
        assertThat(valueOf(Conductance.byEffectivenessWPerK(dutyW, hotRate, coldRate, thi, tci)))
                .isCloseTo(1e3 * ua, withinPercentage(1e-7));
    }

    /** Slope of the approach with UA at constant duty, and what 10 % of UA cost, computed independently. */
    @ParameterizedTest
    @CsvSource(textBlock = """
            # case, mh, cph, mc, cpc, UA kW/K, q kW, da/dUA K per kW/K, rise for UA less 10 % K
            C1, 24, 4180, 24, 4180, 250.8, 1003.200, -0.015949, 0.4444
            C2, 22, 3960, 30, 4180, 264.5, 871.207,  -0.011599, 0.3433
            C3, 30, 3960, 22, 4180, 418.2, 1306.780, -0.006848, 0.3210
            C4, 48, 4180, 52, 4180, 595.4, 2006.425, -0.005635, 0.3730
            C5, 27, 3960, 26, 4180, 313.2, 801.892,  -0.008173, 0.2844
            C6, 24, 3960, 20, 4180, 315.3, 1520.632, -0.015036, 0.5277
            """)
    void approachAndItsSlope(
            String name, double mh, double cph, double mc, double cpc, double ua, double q, double slope, double rise) {
        double before = Approach.atDutyK(1e3 * q, 1e3 * ua, mh * cph, mc * cpc);
        double after = Approach.atDutyK(1e3 * q, 0.9e3 * ua, mh * cph, mc * cpc);
        assertThat(after - before).isCloseTo(rise, within(5.1e-5));
        assertThat(1e3 * Approach.perConductanceK2PerW(1e3 * q, 1e3 * ua, mh * cph, mc * cpc))
                .isCloseTo(slope, within(5.1e-7));
    }

    /** The controller holds 34 over 30 °C by opening the valve; UA is told all the same, from the FWS return. */
    @ParameterizedTest
    @CsvSource({
        "250.80, 24.000, 40.000",
        "238.26, 25.074, 39.572",
        "225.72, 26.434, 39.079",
        "213.18, 28.203, 38.510",
        "200.64, 30.590, 37.846",
        "188.10, 33.967, 37.066",
        "175.56, 39.087, 36.140"
    })
    void flatApproachHidesNothing(double uaKWPerK, double coldKgPerS, double coldOutletC) {
        double dutyW = 24 * 4180 * 10;
        assertThat(valueOf(Conductance.byLogMeanWPerK(dutyW, 44, 34, 30, coldOutletC)))
                .isCloseTo(1e3 * uaKWPerK, withinPercentage(0.02));
        assertThat(valueOf(Conductance.byEffectivenessWPerK(dutyW, 24 * 4180, coldKgPerS * 4180, 44, 30)))
                .isCloseTo(1e3 * uaKWPerK, withinPercentage(0.005));
    }
}
