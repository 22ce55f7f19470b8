/** What is kept of alarms, incidents, the shift log, the on-call plan and messages. On a database that the sample store has opened. */
package io.loopwarden.store.alarm;
