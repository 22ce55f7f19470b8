/** What people did to a unit, as they wrote it down. An entry is never changed: another one withdraws it. */
package io.loopwarden.maintenance;
