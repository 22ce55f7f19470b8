/** Resistance of filters and loops, pumps by the affinity laws, control valves. Pure functions; SI throughout. */
package io.loopwarden.hydraulics;
