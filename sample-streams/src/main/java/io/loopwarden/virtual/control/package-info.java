/** What a unit's controller does: it holds differential pressure and approach, changes pumps over, tops up the reservoir. */
package io.loopwarden.virtual.control;
