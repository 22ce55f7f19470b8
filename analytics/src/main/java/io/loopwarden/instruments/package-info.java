/** How far each sensor can be believed: checks of one signal, of redundant pairs and of the heat balance. */
package io.loopwarden.instruments;
