package io.loopwarden.watch;

import io.loopwarden.availability.UnitLife;
import io.loopwarden.control.ControlState;
import io.loopwarden.indicator.LoopKnown;

/**
 * What stands behind a unit's figures and changes slowly.
 *
 * @param loop filters, strainer, pumps, racks and valve
 * @param control how the control loops behave
 * @param life how the unit has fared
 */
public record Background(LoopKnown loop, ControlState control, UnitLife life) {}
