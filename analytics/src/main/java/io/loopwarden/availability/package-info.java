/** How long units ran, ran worse, stood or were unknown; what follows for their reliability. */
package io.loopwarden.availability;
