-- Small numbers that stand for names in frames and roll-ups.
CREATE TABLE unit_name (
    unit_id integer GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    name    text NOT NULL UNIQUE
);

CREATE TABLE point_name (
    point_id smallint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    name     text NOT NULL UNIQUE
);

-- What the columns of a frame are: point and conversion from the source's number to the inner unit
-- (inside = raw * factor + offset). Never changed: another point map makes another row.
CREATE TABLE frame_layout (
    layout_id integer GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    point_ids smallint[]         NOT NULL,
    factors   double precision[] NOT NULL,
    offsets   double precision[] NOT NULL,
    ucum      text[]             NOT NULL
);

-- Hours of a unit whose roll-ups must be made anew, because samples came since they were made. The mark grows with every
-- such write, so that whoever makes the roll-ups sees whether more came meanwhile.
CREATE SEQUENCE due_mark;

CREATE TABLE hour_due (
    unit_id    integer     NOT NULL,
    hour_start timestamptz NOT NULL,
    mark       bigint      NOT NULL,
    PRIMARY KEY (unit_id, hour_start)
);
