/** Alarms after IEC 62682 / ISA-18.2: definitions, conditions, life cycle, incidents, performance figures. Pure: time is an argument. */
package io.loopwarden.alarm;
