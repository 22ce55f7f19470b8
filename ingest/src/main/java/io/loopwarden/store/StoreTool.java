package io.loopwarden.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Clock;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.sql.DataSource;
import org.postgresql.ds.PGSimpleDataSource;

/** Backup, restore and the check of the audit trail from the command line; see {@code deploy/backup}, {@code restore}, {@code audit-check}. */
public final class StoreTool {

    private static final String USAGE = "usage: backup|restore|audit-check --data DIR [--file FILE]"
            + " [--url JDBC-ADDRESS --user USER --password-file FILE]";
    private static final List<String> OPTIONS = List.of("--data", "--file", "--url", "--user", "--password-file");

    private final Map<String, String> options;

    private StoreTool(Map<String, String> options) {
        this.options = options;
    }

    public static void main(String[] arguments) {
        try {
            if (arguments.length == 0) {
                throw new IllegalArgumentException(USAGE);
            }
            boolean well = new StoreTool(options(arguments)).run(arguments[0]);
            System.exit(well ? 0 : 1);
        } catch (IllegalArgumentException e) {
            System.err.println(e.getMessage());
            System.exit(2);
        } catch (IOException | SQLException e) {
            System.err.println(arguments[0] + ": " + e.getMessage());
            System.exit(1);
        }
    }

    private static Map<String, String> options(String[] arguments) {
        Map<String, String> options = new HashMap<>();
        for (int i = 1; i < arguments.length; i += 2) {
            if (!OPTIONS.contains(arguments[i]) || i + 1 == arguments.length) {
                throw new IllegalArgumentException(USAGE);
            }
            options.put(arguments[i], arguments[i + 1]);
        }
        return options;
    }

    private boolean run(String command) throws IOException, SQLException {
        Path data = Path.of(require("--data"));
        if (options.containsKey("--url")) {
            return run(command, server(), data);
        }
        Path folder = data.resolve("store");
        // A restore begins with a folder that has no store yet.
        Optional<DataSource> running = Files.exists(folder) ? EmbeddedStore.running(folder) : Optional.empty();
        if (running.isPresent()) {
            return run(command, running.get(), data);
        }
        try (EmbeddedStore store = EmbeddedStore.start(folder)) {
            return run(command, store.dataSource(), data);
        }
    }

    private DataSource server() throws IOException {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setUrl(require("--url"));
        source.setUser(require("--user"));
        source.setPassword(Files.readString(Path.of(require("--password-file"))).strip());
        return source;
    }

    private boolean run(String command, DataSource database, Path data) throws IOException, SQLException {
        Path head = data.resolve(AuditTable.HEAD_FILE);
        return switch (command) {
            case "backup" -> {
                Path file = Path.of(require("--file"));
                // Before the tables, so that the note is never ahead of them.
                Optional<String> noted = Files.exists(head) ? Optional.of(Files.readString(head)) : Optional.empty();
                long rows = StoreBackup.write(database, file);
                if (noted.isPresent()) {
                    Files.writeString(beside(file), noted.get());
                }
                System.out.println(rows + " rows, " + Files.size(file) + " bytes in " + file);
                yield true;
            }
            case "restore" -> {
                Path file = Path.of(require("--file"));
                long rows = StoreBackup.restore(file, database);
                if (Files.exists(beside(file))) {
                    Files.copy(beside(file), head, java.nio.file.StandardCopyOption.REPLACE_EXISTING);
                }
                System.out.println(rows + " rows restored from " + file);
                yield true;
            }
            case "audit-check" -> {
                AuditCheck check = new AuditTable(database, head, Clock.systemUTC()).check();
                System.out.println(check.fault()
                        .orElse(check.entries() + " entries, none changed, none missing; newest hash "
                                + check.lastHash()));
                yield check.fault().isEmpty();
            }
            default -> throw new IllegalArgumentException(USAGE);
        };
    }

    private static Path beside(Path file) {
        return file.resolveSibling(file.getFileName() + "." + AuditTable.HEAD_FILE);
    }

    private String require(String option) {
        String value = options.get(option);
        if (value == null) {
            throw new IllegalArgumentException(option + " is missing; " + USAGE);
        }
        return value;
    }
}
