package io.loopwarden.rest;

import io.loopwarden.security.People;
import io.loopwarden.security.Role;
import io.loopwarden.security.Who;
import jakarta.ws.rs.GET;
import jakarta.ws.rs.POST;
import jakarta.ws.rs.PUT;
import jakarta.ws.rs.Path;
import jakarta.ws.rs.PathParam;
import java.sql.SQLException;
import java.util.List;
import java.util.NoSuchElementException;
import org.eclipse.microprofile.openapi.annotations.Operation;
import org.eclipse.microprofile.openapi.annotations.tags.Tag;

/** Who may sign in, and with what role. */
@Path("/api/v1/people")
@Tag(name = "people and keys")
public class PeopleResource {

    record NewPerson(String name, String role) {}

    record Change(String role, Boolean active) {}

    private final People people;
    private final Who who;

    PeopleResource(People people, Who who) {
        this.people = people;
        this.who = who;
    }

    @GET
    @Operation(summary = "Everybody who may sign in or could")
    public List<People.View> all() {
        return people.all();
    }

    @POST
    @Operation(summary = "Add a person; the answer has a one-time token with which they choose a password")
    public People.NewToken add(NewPerson sent) throws SQLException {
        Require.present("name", sent == null ? null : sent.name());
        try {
            return people.add(sent.name(), role(sent.role()), who.name());
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }

    @PUT
    @Path("{name}")
    @Operation(summary = "Change a person's role, or whether they may sign in")
    public void change(@PathParam("name") String name, Change sent) throws SQLException {
        Require.present("active", sent == null ? null : sent.active());
        try {
            people.change(name, role(sent.role()), sent.active());
        } catch (NoSuchElementException e) {
            throw Problem.notFound(e.getMessage());
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }

    @POST
    @Path("{name}/token")
    @Operation(summary = "End a person's password and sign-ins and make a token for choosing a new password")
    public People.NewToken token(@PathParam("name") String name) throws SQLException {
        try {
            return people.reset(name);
        } catch (NoSuchElementException e) {
            throw Problem.notFound(e.getMessage());
        } catch (IllegalArgumentException e) {
            throw Problem.badRequest(e.getMessage());
        }
    }

    static Role role(String word) {
        return Role.given(word == null ? "" : word)
                .orElseThrow(() -> Problem.badRequest(
                        "role is '" + word + "', must be viewer, operator, engineer or administrator"));
    }
}
