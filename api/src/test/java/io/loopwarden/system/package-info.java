/** Tests of the whole: real broker, virtual fleet and service as processes of their own. */
package io.loopwarden.system;
