/** Who may do what: people, API keys, the table of least roles, and the trail of what was changed. */
package io.loopwarden.security;
