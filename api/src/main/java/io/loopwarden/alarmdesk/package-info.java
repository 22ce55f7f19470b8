/** The alarms of the running service: judged beside the pages' figures, kept before anybody is told. Plain Java, no framework. */
package io.loopwarden.alarmdesk;
