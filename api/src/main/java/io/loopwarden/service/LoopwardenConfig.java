package io.loopwarden.service;

import io.quarkus.runtime.configuration.MemorySize;
import io.smallrye.config.ConfigMapping;
import io.smallrye.config.WithDefault;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;

/** Settings of the service; every key begins with {@code loopwarden.}. */
@ConfigMapping(prefix = "loopwarden")
public interface LoopwardenConfig {

    /** Folder of the fleet: {@code fleet.yaml}, {@code nameplates/}, {@code maps/}. */
    @WithDefault("fleet")
    Path fleet();

    /** Folder that the service keeps its own files in: the embedded store, certificates. */
    @WithDefault("data")
    Path data();

    Store store();

    Spool spool();

    Live live();

    Security security();

    Cleaning cleaning();

    Alarms alarms();

    /** Where samples are kept. */
    interface Store {

        /** JDBC address of a PostgreSQL or TimescaleDB server; without it the service starts its own in the data folder. */
        Optional<String> url();

        /** User at that server. */
        Optional<String> user();

        /** File with the password of that user. */
        Optional<Path> passwordFile();

        /** Frames older than this are dropped; roll-ups stay. */
        @WithDefault("400d")
        Duration retention();
    }

    /** Where samples wait on disk while the store is away. */
    interface Spool {

        /** Most that may wait; beyond it sources that can wait have to. */
        @WithDefault("4G")
        MemorySize most();
    }

    /** What the pages see. */
    interface Live {

        /** How often units with new samples are evaluated and pushed. */
        @WithDefault("250ms")
        Duration tick();
    }

    /** Who gets in. */
    interface Security {

        /** Everybody who reaches the address may look without signing in; changing anything still needs it. */
        @WithDefault("false")
        boolean viewWithoutSignIn();

        /** A sign-in that is not used for so long ends. */
        @WithDefault("12h")
        Duration sessionIdle();

        /** A sign-in ends after so long in any case. */
        @WithDefault("7d")
        Duration sessionLongest();
    }

    /** Alarms and messages to people. */
    interface Alarms {

        /** Where people reach the service; links in messages begin with it. */
        @WithDefault("http://localhost:8080")
        URI address();

        /** How long the link in a message acknowledges. */
        @WithDefault("24h")
        Duration acknowledgeLinkValid();
    }

    /** What cleaning an exchanger and not cleaning it cost, in kilowatt hours, so that no currency is needed. */
    interface Cleaning {

        /** One cleaning, outage and labour included. */
        @WithDefault("5000")
        double costKwh();

        /** From electricity to facility water. */
        @WithDefault("0.6")
        double pumpEfficiency();

        /** Hours of free cooling that are lost a week for each kelvin that facility water has to be colder. */
        @WithDefault("4")
        double freeCoolingHoursPerK();

        /** Electricity over heat in an hour without free cooling. */
        @WithDefault("0.2")
        double chillerRatio();
    }
}
