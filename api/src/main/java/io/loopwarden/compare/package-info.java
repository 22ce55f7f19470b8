/** Cohorts of units compared, and the evidence sheet of a unit or cohort. */
package io.loopwarden.compare;
