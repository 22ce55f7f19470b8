/** The seam between what comes in and what is done with it: ordered by unit, bounded, replayable. */
package io.loopwarden.samplelog;
