/** Collector for Modbus TCP: polls registers and bits in merged blocks; has no request that writes. */
package io.loopwarden.modbus;
