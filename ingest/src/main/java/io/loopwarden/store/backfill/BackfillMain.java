package io.loopwarden.store.backfill;

import io.loopwarden.fleet.Unit;
import io.loopwarden.fleetfile.FleetConfig;
import io.loopwarden.fleetfile.FleetFolder;
import io.loopwarden.replay.CsvSource;
import io.loopwarden.replay.ReplayException;
import io.loopwarden.store.EmbeddedStore;
import io.loopwarden.store.FigureSettings;
import io.loopwarden.store.FigureStore;
import io.loopwarden.store.MaintenanceStore;
import io.loopwarden.store.SampleStore;
import io.loopwarden.store.StoreSettings;
import io.loopwarden.store.StoredHistory;
import io.loopwarden.store.UnitMemories;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import javax.sql.DataSource;

/** {@code deploy/backfill}: files of the past, one a unit, into the store of a service that does not run. */
public final class BackfillMain {

    private static final Duration FIGURES_EVERY = Duration.ofMinutes(15);

    private static final String USAGE = """
            usage: deploy/backfill FOLDER --fleet FLEET --store DIR|jdbc:…
            FOLDER   a file UNIT.csv for each unit with a past, in the form that deploy/replay reads
            FLEET    the service's fleet folder
            the service must be stopped; a database's user and password: environment LOOPWARDEN_STORE_USER, LOOPWARDEN_STORE_PASSWORD""";

    private BackfillMain() {}

    public static void main(String[] arguments) {
        System.exit(run(List.of(arguments), System.err));
    }

    static int run(List<String> arguments, PrintStream tell) {
        if (arguments.size() != 5
                || !arguments.get(1).equals("--fleet")
                || !arguments.get(3).equals("--store")) {
            tell.println(USAGE);
            return 2;
        }
        Path folder = Path.of(arguments.get(0));
        String store = arguments.get(4);
        try {
            FleetConfig fleet = FleetFolder.load(Path.of(arguments.get(2)));
            List<Unit> units = fleet.units().stream()
                    .filter(unit -> Files.exists(file(folder, unit)))
                    .toList();
            if (units.isEmpty()) {
                throw new ReplayException(folder + " has no file named after a unit of the fleet, such as "
                        + fleet.units().stream()
                                .findFirst()
                                .map(u -> u.id() + ".csv")
                                .orElse("UNIT.csv"));
            }
            if (store.startsWith("jdbc:")) {
                fill(StoredHistory.database(store), folder, units, tell);
            } else {
                try (EmbeddedStore own = EmbeddedStore.start(Path.of(store))) {
                    fill(own.dataSource(), folder, units, tell);
                }
            }
            return 0;
        } catch (ReplayException e) {
            tell.println(e.getMessage());
            return 2;
        } catch (IOException | SQLException e) {
            tell.println("store " + store + ": " + e.getMessage());
            return 1;
        }
    }

    private static void fill(DataSource database, Path folder, List<Unit> units, PrintStream tell) throws SQLException {
        Clock clock = Clock.systemUTC();
        try (SampleStore store = SampleStore.open(database, StoreSettings.DEFAULT, clock)) {
            FigureStore figures = new FigureStore(database, store.flavour(), FigureSettings.DEFAULT, clock);
            MaintenanceStore maintenance = new MaintenanceStore(database);
            for (int i = 0; i < units.size(); i++) {
                Unit unit = units.get(i);
                Backfill.Done done = new Backfill(store, figures, new UnitMemories(database), FIGURES_EVERY)
                        .run(unit, new CsvSource(file(folder, unit)), maintenance.of(unit.id()));
                tell.println((i + 1) + " of " + units.size() + ": " + unit.id() + ", " + done.samples()
                        + " samples until " + done.until());
            }
            store.closeDueHours();
            figures.closeDays();
        }
    }

    private static Path file(Path folder, Unit unit) {
        return folder.resolve(unit.id() + ".csv");
    }
}
