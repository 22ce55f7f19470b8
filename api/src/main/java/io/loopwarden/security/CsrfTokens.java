package io.loopwarden.security;

import io.quarkus.security.identity.SecurityIdentity;
import jakarta.inject.Singleton;

/**
 * Proof that a request comes from one of our own pages: a page of another origin may send a person's cookie along but cannot read this
 * token. Made from the session and a secret of this process, so nothing has to be kept.
 */
@Singleton
class CsrfTokens {

    static final String HEADER = "X-CSRF-Token";

    private final String secret = Secrets.newToken();

    String of(SecurityIdentity identity) {
        return Secrets.sha256Hex(secret + ":" + Who.session(identity) + ":" + Who.name(identity));
    }

    boolean fits(SecurityIdentity identity, String sent) {
        return sent != null && Secrets.same(sent, of(identity));
    }
}
