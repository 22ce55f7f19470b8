/** Reads alarm definitions: the set that comes with the program, and what a fleet folder changes of it. */
package io.loopwarden.alarmfile;
