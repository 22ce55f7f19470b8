/** Work that falls due, from the forecasts of the units' functions; as a list, a calendar and a table. */
package io.loopwarden.plan;
