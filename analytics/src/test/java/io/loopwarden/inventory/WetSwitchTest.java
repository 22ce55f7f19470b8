package io.loopwarden.inventory;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class WetSwitchTest {

    private static final Span DRY = new Span(0, 0, 0, 0, 60, 0);
    private static final Span WET = new Span(1, 1, 1, 1, 60, 0);
    private static final Span MIXED = new Span(0.5, 0, 1, 1, 60, 0);
    private static final Span FAILED = new Span(0, 0, 0, 0, 0, 60);

    @Test
    void aSplashIsNotWetButAMinuteIs() {
        WetSwitch tray = new WetSwitch();
        tray.accept(DRY);
        assertThat(tray.dry()).isTrue();
        tray.accept(MIXED);
        assertThat(tray.wet()).isFalse();
        tray.accept(WET);
        assertThat(tray.wet()).isTrue();
    }

    @Test
    void aSwitchThatChattersCountsAsNothing() {
        WetSwitch tray = new WetSwitch();
        for (int i = 0; i < 6; i++) {
            tray.accept(MIXED);
        }
        tray.accept(WET);
        assertThat(tray.wiringSuspect()).isTrue();
        assertThat(tray.wet()).isFalse();
        assertThat(tray.dry()).isFalse();
    }

    @Test
    void aSwitchThatFailsOrWasNeverDryIsSuspect() {
        WetSwitch failed = new WetSwitch();
        failed.accept(DRY);
        failed.accept(FAILED);
        assertThat(failed.wiringSuspect()).isTrue();
        WetSwitch neverDry = new WetSwitch();
        for (int minute = 0; minute < 24 * 60 + 2; minute++) {
            neverDry.accept(WET);
        }
        assertThat(neverDry.wiringSuspect()).isTrue();
    }
}
