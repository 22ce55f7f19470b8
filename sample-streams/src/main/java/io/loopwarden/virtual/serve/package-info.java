/** Real servers and publishers in front of the virtual units, and the loopback control endpoint for tests. */
package io.loopwarden.virtual.serve;
