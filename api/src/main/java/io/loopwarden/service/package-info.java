/** Wiring, life cycle and configuration of the runnable service. */
package io.loopwarden.service;
