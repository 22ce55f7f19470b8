/** What an MQTT message says: pure readers of the JSON form and of Sparkplug B, without a connection or a clock. */
package io.loopwarden.mqtt.payload;
