package io.loopwarden.service;

import io.agroal.api.AgroalDataSource;
import io.agroal.api.configuration.supplier.AgroalDataSourceConfigurationSupplier;
import io.agroal.api.security.NamePrincipal;
import io.agroal.api.security.SimplePassword;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.samplelog.StoredCounts;
import io.loopwarden.store.AuditTable;
import io.loopwarden.store.EmbeddedStore;
import io.loopwarden.store.FigureSettings;
import io.loopwarden.store.FigureStore;
import io.loopwarden.store.Flavour;
import io.loopwarden.store.MaintenanceStore;
import io.loopwarden.store.PeopleTable;
import io.loopwarden.store.SampleReader;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import io.loopwarden.store.StoreUpkeep;
import io.loopwarden.store.UnitMemories;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Period;
import java.util.Map;
import java.util.Optional;
import javax.sql.DataSource;

/** The store as the service holds it: its own PostgreSQL or somebody's, a connection pool, reader, writer, upkeep. */
public final class StoreAccess implements AutoCloseable {

    private static final int CONNECTIONS = 10;
    private static final Duration CLOSE_HOURS_EVERY = Duration.ofSeconds(10);
    private static final Duration CONNECTION_WAIT = Duration.ofSeconds(5);

    private final Optional<EmbeddedStore> embedded;
    private final AgroalDataSource pool;
    private final SampleStore samples;
    private final FigureStore figures;
    private final MaintenanceStore maintenance;
    private final StoreUpkeep upkeep;
    private final PeopleTable people;
    private final AuditTable audit;

    private StoreAccess(
            Optional<EmbeddedStore> embedded,
            AgroalDataSource pool,
            SampleStore samples,
            FigureStore figures,
            StoreUpkeep upkeep,
            AuditTable audit) {
        this.embedded = embedded;
        this.pool = pool;
        this.samples = samples;
        this.figures = figures;
        this.maintenance = new MaintenanceStore(pool);
        this.upkeep = upkeep;
        this.people = new PeopleTable(pool);
        this.audit = audit;
    }

    /** @throws IllegalStateException if there is no store to be had; the message says why */
    static StoreAccess open(LoopwardenConfig settings, Clock clock) {
        Optional<EmbeddedStore> embedded = Optional.empty();
        try {
            AgroalDataSource pool;
            if (settings.store().url().isPresent()) {
                pool = pool(
                        settings.store().url().get(),
                        settings.store().user().orElse(""),
                        password(settings.store().passwordFile()));
            } else {
                EmbeddedStore own = EmbeddedStore.start(settings.data().resolve("store"));
                embedded = Optional.of(own);
                pool = pool(own.jdbcUrl(), own.user(), own.password());
            }
            SampleStore samples = SampleStore.open(pool, storeSettings(settings.store()), clock);
            StoreUpkeep upkeep = new StoreUpkeep(samples, CLOSE_HOURS_EVERY);
            FigureStore figures = new FigureStore(pool, samples.flavour(), FigureSettings.DEFAULT, clock);
            figures.keepUp();
            Files.createDirectories(settings.data());
            AuditTable audit = new AuditTable(pool, settings.data().resolve("audit-head"), clock);
            return new StoreAccess(embedded, pool, samples, figures, upkeep, audit);
        } catch (IOException | SQLException e) {
            embedded.ifPresent(EmbeddedStore::close);
            throw new IllegalStateException("the store cannot be opened: " + e.getMessage(), e);
        }
    }

    private static StoreSettings storeSettings(LoopwardenConfig.Store store) {
        StoreSettings d = StoreSettings.DEFAULT;
        return new StoreSettings(
                d.bulkCopy(),
                d.timescale(),
                d.closeAfter(),
                d.settleFor(),
                Period.ofDays((int) store.retention().toDays()),
                d.keepMinutes(),
                d.keepHours(),
                d.compressAfter(),
                d.networkTimeout());
    }

    private static String password(Optional<Path> file) throws IOException {
        return file.isPresent() ? Files.readString(file.get()).strip() : "";
    }

    private static AgroalDataSource pool(String url, String user, String password) throws SQLException {
        return AgroalDataSource.from(new AgroalDataSourceConfigurationSupplier()
                .connectionPoolConfiguration(pool -> pool.maxSize(CONNECTIONS)
                        .acquisitionTimeout(CONNECTION_WAIT)
                        .connectionFactoryConfiguration(factory -> factory.jdbcUrl(url)
                                .principal(new NamePrincipal(user))
                                .credential(new SimplePassword(password)))));
    }

    /** What people are told: whose database it is and whether TimescaleDB is used. */
    public String kind() {
        return (embedded.isPresent() ? "embedded " : "")
                + (samples.flavour() == Flavour.TIMESCALE ? "TimescaleDB" : "PostgreSQL");
    }

    SampleStore writer() {
        return samples;
    }

    public PeopleTable people() {
        return people;
    }

    public AuditTable audit() {
        return audit;
    }

    /** For what keeps tables of its own in the store. */
    DataSource database() {
        return pool;
    }

    public SampleReader reader() {
        return samples.reader();
    }

    UnitMemories memories() {
        return new UnitMemories(pool);
    }

    public Map<UnitId, StoredCounts> countsByUnit() {
        return samples.countsByUnit();
    }

    public FigureStore figures() {
        return figures;
    }

    public MaintenanceStore maintenance() {
        return maintenance;
    }

    @Override
    public void close() {
        upkeep.close();
        samples.close();
        pool.close();
        embedded.ifPresent(EmbeddedStore::close);
    }
}
