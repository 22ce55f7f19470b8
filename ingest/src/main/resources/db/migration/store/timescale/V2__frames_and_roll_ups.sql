-- A frame: samples of one unit within one hour of source time; payload in the form that FrameCodec documents.
CREATE TABLE frame (
    start_at     timestamptz NOT NULL,
    last_at      timestamptz NOT NULL,
    unit_id      integer     NOT NULL,
    layout_id    integer     NOT NULL,
    sample_count integer     NOT NULL,
    payload      bytea       NOT NULL
);

-- Payloads are dense already; stored as they are, a part of one can be read without the rest.
ALTER TABLE frame ALTER COLUMN payload SET STORAGE EXTERNAL;

CREATE INDEX frame_by_unit ON frame (unit_id, start_at);

-- Per point: 60 minutes of an hour, 24 hours of a day (UTC). Values in the point's inner unit, over samples that are good or
-- uncertain; sample_count counts these. Array position 1 is the first minute, or hour; no samples: null.
CREATE TABLE rollup_minute (
    hour_start   timestamptz        NOT NULL,
    unit_id      integer            NOT NULL,
    point_id     smallint           NOT NULL,
    sample_count integer[]          NOT NULL,
    good_count   integer[]          NOT NULL,
    bad_count    integer[]          NOT NULL,
    min_si       double precision[] NOT NULL,
    max_si       double precision[] NOT NULL,
    mean_si      double precision[] NOT NULL,
    last_si      double precision[] NOT NULL,
    PRIMARY KEY (unit_id, point_id, hour_start)
);

CREATE TABLE rollup_hour (
    day_start    timestamptz        NOT NULL,
    unit_id      integer            NOT NULL,
    point_id     smallint           NOT NULL,
    sample_count integer[]          NOT NULL,
    good_count   integer[]          NOT NULL,
    bad_count    integer[]          NOT NULL,
    min_si       double precision[] NOT NULL,
    max_si       double precision[] NOT NULL,
    mean_si      double precision[] NOT NULL,
    last_si      double precision[] NOT NULL,
    PRIMARY KEY (unit_id, point_id, day_start)
);

SELECT create_hypertable('frame', by_range('start_at', INTERVAL '7 days'), create_default_indexes => false);
SELECT create_hypertable('rollup_minute', by_range('hour_start', INTERVAL '28 days'), create_default_indexes => false);
SELECT create_hypertable('rollup_hour', by_range('day_start', INTERVAL '364 days'), create_default_indexes => false);

ALTER TABLE frame SET (
    timescaledb.compress, timescaledb.compress_segmentby = 'unit_id', timescaledb.compress_orderby = 'start_at');
ALTER TABLE rollup_minute SET (
    timescaledb.compress, timescaledb.compress_segmentby = 'unit_id, point_id', timescaledb.compress_orderby = 'hour_start');
