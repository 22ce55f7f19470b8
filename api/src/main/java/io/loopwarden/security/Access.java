package io.loopwarden.security;

/**
 * One line of the table of least roles.
 *
 * @param template as the endpoint is declared, for example {@code /api/v1/units/{unit}}
 * @param least who has it or a higher role may
 * @param auditsItself what is sent holds a password or token, so that what answers it writes the audit trail itself
 */
public record Access(String method, String template, Role least, boolean auditsItself, PathTemplate path) {

    private Access(String method, String template, Role least, boolean auditsItself) {
        this(method, template, least, auditsItself, new PathTemplate(template));
    }

    static Access get(String template, Role least) {
        return new Access("GET", template, least, false);
    }

    static Access post(String template, Role least) {
        return new Access("POST", template, least, false);
    }

    static Access put(String template, Role least) {
        return new Access("PUT", template, least, false);
    }

    static Access delete(String template, Role least) {
        return new Access("DELETE", template, least, false);
    }

    Access auditingItself() {
        return new Access(method, template, least, true, path);
    }

    /** Whether it changes something; such requests need a person or key, and a CSRF token with a cookie. */
    public boolean isChange() {
        return !method.equals("GET");
    }
}
