/** Studies: what the indicators say of virtual units, held against the truth that comes with them. */
package io.loopwarden.study;
