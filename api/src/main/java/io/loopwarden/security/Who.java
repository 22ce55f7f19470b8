package io.loopwarden.security;

import io.quarkus.security.identity.SecurityIdentity;
import jakarta.enterprise.context.ApplicationScoped;

/** Whoever sent the request that is being answered. Inject it wherever something is written down. */
@ApplicationScoped
public class Who {

    /** The cookie that holds a sign-in's token. */
    public static final String COOKIE = "loopwarden-session";

    /** Attributes of an identity. */
    static final String ROLE = "loopwarden.role";

    static final String SESSION = "loopwarden.session";
    static final String KEY = "loopwarden.key";

    private final SecurityIdentity identity;

    Who(SecurityIdentity identity) {
        this.identity = identity;
    }

    /** The person's name, {@code key LABEL}, or {@code nobody}. */
    public String name() {
        return name(identity);
    }

    public Role role() {
        return role(identity);
    }

    /** Hash of the session that the request came with; empty for keys and nobody. */
    public String sessionHash() {
        return session(identity);
    }

    static String name(SecurityIdentity identity) {
        return identity.isAnonymous() ? "nobody" : identity.getPrincipal().getName();
    }

    static Role role(SecurityIdentity identity) {
        Role role = identity.getAttribute(ROLE);
        return role == null ? Role.ANYONE : role;
    }

    static String session(SecurityIdentity identity) {
        String session = identity.getAttribute(SESSION);
        return session == null ? "" : session;
    }
}
