/** Groups of units held against each other, honestly: intervals, and a correction for asking many times. */
package io.loopwarden.cohort;
