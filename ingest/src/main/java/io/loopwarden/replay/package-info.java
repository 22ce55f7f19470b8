/** Stored history or a file through the same watch as live: the same rows to the last bit. */
package io.loopwarden.replay;
