package io.loopwarden.system;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.util.Map;

/** Somebody who is signed in at a service, or nobody. */
public final class Account {

    static final String PASSWORD = "a password for tests";
    private static final ObjectMapper JSON = new ObjectMapper();

    private final Service service;
    private final String cookie;
    private final String csrf;

    private Account(Service service, String cookie) {
        this.service = service;
        this.cookie = cookie;
        this.csrf = cookie.isEmpty()
                ? ""
                : json(raw("GET", "/api/v1/me", "", "")).get("csrf").asText();
    }

    static Account nobody(Service service) {
        return new Account(service, "");
    }

    static Account redeem(Service service, String token, String name) {
        return opened(service, "/api/v1/sign-in/token", Map.of("token", token, "name", name, "password", PASSWORD));
    }

    static Account signIn(Service service, String name) {
        return opened(service, "/api/v1/sign-in", Map.of("name", name, "password", PASSWORD));
    }

    private static Account opened(Service service, String path, Map<String, String> body) {
        HttpResponse<String> answer = nobody(service).send("POST", path, text(body));
        if (answer.statusCode() != 204) {
            throw new IllegalStateException(path + " answered " + answer.statusCode() + " " + answer.body());
        }
        String cookie = answer.headers().firstValue("Set-Cookie").orElseThrow();
        return new Account(service, cookie.substring(0, cookie.indexOf(';')));
    }

    /** What a browser sends to be this person: {@code name=value}. */
    public String cookie() {
        return cookie;
    }

    /** Adds a person with that role and signs in as them. */
    public Account add(String role) {
        JsonNode made = json(send("POST", "/api/v1/people", text(Map.of("name", role, "role", role))));
        return redeem(service, made.get("token").asText(), role);
    }

    /** Sends as one of our pages would. */
    public HttpResponse<String> send(String method, String path, String body) {
        return raw(method, path, body, csrf);
    }

    HttpResponse<String> raw(String method, String path, String body, String csrfToken) {
        HttpRequest.Builder request = HttpRequest.newBuilder(service.address(path))
                .method(
                        method,
                        body.isEmpty()
                                ? HttpRequest.BodyPublishers.noBody()
                                : HttpRequest.BodyPublishers.ofString(body))
                .header("Content-Type", "application/json");
        if (!cookie.isEmpty()) {
            request.header("Cookie", cookie);
        }
        if (!csrfToken.isEmpty()) {
            request.header("X-CSRF-Token", csrfToken);
        }
        try {
            return Service.send(request.build());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    public static JsonNode json(HttpResponse<String> answer) {
        try {
            return JSON.readTree(answer.body());
        } catch (JsonProcessingException e) {
            throw new UncheckedIOException(e);
        }
    }

    static String text(Object body) {
        try {
            return JSON.writeValueAsString(body);
        } catch (JsonProcessingException e) {
            throw new UncheckedIOException(e);
        }
    }
}
