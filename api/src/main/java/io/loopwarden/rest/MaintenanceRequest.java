package io.loopwarden.rest;

import io.loopwarden.fleet.PointName;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.maintenance.Amount;
import io.loopwarden.maintenance.MaintenanceEntry;
import io.loopwarden.maintenance.MaintenanceKind;
import io.loopwarden.maintenance.Replacement;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Pattern;

/**
 * A maintenance entry as it is sent.
 *
 * @param id chosen by the sender, so that sending it again does no harm; made here if absent
 * @param until when the work ended; absent: it took no time
 */
public record MaintenanceRequest(
        UUID id,
        String kind,
        String part,
        String from,
        String until,
        String note,
        Double amount,
        String amountUnit,
        String serial,
        String supplier,
        String model) {

    private static final int MOST_TEXT = 2000;
    private static final int MOST_NAME = 120;
    private static final Duration AHEAD = Duration.ofMinutes(5);
    private static final Pattern PART =
            Pattern.compile("exchanger(\\.\\d{1,2})?|tcs\\.filter(\\.\\d{1,2})?|fws\\.strainer|pump(\\.\\d{1,2})?");

    MaintenanceEntry entry(UnitId unit, String by, Instant now) {
        try {
            MaintenanceKind given = MaintenanceKind.of(text("kind", kind, MOST_NAME));
            if (given == MaintenanceKind.WITHDRAWAL) {
                throw new IllegalArgumentException("an entry is withdrawn at .../maintenance/{id}/withdrawal");
            }
            Instant begin = time("from", from);
            Instant end = until == null || until.isBlank() ? begin : time("until", until);
            if (begin.isAfter(now.plus(AHEAD))) {
                throw new IllegalArgumentException("'from' is " + begin + ", which is still to come; it is " + now);
            }
            return new MaintenanceEntry(
                    id == null ? UUID.randomUUID() : id,
                    unit,
                    given,
                    part(given),
                    begin,
                    end,
                    by,
                    now,
                    text("note", note, MOST_TEXT),
                    amount(given),
                    replacement(given),
                    Optional.empty());
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }

    private Optional<String> part(MaintenanceKind given) {
        String name = text("part", part, MOST_NAME).strip();
        boolean needed = given == MaintenanceKind.CLEANING
                || given == MaintenanceKind.FILTER_CHANGE
                || given == MaintenanceKind.CALIBRATION
                || given == MaintenanceKind.READING
                || given == MaintenanceKind.PART_REPLACED
                || given == MaintenanceKind.CONFIRMATION;
        if (name.isEmpty()) {
            if (needed) {
                throw new IllegalArgumentException("'" + given.word()
                        + "' needs a part: exchanger, tcs.filter.1, fws.strainer, pump.1 or a point's name");
            }
            return Optional.empty();
        }
        if (!PART.matcher(name).matches()) {
            PointName.of(name);
        }
        return Optional.of(name);
    }

    private Optional<Amount> amount(MaintenanceKind given) {
        if (amount == null) {
            if (given == MaintenanceKind.READING) {
                throw new IllegalArgumentException("'reading' needs an amount and its unit");
            }
            return Optional.empty();
        }
        String unit = text("amountUnit", amountUnit, MOST_NAME).strip();
        if (unit.isEmpty()) {
            throw new IllegalArgumentException("'amountUnit' is missing beside 'amount': a UCUM code such as L");
        }
        if ((given == MaintenanceKind.TOP_UP || given == MaintenanceKind.DRAIN) && amount <= 0) {
            throw new IllegalArgumentException("'amount' is " + amount + ", must be more than 0");
        }
        return Optional.of(new Amount(amount, unit));
    }

    private Optional<Replacement> replacement(MaintenanceKind given) {
        if (given != MaintenanceKind.PART_REPLACED && given != MaintenanceKind.FILTER_CHANGE) {
            return Optional.empty();
        }
        Replacement sent = new Replacement(
                text("serial", serial, MOST_NAME).strip(),
                text("supplier", supplier, MOST_NAME).strip(),
                text("model", model, MOST_NAME).strip());
        return given == MaintenanceKind.FILTER_CHANGE && sent.equals(new Replacement("", "", ""))
                ? Optional.empty()
                : Optional.of(sent);
    }

    static String text(String name, String value, int most) {
        String text = value == null ? "" : value;
        if (text.length() > most) {
            throw new IllegalArgumentException("'" + name + "' has " + text.length() + " characters, at most " + most);
        }
        if (text.chars().anyMatch(c -> Character.isISOControl(c) && c != '\n' && c != '\r' && c != '\t')) {
            throw new IllegalArgumentException("'" + name + "' contains control characters");
        }
        return text;
    }

    private static Instant time(String name, String text) {
        try {
            return Instant.parse(text == null ? "" : text);
        } catch (DateTimeParseException e) {
            throw new IllegalArgumentException(
                    "'" + name + "' is '" + text + "', must be a time such as 2026-11-25T08:00:00Z", e);
        }
    }
}
