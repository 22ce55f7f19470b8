/** Figures with their uncertainty (JCGM 100), robust trends, tests and forecasts. */
package io.loopwarden.statistics;
