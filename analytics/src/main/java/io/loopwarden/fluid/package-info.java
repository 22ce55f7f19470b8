/** What fills the loops: properties of water and of propylene glycol in water, with their stated errors. */
package io.loopwarden.fluid;
