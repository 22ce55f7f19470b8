package io.loopwarden.security;

import io.loopwarden.service.LoopwardenConfig;
import io.quarkus.security.identity.SecurityIdentity;
import io.quarkus.vertx.http.runtime.filters.Filters;
import io.quarkus.vertx.http.runtime.security.QuarkusHttpUser;
import io.vertx.core.http.HttpServerRequest;
import io.vertx.core.json.JsonObject;
import io.vertx.ext.web.RoutingContext;
import jakarta.enterprise.context.ApplicationScoped;
import jakarta.enterprise.event.Observes;
import java.net.URI;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.Optional;

/** Holds every request against the {@link AccessTable}, whatever answers it: pages, REST, web socket, metrics. */
@ApplicationScoped
class AccessFilter {

    /** After Quarkus has found out who it is (200), before anything answers. */
    private static final int PRIORITY = 50;

    private final CsrfTokens csrf;
    private final boolean everybodyMayLook;

    AccessFilter(CsrfTokens csrf, LoopwardenConfig settings) {
        this.csrf = csrf;
        this.everybodyMayLook = settings.security().viewWithoutSignIn();
    }

    void register(@Observes Filters filters) {
        filters.register(this::check, PRIORITY);
    }

    private void check(RoutingContext context) {
        HttpServerRequest request = context.request();
        String path = request.path() == null ? "" : request.path();
        Optional<Access> access = AccessTable.find(request.method().name(), path);
        SecurityIdentity identity = QuarkusHttpUser.getSecurityIdentityBlocking(context, null);
        switch (access.map(row -> Decision.on(row, identity, everybodyMayLook)).orElse(Decision.NO_SUCH_ADDRESS)) {
            case ALLOWED -> checkOrigin(context, access.orElseThrow(), identity);
            case NO_SUCH_ADDRESS ->
                refuse(context, 404, "Not Found", "there is nothing at " + request.method() + " here");
            case SIGN_IN_FIRST -> signInFirst(context, path);
            case ROLE_TOO_LOW ->
                refuse(
                        context,
                        403,
                        "Forbidden",
                        "this needs the role " + access.orElseThrow().least().word() + ", yours is "
                                + Who.role(identity).word());
            case OUT_OF_SCOPE ->
                refuse(
                        context,
                        403,
                        "Forbidden",
                        "this key is not good for the area '"
                                + AccessTable.area(access.orElseThrow().template()) + "'");
        }
    }

    private static void signInFirst(RoutingContext context, String path) {
        if (path.equals("/") || path.endsWith(".html")) {
            String back = URLEncoder.encode(context.request().uri(), StandardCharsets.UTF_8);
            context.response()
                    .setStatusCode(302)
                    .putHeader("Location", "/sign-in.html?to=" + back)
                    .end();
        } else {
            refuse(context, 401, "Unauthorized", "sign in first, or send an API key");
        }
    }

    /** A browser adds the cookie by itself, so a change and a web socket must also show that one of our pages asked. */
    private void checkOrigin(RoutingContext context, Access access, SecurityIdentity identity) {
        HttpServerRequest request = context.request();
        boolean byBrowser = identity.getAttribute(Who.KEY) == null;
        if (byBrowser && fromElsewhere(request)) {
            refuse(context, 403, "Forbidden", "this request was made by a page of another site");
        } else if (byBrowser
                && access.isChange()
                && !identity.isAnonymous()
                && !csrf.fits(identity, request.getHeader(CsrfTokens.HEADER))) {
            refuse(
                    context,
                    403,
                    "Forbidden",
                    "the header " + CsrfTokens.HEADER
                            + " is missing or out of date; its value is 'csrf' in /api/v1/me");
        } else {
            context.next();
        }
    }

    private static boolean fromElsewhere(HttpServerRequest request) {
        String origin = request.getHeader("Origin");
        boolean matters = !request.method().name().equals("GET") || request.getHeader("Upgrade") != null;
        if (origin == null || !matters || request.authority() == null) {
            return false;
        }
        try {
            return !request.authority().toString().equals(URI.create(origin).getRawAuthority());
        } catch (IllegalArgumentException e) {
            return true;
        }
    }

    private static void refuse(RoutingContext context, int status, String title, String detail) {
        context.response()
                .setStatusCode(status)
                .putHeader("Content-Type", "application/problem+json")
                .end(new JsonObject()
                        .put("type", "about:blank")
                        .put("title", title)
                        .put("status", status)
                        .put("detail", detail)
                        .encode());
    }
}
