package io.loopwarden.security;

import io.loopwarden.service.LoopwardenConfig;
import io.loopwarden.service.LoopwardenService;
import io.loopwarden.store.PeopleTable;
import io.loopwarden.store.PersonRow;
import jakarta.enterprise.context.ApplicationScoped;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Pattern;

/** Local accounts: who may sign in, with what role, and their open sign-ins. One process writes, so memory is right. */
@ApplicationScoped
public class People {

    /** A token made for somebody, to be told once. */
    public record NewToken(String name, String token, Instant until) {}

    private static final Pattern NAME = Pattern.compile("[a-z0-9][a-z0-9._@-]{0,63}");
    private static final Duration TOKEN_LIFE = Duration.ofHours(72);
    private static final int FREE_FAILURES_PER_NAME = 5;
    private static final int FREE_FAILURES_PER_ADDRESS = 30;

    private final PeopleTable table;
    private final Sessions sessions;
    private final Clock clock;
    private final AttemptLimit byName;
    private final AttemptLimit byAddress;
    private final Map<String, Person> people = new ConcurrentHashMap<>();
    /** Hash of the token for the very first sign-in; only in memory, made anew at each start. */
    private volatile Optional<String> firstTokenHash = Optional.empty();

    People(LoopwardenService service, LoopwardenConfig settings, Clock clock) {
        this.table = service.store().people();
        this.sessions = new Sessions(
                table, settings.security().sessionIdle(), settings.security().sessionLongest(), clock);
        this.clock = clock;
        this.byName = new AttemptLimit(FREE_FAILURES_PER_NAME, clock);
        this.byAddress = new AttemptLimit(FREE_FAILURES_PER_ADDRESS, clock);
    }

    /** Reads who there is; answers a token for the first sign-in when nobody can administer yet. */
    synchronized Optional<String> load() throws SQLException {
        for (PersonRow row : table.people()) {
            people.put(row.name(), Person.of(row));
        }
        sessions.load();
        if (people.values().stream().anyMatch(People::administers)) {
            return Optional.empty();
        }
        String token = Secrets.newToken();
        firstTokenHash = Optional.of(Secrets.sha256Hex(token));
        return Optional.of(token);
    }

    private static boolean administers(Person person) {
        return person.role() == Role.ADMINISTRATOR && person.canSignIn();
    }

    public Attempt signIn(String nameAsTyped, String password, String address) throws SQLException {
        String name = normal(nameAsTyped);
        Optional<Attempt> limited = limited(name, address);
        if (limited.isPresent()) {
            return limited.get();
        }
        Optional<Person> person = Optional.ofNullable(people.get(name)).filter(Person::canSignIn);
        if (password.length() > Secrets.LONGEST_PASSWORD
                || !Secrets.verify(password, person.flatMap(Person::passwordHash))) {
            return failed(name, address, "name or password is wrong");
        }
        return opened(person.orElseThrow(), address);
    }

    /** Chooses a password with a one-time token and signs in. */
    public synchronized Attempt redeem(String token, String nameAsTyped, String password, String address)
            throws SQLException {
        String name = normal(nameAsTyped);
        Optional<Attempt> limited = limited(name, address);
        if (limited.isPresent()) {
            return limited.get();
        }
        Optional<Person> person = holder(token, name);
        if (person.isEmpty()) {
            return failed(name, address, "the token is wrong, used up or too old, or it belongs to another name");
        }
        Optional<String> fault = Secrets.fault(password, name);
        if (fault.isPresent()) {
            return new Attempt.Refused(fault.get());
        }
        put(person.get().withPassword(Secrets.hashPassword(password)));
        if (administers(people.get(name))) {
            firstTokenHash = Optional.empty();
        }
        return opened(people.get(name), address);
    }

    private Optional<Person> holder(String token, String name) {
        String hash = Secrets.sha256Hex(token);
        Instant now = clock.instant();
        if (firstTokenHash.filter(first -> Secrets.same(first, hash)).isPresent()
                && NAME.matcher(name).matches()) {
            return Optional.of(new Person(
                    name, Role.ADMINISTRATOR, true, Optional.empty(), Optional.empty(), now, "first sign-in"));
        }
        return Optional.ofNullable(people.get(name))
                .filter(Person::active)
                .filter(person -> person.token()
                        .filter(row -> Secrets.same(row.hashHex(), hash) && now.isBefore(row.until()))
                        .isPresent());
    }

    private Optional<Attempt> limited(String name, String address) {
        Duration one = byName.wait(name);
        Duration other = byAddress.wait(address);
        Duration wait = one.compareTo(other) > 0 ? one : other;
        return wait.isZero() ? Optional.empty() : Optional.of(new Attempt.TooMany(wait));
    }

    private Attempt failed(String name, String address, String detail) {
        byName.failed(name);
        byAddress.failed(address);
        return new Attempt.Refused(detail);
    }

    private Attempt opened(Person person, String address) throws SQLException {
        byName.succeeded(person.name());
        byAddress.succeeded(address);
        return new Attempt.Opened(person.name(), person.role(), sessions.open(person.name()));
    }

    public void signOut(String sessionHash) throws SQLException {
        sessions.end(sessionHash);
    }

    /** @throws IllegalArgumentException if the old password is wrong or the new one will not do; says which */
    public synchronized void changePassword(String name, String old, String fresh) throws SQLException {
        Person person = person(name);
        if (!byName.wait(name).isZero()
                || old.length() > Secrets.LONGEST_PASSWORD
                || !Secrets.verify(old, person.passwordHash())) {
            byName.failed(name);
            throw new IllegalArgumentException("the old password is wrong, or was wrong too often: wait a while");
        }
        Secrets.fault(fresh, name).ifPresent(fault -> {
            throw new IllegalArgumentException(fault);
        });
        put(person.withPassword(Secrets.hashPassword(fresh)));
        sessions.endAllOf(name);
    }

    /** A person as administrators see them. */
    public record View(
            String name,
            String role,
            boolean active,
            boolean hasPassword,
            Optional<Instant> tokenUntil,
            Instant createdAt,
            String createdBy) {

        static View of(Person person) {
            return new View(
                    person.name(),
                    person.role().word(),
                    person.active(),
                    person.passwordHash().isPresent(),
                    person.token().map(PersonRow.TokenRow::until),
                    person.createdAt(),
                    person.createdBy());
        }
    }

    public List<View> all() {
        return people.values().stream()
                .sorted(Comparator.comparing(Person::name))
                .map(View::of)
                .toList();
    }

    public synchronized NewToken add(String nameAsTyped, Role role, String by) throws SQLException {
        String name = normal(nameAsTyped);
        if (!NAME.matcher(name).matches()) {
            throw new IllegalArgumentException("'" + name + "' is no name: up to 64 letters, digits and . _ @ -");
        }
        if (people.containsKey(name)) {
            throw new IllegalArgumentException("there is a person '" + name + "' already");
        }
        put(new Person(name, role, true, Optional.empty(), Optional.empty(), clock.instant(), by));
        return freshToken(name);
    }

    /** Ends the person's password and open sign-ins and answers a token for choosing a new password. */
    public synchronized NewToken reset(String name) throws SQLException {
        Person person = person(name);
        requireAnotherAdministrator(person);
        sessions.endAllOf(name);
        return freshToken(name);
    }

    private NewToken freshToken(String name) throws SQLException {
        String token = Secrets.newToken();
        Instant until = clock.instant().plus(TOKEN_LIFE);
        put(person(name).withToken(new PersonRow.TokenRow(Secrets.sha256Hex(token), until)));
        return new NewToken(name, token, until);
    }

    public synchronized void change(String name, Role role, boolean active) throws SQLException {
        Person person = person(name);
        if (role != Role.ADMINISTRATOR || !active) {
            requireAnotherAdministrator(person);
        }
        put(person.with(role, active));
        if (!active) {
            sessions.endAllOf(name);
        }
    }

    private void requireAnotherAdministrator(Person person) {
        if (administers(person)
                && people.values().stream().filter(People::administers).count() == 1) {
            throw new IllegalArgumentException(
                    person.name() + " is the only administrator; make another person administrator first");
        }
    }

    /** @throws java.util.NoSuchElementException if there is nobody of that name */
    private Person person(String name) {
        return Optional.ofNullable(people.get(name))
                .orElseThrow(() -> new java.util.NoSuchElementException("there is no person '" + name + "'"));
    }

    private void put(Person person) throws SQLException {
        table.put(person.row());
        people.put(person.name(), person);
    }

    /** The person whose browser sent the token. */
    Optional<Person> signedIn(String sessionHash) {
        return sessions.person(sessionHash).map(people::get).filter(Person::active);
    }

    private static String normal(String name) {
        return name.strip().toLowerCase(Locale.ROOT);
    }
}
