/** The only place with SQL: schema, writer, reader and roll-ups of what the sources said, on plain PostgreSQL or TimescaleDB. */
package io.loopwarden.store;
