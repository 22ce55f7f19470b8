package io.loopwarden.mqtt.payload;

import com.fasterxml.jackson.core.JsonParseException;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import io.loopwarden.collector.RejectReason;
import io.loopwarden.fleet.Quality;
import io.loopwarden.fleet.RawValue;
import java.io.IOException;
import java.math.BigInteger;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** One pass over one JSON message. What spoils one value is a refusal; what spoils the message is a parse exception. */
final class JsonMessageReader {

    /** Far more than any unit has. */
    static final int MAX_VALUES = 10_000;

    private final JsonParser json;
    private final List<JsonPayload.Value> values = new ArrayList<>();
    private final List<Refusal> refusals = new ArrayList<>();
    private String unit;
    private Instant time;

    JsonMessageReader(JsonParser json) {
        this.json = json;
    }

    JsonPayload.Message message() throws IOException {
        boolean hasValues = false;
        expect(json.nextToken(), JsonToken.START_OBJECT, "the message");
        while (json.nextToken() != JsonToken.END_OBJECT) {
            String key = nameOf("the message");
            JsonToken token = json.nextToken();
            switch (key) {
                case "unit" -> unit = textOrNull(token, "unit");
                case "time" -> time = messageTime(token);
                case "values" -> {
                    expect(token, JsonToken.START_OBJECT, "'values'");
                    readValues();
                    hasValues = true;
                }
                default -> json.skipChildren();
            }
        }
        if (!hasValues) {
            throw new JsonParseException(json, "the message has no 'values'");
        }
        if (json.nextToken() != null) {
            throw new JsonParseException(json, "something follows the message");
        }
        return new JsonPayload.Message(unit, time, values, refusals);
    }

    private void readValues() throws IOException {
        while (json.nextToken() != JsonToken.END_OBJECT) {
            String tag = nameOf("'values'");
            if (values.size() + refusals.size() >= MAX_VALUES) {
                throw new JsonParseException(json, "more than " + MAX_VALUES + " values");
            }
            if (json.nextToken() == JsonToken.START_OBJECT) {
                new ValueReader(tag).readObject();
            } else {
                new ValueReader(tag).readPlain();
            }
        }
    }

    /** One value with what belongs to it; the first thing that is wrong with it is kept, and the rest read over. */
    private final class ValueReader {

        private final String tag;
        private RawValue value = RawValue.NONE;
        private Instant ownTime;
        private Quality.Level level = Quality.Level.GOOD;
        private long code;
        private String ucum;
        private Refusal refusal;

        ValueReader(String tag) {
            this.tag = tag;
        }

        void readPlain() throws IOException {
            readValue(json.currentToken());
            finish();
        }

        void readObject() throws IOException {
            while (json.nextToken() != JsonToken.END_OBJECT) {
                String key = nameOf("a value");
                JsonToken token = json.nextToken();
                switch (key) {
                    case "value" -> readValue(token);
                    case "time" -> readTime(token);
                    case "quality" -> readLevel(token);
                    case "code" -> readCode(token);
                    case "unit" -> readUcum(token);
                    default -> json.skipChildren();
                }
            }
            finish();
        }

        private void finish() {
            if (refusal != null) {
                refusals.add(refusal);
                return;
            }
            Quality.Level told = value == RawValue.NONE ? Quality.Level.BAD : level;
            Quality quality = told == Quality.Level.GOOD && code == 0 ? Quality.GOOD : new Quality(told, code);
            values.add(new JsonPayload.Value(tag, ownTime, value, quality, ucum));
        }

        private void readValue(JsonToken token) throws IOException {
            switch (token) {
                case VALUE_NULL -> value = RawValue.NONE;
                case VALUE_TRUE, VALUE_FALSE -> value = RawValue.of(token == JsonToken.VALUE_TRUE);
                case VALUE_NUMBER_INT -> readWhole();
                case VALUE_NUMBER_FLOAT -> readDecimal();
                case VALUE_STRING -> refuseText(json.getText());
                default -> {
                    json.skipChildren();
                    refuse(RejectReason.WRONG_TYPE, token == JsonToken.START_ARRAY ? "is a list" : "is an object");
                }
            }
        }

        private void readWhole() throws IOException {
            if (json.getNumberType() != JsonParser.NumberType.BIG_INTEGER) {
                value = RawValue.of(json.getLongValue());
                return;
            }
            BigInteger whole = json.getBigIntegerValue();
            if (whole.signum() > 0 && whole.bitLength() <= 64) {
                value = RawValue.of(whole.longValue());
            } else {
                refuse(RejectReason.WRONG_TYPE, "is a whole number of more than 64 bits");
            }
        }

        private void readDecimal() throws IOException {
            double decimal = json.getDoubleValue();
            if (Double.isFinite(decimal)) {
                value = RawValue.of(decimal);
            } else {
                refuse(RejectReason.NOT_A_NUMBER, "is " + decimal);
            }
        }

        private void refuseText(String text) {
            boolean noNumber = text.equals("NaN") || text.equals("Infinity") || text.equals("-Infinity");
            refuse(
                    noNumber ? RejectReason.NOT_A_NUMBER : RejectReason.WRONG_TYPE,
                    noNumber ? "is " + text : "is the text '" + shortened(text) + "', not a number");
        }

        private void readTime(JsonToken token) throws IOException {
            try {
                ownTime = timeOf(token);
            } catch (DateTimeException e) {
                json.skipChildren();
                refuse(RejectReason.MALFORMED, "has a time that " + e.getMessage());
            }
        }

        private void readLevel(JsonToken token) throws IOException {
            String text = token == JsonToken.VALUE_STRING ? json.getText() : token.name();
            json.skipChildren();
            switch (text) {
                case "good" -> level = Quality.Level.GOOD;
                case "uncertain" -> level = Quality.Level.UNCERTAIN;
                case "bad" -> level = Quality.Level.BAD;
                default ->
                    refuse(RejectReason.MALFORMED, "has quality '" + shortened(text) + "', not good, uncertain or bad");
            }
        }

        private void readCode(JsonToken token) throws IOException {
            boolean whole =
                    token == JsonToken.VALUE_NUMBER_INT && json.getNumberType() != JsonParser.NumberType.BIG_INTEGER;
            long told = whole ? json.getLongValue() : -1;
            json.skipChildren();
            if (told < 0 || told > 0xFFFF_FFFFL) {
                refuse(RejectReason.MALFORMED, "has a code that is not a whole number from 0 to 4294967295");
            } else {
                code = told;
            }
        }

        private void readUcum(JsonToken token) throws IOException {
            if (token == JsonToken.VALUE_STRING) {
                ucum = json.getText();
            } else if (token != JsonToken.VALUE_NULL) {
                json.skipChildren();
                refuse(RejectReason.UNKNOWN_UNIT_OF_MEASURE, "has a unit that is not a text");
            }
        }

        private void refuse(RejectReason reason, String what) {
            if (refusal == null) {
                refusal = new Refusal(reason, "'" + shortened(tag) + "' " + what);
            }
        }
    }

    private Instant messageTime(JsonToken token) throws IOException {
        try {
            return timeOf(token);
        } catch (DateTimeException e) {
            throw new JsonParseException(json, "the message has a time that " + e.getMessage());
        }
    }

    /** @throws DateTimeException with the rest of a sentence that begins "a time that" */
    private Instant timeOf(JsonToken token) throws IOException {
        switch (token) {
            case VALUE_NULL -> {
                return null;
            }
            case VALUE_NUMBER_INT -> {
                if (json.getNumberType() == JsonParser.NumberType.BIG_INTEGER) {
                    throw new DateTimeException("is beyond 64 bits");
                }
                return Instant.ofEpochMilli(json.getLongValue());
            }
            case VALUE_STRING -> {
                String text = json.getText();
                try {
                    return Instant.parse(text);
                } catch (DateTimeException e) {
                    throw new DateTimeException("is not ISO 8601 with a zone: '" + shortened(text) + "'", e);
                }
            }
            default -> throw new DateTimeException("is neither a text nor whole milliseconds");
        }
    }

    private String textOrNull(JsonToken token, String key) throws IOException {
        if (token == JsonToken.VALUE_NULL) {
            return null;
        }
        expect(token, JsonToken.VALUE_STRING, "'" + key + "'");
        return json.getText();
    }

    private String nameOf(String where) throws IOException {
        expect(json.currentToken(), JsonToken.FIELD_NAME, where);
        return json.currentName();
    }

    private void expect(JsonToken found, JsonToken wanted, String where) throws IOException {
        if (found != wanted) {
            throw new JsonParseException(
                    json, where + " is cut short or not as documented: " + found + " in place of " + wanted);
        }
    }

    private static String shortened(String text) {
        return text.length() <= 60 ? text : text.substring(0, 60) + "…";
    }
}
