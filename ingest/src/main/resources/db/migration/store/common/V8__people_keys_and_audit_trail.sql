-- Who may sign in. Tokens and keys are random and long, so a plain SHA-256 of them is kept; passwords as Argon2.
CREATE TABLE person (
    name          text PRIMARY KEY,
    role          text        NOT NULL,
    active        boolean     NOT NULL,
    password_hash text,
    token_hash    bytea,
    token_until   timestamptz,
    created_at    timestamptz NOT NULL,
    created_by    text        NOT NULL
);

CREATE TABLE sign_in (
    session_hash bytea PRIMARY KEY,
    person       text        NOT NULL REFERENCES person (name),
    begun_at     timestamptz NOT NULL,
    until        timestamptz NOT NULL
);

CREATE TABLE api_key (
    key_id      text PRIMARY KEY,
    label       text        NOT NULL,
    role        text        NOT NULL,
    areas       text[]      NOT NULL, -- empty: every area
    secret_hash bytea       NOT NULL,
    until       timestamptz,
    created_at  timestamptz NOT NULL,
    created_by  text        NOT NULL
);

-- Each entry's hash covers the entry and the hash before it: what is changed or taken out later shows.
CREATE TABLE audit_entry (
    number        bigint PRIMARY KEY,
    at            timestamptz NOT NULL,
    who           text        NOT NULL,
    action        text        NOT NULL,
    subject       text        NOT NULL,
    detail        text        NOT NULL,
    previous_hash bytea       NOT NULL,
    hash          bytea       NOT NULL
);
