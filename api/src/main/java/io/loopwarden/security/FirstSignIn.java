package io.loopwarden.security;

import io.quarkus.runtime.StartupEvent;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import java.sql.SQLException;
import java.util.Optional;
import org.jboss.logging.Logger;

/** Loads people and keys at start; while nobody can administer, tells a token that lets the first administrator in. */
@ApplicationScoped
class FirstSignIn {

    private static final Logger LOG = Logger.getLogger(FirstSignIn.class);

    private final People people;
    private final ApiKeys keys;

    FirstSignIn(People people, ApiKeys keys) {
        this.people = people;
        this.keys = keys;
    }

    void onStart(@Observes StartupEvent event) throws SQLException {
        keys.load();
        Optional<String> token = people.load();
        token.ifPresent(first -> LOG.warnf(
                "nobody can administer yet: open /sign-in.html#token=%s and choose a name and password. "
                        + "The token works once and until the service stops",
                first));
    }
}
