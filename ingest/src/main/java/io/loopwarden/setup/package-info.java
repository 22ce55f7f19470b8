/** Setting up a unit: a point map proposed from what was seen at a source, and held against physics before it is used. */
package io.loopwarden.setup;
