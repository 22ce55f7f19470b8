package io.loopwarden.live;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.alarmdesk.AlarmDesk;
import io.loopwarden.fleet.UnitId;
import io.loopwarden.fleetstate.FleetState;
import io.loopwarden.fleetstate.UnitNow;
import io.loopwarden.view.RowTexts;
import io.loopwarden.view.UnitDetail;
import io.loopwarden.view.UnitRow;
import io.loopwarden.view.Views;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Set;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.jboss.logging.Logger;

/** Evaluates what changed and pushes it, again and again. */
public final class LiveTicker implements AutoCloseable {

    private static final Logger LOG = Logger.getLogger(LiveTicker.class);

    /** {@code {"type":"fleet","at":…,"units":[…]}}: rows of the units that changed. */
    record FleetMessage(String type, Instant at, List<UnitRow> units) {}

    /** {@code {"type":"unit","unit":{…}}}: the unit that a page asked for, in full. */
    record UnitMessage(String type, UnitDetail unit) {}

    /** {@code {"type":"alarms","at":…,"version":…}}: alarms changed; a page that shows them asks for them. */
    record AlarmsMessage(String type, Instant at, long version) {}

    private final FleetState fleet;
    private final LivePush push;
    private final Views views;
    private final RowTexts rows;
    private final ObjectMapper json;
    private final Clock clock;
    private final AlarmDesk alarms;
    private long alarmVersion = -1;
    private final ScheduledExecutorService timer = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread thread = new Thread(task, "live");
        thread.setDaemon(true);
        return thread;
    });

    public LiveTicker(
            FleetState fleet,
            LivePush push,
            Views views,
            RowTexts rows,
            ObjectMapper json,
            Clock clock,
            AlarmDesk alarms) {
        this.fleet = fleet;
        this.push = push;
        this.views = views;
        this.rows = rows;
        this.json = json;
        this.clock = clock;
        this.alarms = alarms;
    }

    public void start(Duration tick) {
        timer.scheduleWithFixedDelay(this::tick, 0, tick.toMillis(), TimeUnit.MILLISECONDS);
    }

    private void tick() {
        try {
            List<UnitId> changed = fleet.evaluate();
            alarms.changed(changed.stream().map(UnitId::value).toList());
            push.changed(changed, this::fleetMessage, this::unitMessage);
            long version = alarms.snapshot().version();
            if (version != alarmVersion) {
                alarmVersion = version;
                push.notice(text(new AlarmsMessage("alarms", clock.instant(), version)));
            }
        } catch (RuntimeException e) {
            LOG.error("a round of live push failed; the next one goes on", e);
        }
    }

    private String fleetMessage(Set<UnitId> changed) {
        List<UnitNow> units =
                changed.stream().sorted().flatMap(id -> fleet.unit(id).stream()).toList();
        byte[] text = rows.with(new FleetMessage("fleet", clock.instant(), List.of()), units);
        return new String(text, StandardCharsets.UTF_8);
    }

    private String unitMessage(UnitId id) {
        return text(new UnitMessage("unit", views.detail(fleet.unit(id).orElseThrow())));
    }

    private String text(Object message) {
        try {
            return json.writeValueAsString(message);
        } catch (JsonProcessingException e) {
            throw new IllegalStateException("a live message cannot be written as JSON", e);
        }
    }

    @Override
    public void close() {
        timer.shutdownNow();
    }
}
