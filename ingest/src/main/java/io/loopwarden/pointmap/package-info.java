/** From a supplier's tag to a canonical point, with unit of measure, sign, scale and plausible range. */
package io.loopwarden.pointmap;
