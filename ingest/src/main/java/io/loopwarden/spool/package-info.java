/** Samples on disk while the store is away: a bounded, checksummed log in segments, read from its oldest end. */
package io.loopwarden.spool;
