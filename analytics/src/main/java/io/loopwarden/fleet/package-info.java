/** The words everybody uses: unit, nameplate, point, sample, quality. Plain values, no I/O. */
package io.loopwarden.fleet;
