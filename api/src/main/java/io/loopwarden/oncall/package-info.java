/** Who is called, when, over what: people, rotas, escalation, quiet hours, messages and their delivery. Plain Java, no framework. */
package io.loopwarden.oncall;
