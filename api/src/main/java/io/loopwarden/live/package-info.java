/** What is pushed to open pages when the fleet changes. */
package io.loopwarden.live;
