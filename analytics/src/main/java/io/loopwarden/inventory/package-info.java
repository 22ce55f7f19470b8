/** How much coolant is in a loop, and what speaks for a loss: mass balance, evidence, and the suspicion made of it. */
package io.loopwarden.inventory;
