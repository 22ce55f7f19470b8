-- What a unit's watch remembers for longer than its samples, as one JSON text a unit; the newest replaces the one before.
CREATE TABLE unit_memory (
    unit     text        PRIMARY KEY,
    saved_at timestamptz NOT NULL,
    memory   text        NOT NULL
);
