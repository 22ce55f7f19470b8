package io.loopwarden.security;

import io.loopwarden.store.KeyRow;
import io.quarkus.security.identity.IdentityProviderManager;
import io.quarkus.security.identity.SecurityIdentity;
import io.quarkus.security.runtime.QuarkusPrincipal;
import io.quarkus.security.runtime.QuarkusSecurityIdentity;
import io.quarkus.vertx.http.runtime.security.ChallengeData;
import io.quarkus.vertx.http.runtime.security.HttpAuthenticationMechanism;
import io.smallrye.mutiny.Uni;
import io.vertx.core.http.Cookie;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import java.util.Optional;

/** Finds out who sent a request: by the cookie of a sign-in, or by an API key. Asks memory only. */
@ApplicationScoped
class SignInMechanism implements HttpAuthenticationMechanism {

    private static final String BEARER = "Bearer ";

    private final People people;
    private final ApiKeys keys;

    SignInMechanism(People people, ApiKeys keys) {
        this.people = people;
        this.keys = keys;
    }

    @Override
    public Uni<SecurityIdentity> authenticate(RoutingContext context, IdentityProviderManager providers) {
        String sent = context.request().getHeader("Authorization");
        if (sent != null && sent.startsWith(BEARER + ApiKeys.PREFIX)) {
            return Uni.createFrom()
                    .item(keys.find(sent.substring(BEARER.length()).strip())
                            .map(SignInMechanism::identity)
                            .orElse(null));
        }
        Cookie cookie = context.request().getCookie(Who.COOKIE);
        if (cookie == null) {
            return Uni.createFrom().nullItem();
        }
        String hash = Secrets.sha256Hex(cookie.getValue());
        Optional<Person> person = people.signedIn(hash);
        return Uni.createFrom().item(person.map(who -> identity(who, hash)).orElse(null));
    }

    private static SecurityIdentity identity(Person person, String sessionHash) {
        return QuarkusSecurityIdentity.builder()
                .setPrincipal(new QuarkusPrincipal(person.name()))
                .addRole(person.role().word())
                .addAttribute(Who.ROLE, person.role())
                .addAttribute(Who.SESSION, sessionHash)
                .build();
    }

    private static SecurityIdentity identity(KeyRow key) {
        return QuarkusSecurityIdentity.builder()
                .setPrincipal(new QuarkusPrincipal("key " + key.label()))
                .addRole(key.role())
                .addAttribute(Who.ROLE, Role.given(key.role()).orElse(Role.ANYONE))
                .addAttribute(Who.KEY, key)
                .build();
    }

    /** Refusals are answered by {@link AccessFilter}. */
    @Override
    public Uni<ChallengeData> getChallenge(RoutingContext context) {
        return Uni.createFrom().item(new ChallengeData(401, null, null));
    }
}
