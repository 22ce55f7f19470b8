/** Benchmarks: what the service does in a second, beside the plain way of doing the same in the same run. */
package io.loopwarden.bench;
