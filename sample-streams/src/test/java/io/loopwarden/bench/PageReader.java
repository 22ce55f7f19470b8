package io.loopwarden.bench;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.net.http.WebSocket;
import java.time.Instant;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.atomic.AtomicLongArray;

/** An open page: for each unit in each message, how old its newest sample is when the message is there. */
final class PageReader implements WebSocket.Listener {

    private static final int LONGEST_MS = 60_000;
    private static final JsonFactory JSON = new JsonFactory();

    private final AtomicLongArray agesMs = new AtomicLongArray(LONGEST_MS + 1);
    private final Map<String, String> newest = new HashMap<>();
    private final StringBuilder text = new StringBuilder();
    private volatile boolean counting;
    private volatile long bytes;

    /** From now on. */
    void count() {
        counting = true;
    }

    long bytes() {
        return bytes;
    }

    long changes() {
        long all = 0;
        for (int ms = 0; ms <= LONGEST_MS; ms++) {
            all += agesMs.get(ms);
        }
        return all;
    }

    /** The age that this share of changes did not exceed. */
    double ageMs(double share) {
        long wanted = (long) Math.ceil(share * changes());
        long seen = 0;
        for (int ms = 0; ms <= LONGEST_MS; ms++) {
            seen += agesMs.get(ms);
            if (seen >= wanted) {
                return ms;
            }
        }
        return LONGEST_MS;
    }

    @Override
    public CompletionStage<?> onText(WebSocket socket, CharSequence data, boolean last) {
        text.append(data);
        if (last) {
            long nowMs = System.currentTimeMillis();
            bytes += text.length();
            try {
                read(text.toString(), nowMs);
            } catch (IOException e) {
                throw new java.io.UncheckedIOException(e);
            }
            text.setLength(0);
        }
        socket.request(1);
        return null;
    }

    private void read(String message, long nowMs) throws IOException {
        try (JsonParser json = JSON.createParser(message)) {
            String id = "";
            for (JsonToken token = json.nextToken(); token != null; token = json.nextToken()) {
                if (token != JsonToken.FIELD_NAME) {
                    continue;
                }
                String name = json.currentName();
                if (name.equals("figures") || name.equals("functions")) {
                    json.nextToken();
                    json.skipChildren();
                } else if (name.equals("id")) {
                    id = json.nextTextValue();
                } else if (name.equals("lastSampleAt")) {
                    seen(id, json.nextTextValue(), nowMs);
                }
            }
        }
    }

    private void seen(String id, String at, long nowMs) {
        if (counting && !at.equals(newest.get(id))) {
            long age = nowMs - Instant.parse(at).toEpochMilli();
            agesMs.incrementAndGet((int) Math.max(0, Math.min(LONGEST_MS, age)));
        }
        newest.put(id, at);
    }
}
