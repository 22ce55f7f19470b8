package io.loopwarden.security;

import java.util.regex.Pattern;

/** An address with {@code {names}} that stand for a part without a slash. */
final class PathTemplate {

    private static final Pattern NAME = Pattern.compile("\\{[A-Za-z]+}");

    private final String template;
    private final Pattern pattern;

    PathTemplate(String template) {
        this.template = template;
        StringBuilder regex = new StringBuilder();
        String[] literals = NAME.split(template, -1);
        for (int i = 0; i < literals.length; i++) {
            regex.append(i == 0 ? "" : "[^/]+").append(Pattern.quote(literals[i]));
        }
        this.pattern = Pattern.compile(regex.toString());
    }

    boolean matches(String path) {
        return pattern.matcher(path).matches();
    }

    /** Of two templates that match a path, the one with more fixed characters is meant. */
    int fixedLength() {
        return NAME.matcher(template).replaceAll("").length();
    }

    @Override
    public String toString() {
        return template;
    }
}
