package io.loopwarden.fleetstate;

import io.loopwarden.fleet.Unit;
import io.loopwarden.indicator.Design;
import io.loopwarden.watch.UnitFigures;
import java.time.Instant;
import java.util.Optional;

/**
 * A unit as it is known now.
 *
 * @param lastSampleAt source time of its newest sample
 */
public record UnitNow(Unit unit, Design design, UnitFigures figures, Optional<Instant> lastSampleAt) {}
