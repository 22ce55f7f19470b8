package io.loopwarden.store;

import java.time.Duration;
import java.time.Period;
import java.util.Objects;

/**
 * How the store works.
 *
 * @param bulkCopy write frames by COPY; off for servers that cannot, then by batched INSERT
 * @param timescale use TimescaleDB where the server has it; off: native partitions even there
 * @param closeAfter an hour is closed (rolled up, its frames joined) so long after its end
 * @param settleFor a late sample's hour is closed again when so long nothing more came for it
 * @param keepSamples how long samples are kept
 * @param keepMinutes how long roll-ups of 1 minute are kept
 * @param keepHours how long roll-ups of 1 hour are kept
 * @param compressAfter TimescaleDB compresses what is older
 * @param networkTimeout a server that does not answer for so long counts as away
 */
public record StoreSettings(
        boolean bulkCopy,
        boolean timescale,
        Duration closeAfter,
        Duration settleFor,
        Period keepSamples,
        Period keepMinutes,
        Period keepHours,
        Period compressAfter,
        Duration networkTimeout) {

    public static final StoreSettings DEFAULT = new StoreSettings(
            true,
            true,
            Duration.ofMinutes(2),
            Duration.ofSeconds(30),
            Period.ofDays(400),
            Period.ofDays(800),
            Period.ofDays(3653),
            Period.ofDays(8),
            Duration.ofSeconds(60));

    public StoreSettings {
        Objects.requireNonNull(closeAfter, "closeAfter");
        Objects.requireNonNull(settleFor, "settleFor");
        Objects.requireNonNull(networkTimeout, "networkTimeout");
        requireDays("keepSamples", keepSamples);
        requireDays("keepMinutes", keepMinutes);
        requireDays("keepHours", keepHours);
        requireDays("compressAfter", compressAfter);
    }

    private static void requireDays(String name, Period period) {
        if (period.getDays() <= 0 || period.toTotalMonths() != 0) {
            throw new IllegalArgumentException(name + " is " + period + ", must be a number of days > 0");
        }
    }

    /** For servers without COPY. */
    public StoreSettings withoutCopy() {
        return new StoreSettings(
                false,
                timescale,
                closeAfter,
                settleFor,
                keepSamples,
                keepMinutes,
                keepHours,
                compressAfter,
                networkTimeout);
    }
}
