package io.loopwarden.security;

import io.loopwarden.store.PeopleTable;
import io.loopwarden.store.SignInRow;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/** Open sign-ins, held in memory so that a request costs no query, and in the store so that they outlive a restart. */
final class Sessions {

    private static final int MOST_PER_PERSON = 20;

    private final PeopleTable table;
    private final Duration idle;
    private final Duration longest;
    private final Clock clock;
    private final Map<String, Session> byHash = new ConcurrentHashMap<>();

    Sessions(PeopleTable table, Duration idle, Duration longest, Clock clock) {
        this.table = table;
        this.idle = idle;
        this.longest = longest;
        this.clock = clock;
    }

    void load() throws SQLException {
        Instant now = clock.instant();
        table.dropSignInsBefore(now);
        for (SignInRow row : table.signIns()) {
            byHash.put(row.sessionHashHex(), new Session(row.person(), row.begunAt(), row.until(), now));
        }
    }

    /** Answers the token that the browser is to keep; nobody else ever has it. */
    String open(String person) throws SQLException {
        Instant now = clock.instant();
        String token = Secrets.newToken();
        String hash = Secrets.sha256Hex(token);
        table.add(new SignInRow(hash, person, now, now.plus(longest)));
        byHash.put(hash, new Session(person, now, now.plus(longest), now));
        endOldest(person);
        return token;
    }

    private void endOldest(String person) throws SQLException {
        List<String> oldestFirst = byHash.entrySet().stream()
                .filter(entry -> entry.getValue().person().equals(person))
                .sorted(Comparator.comparing(entry -> entry.getValue().begunAt()))
                .map(Map.Entry::getKey)
                .toList();
        for (String hash : oldestFirst.subList(0, Math.max(0, oldestFirst.size() - MOST_PER_PERSON))) {
            end(hash);
        }
    }

    /** The person whose browser sent this token, if the session still runs. */
    Optional<String> person(String hash) {
        Session session = byHash.get(hash);
        if (session == null) {
            return Optional.empty();
        }
        Instant now = clock.instant();
        if (session.isOver(now, idle)) {
            byHash.remove(hash);
            return Optional.empty();
        }
        session.seen(now);
        return Optional.of(session.person());
    }

    void end(String hash) throws SQLException {
        byHash.remove(hash);
        table.endSignIn(hash);
    }

    void endAllOf(String person) throws SQLException {
        byHash.values().removeIf(session -> session.person().equals(person));
        table.endSignInsOf(person);
    }
}
