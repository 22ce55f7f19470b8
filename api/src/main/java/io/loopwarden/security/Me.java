package io.loopwarden.security;

import io.loopwarden.service.LoopwardenConfig;
import io.quarkus.security.identity.SecurityIdentity;
import jakarta.enterprise.context.ApplicationScoped;
import java.util.Optional;

/** What a page needs to know of whoever looks at it. */
@ApplicationScoped
public class Me {

    /**
     * @param name empty when nobody signed in
     * @param role {@code anyone} when nobody signed in, or {@code viewer} where everybody may look
     * @param csrf to be sent as {@code X-CSRF-Token} with every change; empty when nobody signed in
     */
    public record View(Optional<String> name, String role, String csrf) {}

    private final SecurityIdentity identity;
    private final CsrfTokens csrf;
    private final boolean everybodyMayLook;

    Me(SecurityIdentity identity, CsrfTokens csrf, LoopwardenConfig settings) {
        this.identity = identity;
        this.csrf = csrf;
        this.everybodyMayLook = settings.security().viewWithoutSignIn();
    }

    public View view() {
        if (identity.isAnonymous()) {
            Role role = everybodyMayLook ? Role.VIEWER : Role.ANYONE;
            return new View(Optional.empty(), role.word(), "");
        }
        return new View(Optional.of(Who.name(identity)), Who.role(identity).word(), csrf.of(identity));
    }
}
