/** Virtual units: a physical model of a CDU with its controller, served over the real protocols, faults with known truth. */
package io.loopwarden.virtual;
