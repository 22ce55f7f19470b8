package io.loopwarden.service;

import com.fasterxml.jackson.databind.ObjectMapper;
import io.loopwarden.live.LivePush;
import io.loopwarden.live.LiveTicker;
import io.loopwarden.view.RowTexts;
import io.loopwarden.view.Views;
import io.quarkus.runtime.ShutdownEvent;
import io.quarkus.runtime.StartupEvent;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import java.time.Clock;

/** Starts what runs by itself once everything is built. */
@ApplicationScoped
public class Start {

    private final LoopwardenService service;
    private final LoopwardenConfig settings;
    private final LiveTicker ticker;
    private final LivePush push;
    private final Metrics metrics;
    private final Alarms alarms;

    Start(
            LoopwardenService service,
            LoopwardenConfig settings,
            Metrics metrics,
            Alarms alarms,
            LivePush push,
            Views views,
            RowTexts rows,
            ObjectMapper json,
            Clock clock) {
        this.service = service;
        this.settings = settings;
        this.metrics = metrics;
        this.alarms = alarms;
        this.push = push;
        this.ticker = new LiveTicker(service.fleet(), push, views, rows, json, clock, alarms.desk());
    }

    void onStart(@Observes StartupEvent event) {
        metrics.register(push);
        metrics.register(alarms);
        service.start();
        alarms.start();
        ticker.start(settings.live().tick());
    }

    void onStop(@Observes ShutdownEvent event) {
        ticker.close();
        alarms.stop();
    }
}
