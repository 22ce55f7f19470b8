package io.loopwarden.alarm;

import io.loopwarden.fleet.Unit;
import io.loopwarden.watch.UnitFigures;
import java.time.Instant;
import java.util.Objects;
import java.util.Optional;

/** What the alarms of one source are judged by, at one instant. */
public sealed interface Facts {

    String source();

    Instant at();

    /**
     * A unit.
     *
     * @param lastSampleAt source time of its newest sample
     */
    record OfUnit(Unit unit, UnitFigures figures, Optional<Instant> lastSampleAt) implements Facts {

        public OfUnit {
            Objects.requireNonNull(unit, "unit");
            Objects.requireNonNull(figures, "figures");
            Objects.requireNonNull(lastSampleAt, "lastSampleAt");
        }

        @Override
        public String source() {
            return unit.id().value();
        }

        @Override
        public Instant at() {
            return figures.at();
        }
    }

    /**
     * A connection or a part of the service itself.
     *
     * @param bad whether it fails now
     * @param sentence what is wrong, or that all is well
     */
    record OfPart(String source, Instant at, boolean bad, String sentence) implements Facts {

        public OfPart {
            Objects.requireNonNull(source, "source");
            Objects.requireNonNull(at, "at");
            Objects.requireNonNull(sentence, "sentence");
        }
    }
}
