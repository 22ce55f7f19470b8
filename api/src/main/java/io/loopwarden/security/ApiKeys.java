package io.loopwarden.security;

import io.loopwarden.service.LoopwardenService;
import io.loopwarden.store.KeyRow;
import io.loopwarden.store.PeopleTable;
import jakarta.enterprise.context.ApplicationScoped;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/** Keys for programs: {@code lw_ID_SECRET}, sent as {@code Authorization: Bearer …}. Only a hash of the secret is kept. */
@ApplicationScoped
public class ApiKeys {

    /** A key as it was made, to be told once. */
    public record NewKey(String id, String key) {}

    static final String PREFIX = "lw_";
    private static final int MOST_KEYS = 1_000;
    private static final int LONGEST_LABEL = 100;

    private final PeopleTable table;
    private final Clock clock;
    private final Map<String, KeyRow> keys = new ConcurrentHashMap<>();

    ApiKeys(LoopwardenService service, Clock clock) {
        this.table = service.store().people();
        this.clock = clock;
    }

    void load() throws SQLException {
        table.keys().forEach(key -> keys.put(key.id(), key));
    }

    public synchronized NewKey add(String label, Role role, List<String> areas, Optional<Duration> life, String by)
            throws SQLException {
        if (label.isBlank() || label.length() > LONGEST_LABEL) {
            throw new IllegalArgumentException(
                    "a key needs a label of 1 to " + LONGEST_LABEL + " characters that says what it is for");
        }
        List<String> known = AccessTable.areas();
        for (String area : areas) {
            if (!known.contains(area)) {
                throw new IllegalArgumentException("there is no area '" + area + "'; the areas are " + known);
            }
        }
        if (keys.size() >= MOST_KEYS) {
            throw new IllegalArgumentException("there are " + MOST_KEYS + " keys; take back those that nobody uses");
        }
        String id = Secrets.newToken().replaceAll("[^A-Za-z0-9]", "").substring(0, 10);
        String secret = Secrets.newToken();
        Instant now = clock.instant();
        KeyRow key = new KeyRow(
                id, label.strip(), role.word(), areas, Secrets.sha256Hex(secret), life.map(now::plus), now, by);
        table.add(key);
        keys.put(id, key);
        return new NewKey(id, PREFIX + id + "_" + secret);
    }

    public synchronized void drop(String id) throws SQLException {
        if (!keys.containsKey(id)) {
            throw new NoSuchElementException("there is no key '" + id + "'");
        }
        table.dropKey(id);
        keys.remove(id);
    }

    public List<KeyRow> all() {
        return keys.values().stream()
                .sorted(Comparator.comparing(KeyRow::createdAt))
                .toList();
    }

    Optional<KeyRow> find(String sent) {
        String[] parts = sent.split("_", 3);
        if (parts.length != 3 || !sent.startsWith(PREFIX)) {
            return Optional.empty();
        }
        return Optional.ofNullable(keys.get(parts[1]))
                .filter(key -> Secrets.same(key.secretHashHex(), Secrets.sha256Hex(parts[2])))
                .filter(key -> key.until().map(clock.instant()::isBefore).orElse(true));
    }
}
