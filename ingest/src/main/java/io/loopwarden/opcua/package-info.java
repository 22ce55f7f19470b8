/** The OPC UA collector: one session and one subscription a connection; a gap in what came is marked; reads only. */
package io.loopwarden.opcua;
