package io.loopwarden.inventory;

/** A tray or rope switch: wet counts once it stays, and a switch that chatters or fails counts as nothing. For one thread. */
final class WetSwitch {

    private static final int STAYS_MINUTES = 1;
    private static final int MOST_CHANGES = 6;
    private static final double FADES_PER_MINUTE = 0.9;

    private boolean fitted;
    private boolean last;
    private boolean everDry;
    private int wetMinutes;
    private double changes;
    private boolean bad;

    void accept(Span span) {
        bad = span.bad() > 0 && !span.seen();
        changes *= FADES_PER_MINUTE;
        if (!span.seen()) {
            return;
        }
        fitted = true;
        boolean mixed = span.most() > 0.5 && span.least() < 0.5;
        boolean wet = span.last() > 0.5;
        changes += mixed ? 2 : wet != last ? 1 : 0;
        everDry |= span.least() < 0.5;
        last = wet;
        wetMinutes = wet && !mixed ? wetMinutes + 1 : 0;
    }

    boolean fitted() {
        return fitted;
    }

    /** Changes too often, says itself that it failed, or was never seen dry. */
    boolean wiringSuspect() {
        return bad || changes >= MOST_CHANGES || fitted && !everDry && wetMinutes > 24 * 60;
    }

    boolean wet() {
        return wetMinutes >= STAYS_MINUTES && !wiringSuspect();
    }

    boolean dry() {
        return fitted && !last && !wiringSuspect();
    }
}
