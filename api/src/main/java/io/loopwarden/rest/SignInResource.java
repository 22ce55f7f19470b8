package io.loopwarden.rest;

import io.loopwarden.security.Attempt;
import io.loopwarden.security.AuditTrail;
import io.loopwarden.security.Me;
import io.loopwarden.security.People;
import io.loopwarden.security.Who;
import io.vertx.core.http.HttpServerRequest;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.PUT;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.core.Context;
import jakarta.ws.rs.core.NewCookie;
import jakarta.ws.rs.core.Response;
import java.sql.SQLException;
import java.time.Duration;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Signing in and out. */
@Path("/api/v1")
@Tag(name = "signing in")
public class SignInResource {

    record NameAndPassword(String name, String password) {}

    record TokenAndPassword(String token, String name, String password) {}

    record OldAndNew(String oldPassword, String newPassword) {}

    private final People people;
    private final AuditTrail trail;
    private final Who who;
    private final Me me;

    SignInResource(People people, AuditTrail trail, Who who, Me me) {
        this.people = people;
        this.trail = trail;
        this.who = who;
        this.me = me;
    }

    @GET
    @Path("me")
    @Operation(summary = "Who is signed in, with what role, and the CSRF token to send with changes")
    public Me.View me() {
        return me.view();
    }

    @POST
    @Path("sign-in")
    @Operation(summary = "Sign in; the answer sets a cookie")
    public Response signIn(NameAndPassword sent, @Context HttpServerRequest request) throws SQLException {
        Require.present("name", sent == null ? null : sent.name());
        Require.present("password", sent.password());
        return answer(people.signIn(sent.name(), sent.password(), address(request)), sent.name(), "sign-in", request);
    }

    @POST
    @Path("sign-in/token")
    @Operation(summary = "Choose a password with a one-time token and sign in")
    public Response redeem(TokenAndPassword sent, @Context HttpServerRequest request) throws SQLException {
        Require.present("token", sent == null ? null : sent.token());
        Require.present("name", sent.name());
        Require.present("password", sent.password());
        return answer(
                people.redeem(sent.token(), sent.name(), sent.password(), address(request)),
                sent.name(),
                "sign-in by token",
                request);
    }

    private Response answer(Attempt attempt, String name, String action, HttpServerRequest request)
            throws SQLException {
        String from = "from " + address(request);
        if (attempt instanceof Attempt.Opened opened) {
            trail.append(opened.person(), action, opened.person(), from);
            return Response.noContent().cookie(cookie(opened.token(), request)).build();
        }
        if (attempt instanceof Attempt.TooMany tooMany) {
            Duration wait = tooMany.pause().plusSeconds(1);
            return Response.fromResponse(Problem.response(
                            Response.Status.TOO_MANY_REQUESTS,
                            "too many failed attempts; wait " + wait.toSeconds() + " s"))
                    .header("Retry-After", wait.toSeconds())
                    .build();
        }
        String detail = ((Attempt.Refused) attempt).detail();
        trail.append(
                "nobody", action, name.length() > 64 ? name.substring(0, 64) : name, from + ", refused: " + detail);
        return Problem.response(Response.Status.UNAUTHORIZED, detail);
    }

    private static String address(HttpServerRequest request) {
        return request.remoteAddress() == null
                ? "unknown"
                : request.remoteAddress().hostAddress();
    }

    @POST
    @Path("sign-out")
    @Operation(summary = "End this sign-in")
    public Response signOut(@Context HttpServerRequest request) throws SQLException {
        if (!who.sessionHash().isEmpty()) {
            people.signOut(who.sessionHash());
        }
        return Response.noContent().cookie(gone(request)).build();
    }

    @PUT
    @Path("me/password")
    @Operation(summary = "Change one's own password; every open sign-in ends")
    public Response password(OldAndNew sent, @Context HttpServerRequest request) throws SQLException {
        Require.present("oldPassword", sent == null ? null : sent.oldPassword());
        Require.present("newPassword", sent.newPassword());
        if (who.sessionHash().isEmpty()) {
            throw Problem.badRequest("only a person who signed in with a password here can change it here");
        }
        try {
            people.changePassword(who.name(), sent.oldPassword(), sent.newPassword());
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
        trail.append(who.name(), "change of password", who.name(), "from " + address(request));
        return Response.noContent().cookie(gone(request)).build();
    }

    private static NewCookie cookie(String token, HttpServerRequest request) {
        return new NewCookie.Builder(Who.COOKIE)
                .value(token)
                .path("/")
                .httpOnly(true)
                .secure("https".equals(request.scheme()))
                .sameSite(NewCookie.SameSite.STRICT)
                .build();
    }

    private static NewCookie gone(HttpServerRequest request) {
        return new NewCookie.Builder(Who.COOKIE)
                .value("")
                .path("/")
                .maxAge(0)
                .httpOnly(true)
                .secure("https".equals(request.scheme()))
                .sameSite(NewCookie.SameSite.STRICT)
                .build();
    }
}
