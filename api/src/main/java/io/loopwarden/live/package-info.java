/** The fleet as it is now, and what is pushed to pages when it changes. */
package io.loopwarden.live;
