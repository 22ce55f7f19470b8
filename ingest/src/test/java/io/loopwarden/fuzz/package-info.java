/** Broken input by the thousand for everything that reads what others wrote. */
package io.loopwarden.fuzz;
