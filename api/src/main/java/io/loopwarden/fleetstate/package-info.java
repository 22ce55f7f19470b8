/** The fleet as it is now: one watch a unit, fed by scans. */
package io.loopwarden.fleetstate;
