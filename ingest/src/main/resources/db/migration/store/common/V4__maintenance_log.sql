-- What people wrote about their work on units. Rows are only ever added: a withdrawal names the entry that it makes void.
CREATE TABLE maintenance_entry (
    entry_id     uuid PRIMARY KEY,
    unit         text        NOT NULL,
    kind         text        NOT NULL,
    part         text,
    from_at      timestamptz NOT NULL,
    until_at     timestamptz NOT NULL,
    written_by   text        NOT NULL,
    written_at   timestamptz NOT NULL,
    note         text        NOT NULL,
    amount       double precision,
    amount_ucum  text,
    new_serial   text,
    new_supplier text,
    new_model    text,
    withdraws    uuid UNIQUE REFERENCES maintenance_entry (entry_id),
    CHECK ((amount IS NULL) = (amount_ucum IS NULL)),
    CHECK (until_at >= from_at),
    CHECK ((kind = 'withdrawal') = (withdraws IS NOT NULL))
);

CREATE INDEX maintenance_entry_by_unit ON maintenance_entry (unit, from_at);

CREATE FUNCTION maintenance_is_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'maintenance entries are never changed or deleted: add a withdrawal';
END $$;

CREATE TRIGGER maintenance_entry_append_only BEFORE UPDATE OR DELETE ON maintenance_entry
    FOR EACH STATEMENT EXECUTE FUNCTION maintenance_is_append_only();
