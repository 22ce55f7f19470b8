/** Reads YAML documents into a small typed view that knows file and line of every field and collects all faults. */
package io.loopwarden.yaml;
