/** How a unit's control loops behave over the last hour: oscillation, sticking valve, which loop drives which. */
package io.loopwarden.control;
