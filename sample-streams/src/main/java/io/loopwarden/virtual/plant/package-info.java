/** The physics of one virtual unit; independent of the physics that judges it, on purpose. */
package io.loopwarden.virtual.plant;
