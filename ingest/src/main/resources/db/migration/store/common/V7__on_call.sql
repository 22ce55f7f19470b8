-- People, rotas and escalation chains, as a whole; a change is a new version.
CREATE TABLE on_call_plan (
    version    integer     PRIMARY KEY,
    written_at timestamptz NOT NULL,
    written_by text        NOT NULL,
    why        text        NOT NULL,
    plan       jsonb       NOT NULL
);

CREATE TRIGGER on_call_plan_is_only_added_to BEFORE UPDATE OR DELETE ON on_call_plan
    FOR EACH STATEMENT EXECUTE FUNCTION refuse_change_of_alarm_history();

-- Messages that were decided on; each is sent until it is delivered or given up. message_id is the same however often it is sent.
CREATE TABLE outbox (
    message_id   uuid        NOT NULL,
    channel      text        NOT NULL,
    incident_id  text        NOT NULL,
    person       text        NOT NULL,
    kind         text        NOT NULL,
    priority     text        NOT NULL,
    address      text        NOT NULL,
    body         jsonb       NOT NULL,
    decided_at   timestamptz NOT NULL,
    state        text        NOT NULL CHECK (state IN ('waiting', 'delivered', 'dead')),
    attempts     integer     NOT NULL,
    next_at      timestamptz NOT NULL,
    last_error   text        NOT NULL,
    delivered_at timestamptz,
    PRIMARY KEY (message_id, channel)
);

CREATE INDEX outbox_waiting ON outbox (next_at) WHERE state = 'waiting';
CREATE INDEX outbox_dead ON outbox (decided_at) WHERE state = 'dead';
CREATE INDEX outbox_by_incident ON outbox (incident_id);
