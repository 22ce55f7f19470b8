package io.loopwarden.maintenance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import io.loopwarden.fleet.UnitId;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class MaintenanceLogTest {

    private static final UnitId UNIT = new UnitId("E-07");
    private static final Instant MARCH = Instant.parse("2026-03-01T08:00:00Z");
    private static final Instant JUNE = Instant.parse("2026-06-01T08:00:00Z");

    private final MaintenanceEntry inJune = entry(MaintenanceKind.FILTER_CHANGE, "tcs.filter.2", JUNE, null);
    private final MaintenanceEntry inMarch = entry(MaintenanceKind.FILTER_CHANGE, "tcs.filter.2", MARCH, null);
    private final MaintenanceEntry otherFilter = entry(MaintenanceKind.FILTER_CHANGE, "tcs.filter.1", JUNE, null);

    @Test
    void orderOfArrivalDoesNotMatterAndARepeatedEntryCountsOnce() {
        MaintenanceLog one = MaintenanceLog.EMPTY.with(inJune).with(inMarch).with(inJune);

        assertThat(one).isEqualTo(MaintenanceLog.EMPTY.with(inMarch).with(inJune));
        assertThat(one.entries()).containsExactly(inMarch, inJune);
    }

    @Test
    void aWithdrawnEntryNoLongerHoldsButStaysWritten() {
        MaintenanceEntry withdrawal = entry(MaintenanceKind.WITHDRAWAL, null, JUNE, inJune.id());
        MaintenanceLog log = MaintenanceLog.EMPTY.with(withdrawal).with(inMarch).with(inJune);

        assertThat(log.entries()).containsExactly(inMarch);
        assertThat(log.written()).contains(inJune, withdrawal);
        assertThat(log.last(MaintenanceKind.FILTER_CHANGE, "tcs.filter.2", JUNE))
                .contains(MARCH);
    }

    @Test
    void lastWorkIsOfThatPartAndNotLaterThanAsked() {
        MaintenanceLog log = MaintenanceLog.EMPTY.with(inMarch).with(inJune).with(otherFilter);

        assertThat(log.last(MaintenanceKind.FILTER_CHANGE, "tcs.filter.2", JUNE.minusSeconds(1)))
                .contains(MARCH);
        assertThat(log.last(MaintenanceKind.FILTER_CHANGE, "tcs.filter.1", MARCH))
                .isEmpty();
    }

    @Test
    void workOnABankConcernsEachOfIt() {
        MaintenanceEntry bank = entry(MaintenanceKind.CLEANING, "exchanger", MARCH, null);

        assertThat(bank.concerns("exchanger.1")).isTrue();
        assertThat(bank.concerns("exchanger")).isTrue();
        assertThat(bank.concerns("exchangers")).isFalse();
        assertThat(inMarch.concerns("tcs.filter.1")).isFalse();
    }

    @Test
    void refusesWorkThatEndsBeforeItBeginsAndAWithdrawalOfNothing() {
        assertThatThrownBy(() -> new MaintenanceEntry(
                        UUID.randomUUID(),
                        UNIT,
                        MaintenanceKind.DRAIN,
                        Optional.empty(),
                        JUNE,
                        MARCH,
                        "night shift",
                        JUNE,
                        "",
                        Optional.of(new Amount(20, "L")),
                        Optional.empty(),
                        Optional.empty()))
                .hasMessageContaining("before it begins");
        assertThatThrownBy(() -> entry(MaintenanceKind.WITHDRAWAL, null, JUNE, null))
                .hasMessageContaining("withdrawal");
        assertThatThrownBy(() -> MaintenanceKind.of("polish")).hasMessageContaining("filter-change");
    }

    private static MaintenanceEntry entry(MaintenanceKind kind, String part, Instant at, UUID withdraws) {
        return new MaintenanceEntry(
                UUID.randomUUID(),
                UNIT,
                kind,
                Optional.ofNullable(part),
                at,
                at,
                "night shift",
                at,
                "",
                Optional.empty(),
                Optional.empty(),
                Optional.ofNullable(withdraws));
    }
}
