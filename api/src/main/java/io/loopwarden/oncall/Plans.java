package io.loopwarden.oncall;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.store.alarm.PlanStore;
import io.loopwarden.store.alarm.PlanVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.yaml.snakeyaml.DumperOptions;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.constructor.SafeConstructor;
import org.yaml.snakeyaml.error.YAMLException;
import org.yaml.snakeyaml.representer.Representer;
import org.yaml.snakeyaml.resolver.Resolver;

/** The on-call plan in force. */
public final class Plans {

    /** In the fleet folder: the plan to begin with, where none was saved yet. */
    public static final String FIRST = "on-call.yaml";

    /** What came of saving a plan. */
    public sealed interface Saved {
        record Done(int version) implements Saved {}

        record Faulty(List<String> faults) implements Saved {}

        /** Somebody else saved meanwhile. */
        record Overtaken(int version) implements Saved {}
    }

    private final PlanStore store;
    private final ObjectMapper json;
    private final Collection<String> channels;
    private volatile OnCallPlan current = OnCallPlan.EMPTY;
    private volatile int version;

    public Plans(PlanStore store, ObjectMapper json, Collection<String> channels) {
        this.store = store;
        this.json = json;
        this.channels = List.copyOf(channels);
    }

    /** Reads the newest plan, or the first one of the fleet folder; answers what is wrong with it. */
    public List<String> restore(Path fleet) throws SQLException {
        Optional<PlanVersion> newest = store.newest();
        try {
            if (newest.isPresent()) {
                current = json.readValue(newest.get().plan(), OnCallPlan.class);
                version = newest.get().version();
            } else if (Files.exists(fleet.resolve(FIRST))) {
                Object tree =
                        new Yaml(new SafeConstructor(new LoaderOptions())).load(Files.readString(fleet.resolve(FIRST)));
                current = json.readValue(json.writeValueAsString(tree), OnCallPlan.class);
            }
        } catch (IOException | YAMLException e) {
            String message =
                    e instanceof JsonProcessingException problem ? problem.getOriginalMessage() : e.getMessage();
            return List.of("cannot be read: " + String.valueOf(message).replaceAll("\\s+", " "));
        }
        return PlanCheck.faults(current, channels);
    }

    /** Everything is text: of itself YAML would read 22:00 as a number and a date as something else. */
    private static Yaml yaml() {
        LoaderOptions options = new LoaderOptions();
        return new Yaml(
                new SafeConstructor(options),
                new Representer(new DumperOptions()),
                new DumperOptions(),
                options,
                new Resolver() {
                    @Override
                    protected void addImplicitResolvers() {
                        // None: see above.
                    }
                });
    }

    public OnCallPlan current() {
        return current;
    }

    /** Number of the plan in force; 0 where none was saved yet. */
    public int version() {
        return version;
    }

    /** @param basedOn the version that the plan was made from */
    public synchronized Saved save(OnCallPlan plan, int basedOn, String who, String why, Instant at)
            throws SQLException {
        List<String> faults = PlanCheck.faults(plan, channels);
        if (!faults.isEmpty()) {
            return new Saved.Faulty(faults);
        }
        if (basedOn != version || !store.add(new PlanVersion(version + 1, at, who, why, text(plan)))) {
            return new Saved.Overtaken(version);
        }
        version++;
        current = plan;
        return new Saved.Done(version);
    }

    private String text(OnCallPlan plan) {
        try {
            return json.writeValueAsString(plan);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a plan cannot be written as JSON", e);
        }
    }
}
