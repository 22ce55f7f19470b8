package io.loopwarden.store;

import java.util.Optional;

/**
 * What following the chain of the audit trail found.
 *
 * @param entries how many were read
 * @param lastHash hash of the newest; keep it elsewhere and compare later
 * @param fault what does not fit, in words; empty when all is as it was written
 */
public record AuditCheck(long entries, String lastHash, Optional<String> fault) {

    /** The newest entry as noted outside the database. */
    record Head(long number, String hash) {

        static Head parse(String line) {
            String[] parts = line.strip().split(" ");
            if (parts.length != 2 || !parts[0].matches("\\d{1,18}") || !parts[1].matches("[0-9a-f]{64}")) {
                throw new IllegalArgumentException("the note of the newest audit entry is damaged: '" + line.strip()
                        + "', must be a number and a SHA-256 hash");
            }
            return new Head(Long.parseLong(parts[0]), parts[1]);
        }
    }

    /** Goes from the first entry to the last and keeps the first fault. */
    static final class Walk {

        private final Optional<Head> head;
        private long count;
        private String last = AuditEntry.BEGINNING;
        private String fault;

        Walk(Optional<Head> head) {
            this.head = head;
        }

        void next(AuditEntry entry, String storedHash) {
            count++;
            if (entry.number() != count) {
                note("entry " + count + " is missing");
            } else if (!entry.previousHash().equals(last)) {
                note("entry " + entry.number() + " does not follow the one before it: that one was changed");
            } else if (!entry.hash().equals(storedHash)) {
                note("entry " + entry.number() + " was changed after it was written");
            }
            last = storedHash;
            head.filter(h -> h.number() == entry.number() && !h.hash().equals(storedHash))
                    .ifPresent(h -> note("entry " + h.number() + " differs from what was noted outside the database"));
        }

        private void note(String what) {
            if (fault == null) {
                fault = what;
            }
        }

        AuditCheck end() {
            head.filter(h -> h.number() > count)
                    .ifPresent(h -> note("entries after " + count + " are missing; the newest was " + h.number()));
            return new AuditCheck(count, last, Optional.ofNullable(fault));
        }
    }
}
