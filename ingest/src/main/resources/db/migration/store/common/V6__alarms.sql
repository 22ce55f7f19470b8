-- What happened to alarms: only ever added to. States are the letters of IEC 62682.
CREATE TABLE alarm_transition (
    transition_id bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    source        text        NOT NULL,
    definition    text        NOT NULL,
    event         text        NOT NULL,
    from_state    char(1)     NOT NULL,
    to_state      char(1)     NOT NULL,
    happened_at   timestamptz NOT NULL,
    who           text        NOT NULL,
    why           text        NOT NULL,
    until_at      timestamptz
);

CREATE INDEX alarm_transition_by_alarm ON alarm_transition (source, definition, transition_id);
CREATE INDEX alarm_transition_by_time ON alarm_transition (happened_at);

CREATE OR REPLACE FUNCTION refuse_change_of_alarm_history() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'the history of alarms and the shift log are only added to';
END $$;

CREATE TRIGGER alarm_transition_is_only_added_to BEFORE UPDATE OR DELETE ON alarm_transition
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change_of_alarm_history();

-- Each alarm as it stands; written in the transaction of its transition.
CREATE TABLE alarm_now (
    source         text        NOT NULL,
    definition     text        NOT NULL,
    state          char(1)     NOT NULL,
    has_condition  boolean     NOT NULL,
    since          timestamptz NOT NULL,
    raised_at      timestamptz,
    shelved_until  timestamptz,
    suppressed_by  text,
    out_of_service boolean     NOT NULL,
    evidence       text        NOT NULL,
    PRIMARY KEY (source, definition)
);

CREATE TABLE incident (
    incident_id    text        PRIMARY KEY,
    place          text        NOT NULL,
    cause          text        NOT NULL,
    opened_at      timestamptz NOT NULL,
    last_raised_at timestamptz NOT NULL,
    asks_since     timestamptz NOT NULL,
    quiet_since    timestamptz,
    closed_at      timestamptz,
    taken_by       text,
    taken_at       timestamptz,
    priority       text        NOT NULL,
    lead           text        NOT NULL,
    alarms         text[]      NOT NULL,
    merged_into    text
);

CREATE INDEX incident_open ON incident (opened_at) WHERE closed_at IS NULL;
CREATE INDEX incident_by_time ON incident (opened_at);

CREATE TABLE shift_note (
    note_id    uuid        PRIMARY KEY,
    written_at timestamptz NOT NULL,
    who        text        NOT NULL,
    about      text        NOT NULL,
    note       text        NOT NULL
);

CREATE INDEX shift_note_by_time ON shift_note (written_at);

CREATE TRIGGER shift_note_is_only_added_to BEFORE UPDATE OR DELETE ON shift_note
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change_of_alarm_history();
