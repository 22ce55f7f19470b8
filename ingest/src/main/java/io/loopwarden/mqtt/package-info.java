/** MQTT 3.1.1 and 5 collectors: connect, subscribe, and acknowledge a message only once its samples are on disk. */
package io.loopwarden.mqtt;
