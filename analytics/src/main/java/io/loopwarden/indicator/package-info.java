/**
 * What a unit can still do: one class per indicator and the list of them, pure functions of nameplate and window means.
 * Every figure carries its standard uncertainty or says why there is none.
 */
package io.loopwarden.indicator;
