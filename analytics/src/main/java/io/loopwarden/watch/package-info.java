/**
 * One unit over time: takes samples, keeps bounded windows, gives figures. Live and replay drive the same class; time comes from
 * the samples and the caller, never from a clock.
 */
package io.loopwarden.watch;
