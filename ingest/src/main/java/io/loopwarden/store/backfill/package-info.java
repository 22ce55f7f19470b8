/** History of before the service was there: into the store, and through the watch that goes on from it. */
package io.loopwarden.store.backfill;
