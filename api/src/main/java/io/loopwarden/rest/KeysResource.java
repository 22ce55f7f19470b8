package io.loopwarden.rest;

import io.loopwarden.security.ApiKeys;
import io.loopwarden.security.Who;
import io.loopwarden.store.KeyRow;
import jakarta.ws.rs.DELETE;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.NoSuchElementException;
import java.util.Optional;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Keys for programs. */
@Path("/api/v1/keys")
@Tag(name = "people and keys")
public class KeysResource {

    private static final int MOST_DAYS = 3_650;

    /** @param days how long it is good for; absent: until it is taken back */
    record NewKey(String label, String role, List<String> areas, Integer days) {}

    record KeyView(
            String id,
            String label,
            String role,
            List<String> areas,
            Optional<Instant> until,
            Instant createdAt,
            String createdBy) {

        static KeyView of(KeyRow key) {
            return new KeyView(
                    key.id(), key.label(), key.role(), key.areas(), key.until(), key.createdAt(), key.createdBy());
        }
    }

    private final ApiKeys keys;
    private final Who who;

    KeysResource(ApiKeys keys, Who who) {
        this.keys = keys;
        this.who = who;
    }

    @GET
    @Operation(summary = "Every key; the keys themselves are not kept")
    public List<KeyView> all() {
        return keys.all().stream().map(KeyView::of).toList();
    }

    @POST
    @Operation(summary = "Make a key for a role and, if areas are given, for these only; the answer has it, once")
    public ApiKeys.NewKey add(NewKey sent) throws SQLException {
        Require.present("label", sent == null ? null : sent.label());
        if (sent.days() != null && (sent.days() < 1 || sent.days() > MOST_DAYS)) {
            throw Problem.badRequest("days is " + sent.days() + ", must be 1 to " + MOST_DAYS);
        }
        try {
            return keys.add(
                    sent.label(),
                    PeopleResource.role(sent.role()),
                    sent.areas() == null ? List.of() : sent.areas(),
                    Optional.ofNullable(sent.days()).map(Duration::ofDays),
                    who.name());
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }

    @DELETE
    @Path("{id}")
    @Operation(summary = "Take a key back; it works no more at once")
    public void drop(@PathParam("id") String id) throws SQLException {
        try {
            keys.drop(id);
        } catch (NoSuchElementException e) {
            throw Problem.notFound(e.getMessage());
        }
    }
}
