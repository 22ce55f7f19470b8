package io.loopwarden.security;

import io.loopwarden.store.KeyRow;
import io.quarkus.security.identity.SecurityIdentity;

/** Whether a request may go on, and if not why. */
enum Decision {
    ALLOWED,
    NO_SUCH_ADDRESS,
    SIGN_IN_FIRST,
    ROLE_TOO_LOW,
    OUT_OF_SCOPE;

    /** @param everybodyMayLook whether those who did not sign in count as viewers */
    static Decision on(Access access, SecurityIdentity identity, boolean everybodyMayLook) {
        if (access.least() == Role.ANYONE) {
            return ALLOWED;
        }
        if (identity.isAnonymous()) {
            return everybodyMayLook && access.least() == Role.VIEWER && !access.isChange() ? ALLOWED : SIGN_IN_FIRST;
        }
        if (!Who.role(identity).includes(access.least())) {
            return ROLE_TOO_LOW;
        }
        KeyRow key = identity.getAttribute(Who.KEY);
        boolean inScope =
                key == null || key.areas().isEmpty() || key.areas().contains(AccessTable.area(access.template()));
        return inScope ? ALLOWED : OUT_OF_SCOPE;
    }
}
