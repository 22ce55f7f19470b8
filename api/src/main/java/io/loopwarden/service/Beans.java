package io.loopwarden.service;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import io.loopwarden.live.LivePush;
import io.loopwarden.view.FleetView;
import io.loopwarden.view.RowTexts;
import io.loopwarden.view.Views;
import io.quarkus.jackson.ObjectMapperCustomizer;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.inject.Produces;
import jakarta.inject.Singleton;
import java.time.Clock;
import java.time.Duration;

/** What the container hands out; everything else is made in {@link LoopwardenService}. */
@ApplicationScoped
public class Beans {

    /** A page that cannot take a message within this time is dropped. */
    private static final Duration PUSH_PATIENCE = Duration.ofSeconds(10);

    @Produces
    @Singleton
    Clock clock() {
        return Clock.systemUTC();
    }

    @Produces
    @Singleton
    LivePush push() {
        return new LivePush(PUSH_PATIENCE);
    }

    @Produces
    @Singleton
    Views views(LoopwardenService service, Clock clock) {
        FleetView.Site site = new FleetView.Site(
                service.config().siteName(), service.config().zone().getId());
        return new Views(clock, site, service::connectionOf);
    }

    @Produces
    @Singleton
    RowTexts rows(Views views, ObjectMapper json) {
        return new RowTexts(views, json);
    }

    @Produces
    @Singleton
    ObjectMapperCustomizer times() {
        return (ObjectMapper json) -> json.disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
                .disable(SerializationFeature.WRITE_DURATIONS_AS_TIMESTAMPS);
    }
}
