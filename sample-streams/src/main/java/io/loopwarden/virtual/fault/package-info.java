/** What goes wrong in a unit, when, how fast; and the hidden condition that results. */
package io.loopwarden.virtual.fault;
