/** The fleet as its owner writes it down: site, connections, units, nameplates, point maps; every fault is found at once. */
package io.loopwarden.fleetfile;
