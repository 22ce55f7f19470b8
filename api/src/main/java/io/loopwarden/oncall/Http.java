package io.loopwarden.oncall;

import java.io.IOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;

/** Sends a request and reads from its answer whether the message was taken. */
final class Http {

    static final Duration TIMEOUT = Duration.ofSeconds(10);

    private static final HttpClient CLIENT = HttpClient.newBuilder()
            .version(HttpClient.Version.HTTP_1_1)
            .connectTimeout(Duration.ofSeconds(5))
            .followRedirects(HttpClient.Redirect.NEVER)
            .build();

    private Http() {}

    static void send(String channel, HttpRequest request) throws DeliveryException {
        int status;
        try {
            status =
                    CLIENT.send(request, HttpResponse.BodyHandlers.discarding()).statusCode();
        } catch (IOException e) {
            throw DeliveryException.passing(
                    "channel " + channel + ": " + request.uri().getAuthority() + " cannot be reached: " + e, e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw DeliveryException.passing("channel " + channel + ": interrupted", e);
        }
        if (status / 100 == 2) {
            return;
        }
        String answered = "channel " + channel + ": " + request.uri().getAuthority() + " answered " + status;
        // Too many requests, a time-out or a failing server pass; any other refusal stays.
        boolean passing = status / 100 == 5 || status == 408 || status == 425 || status == 429;
        throw passing ? DeliveryException.passing(answered, null) : DeliveryException.permanent(answered);
    }
}
