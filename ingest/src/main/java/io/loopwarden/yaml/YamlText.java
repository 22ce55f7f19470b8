package io.loopwarden.yaml;

/** A scalar of a document as it is written, with its place. */
public record YamlText(String value, int line, String field) {}
