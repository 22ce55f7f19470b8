/** What every collector has in common: its contract, what it hands on, what is refused and counted. */
package io.loopwarden.collector;
