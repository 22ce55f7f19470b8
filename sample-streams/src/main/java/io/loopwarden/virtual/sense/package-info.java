/** Instruments between the plant and the controller: offset, noise, lag, quantisation, sensor faults. */
package io.loopwarden.virtual.sense;
