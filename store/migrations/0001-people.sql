-- Teams and who belongs to them.

CREATE TABLE team (
  id          INTEGER PRIMARY KEY, -- the platform's number
  name        TEXT    NOT NULL,
  zone        TEXT    NOT NULL,    -- IANA name
  days        INTEGER NOT NULL CHECK (days BETWEEN 0 AND 127),        -- team days, one bit a weekday, Sunday the lowest
  nudge       INTEGER NOT NULL CHECK (nudge BETWEEN 0 AND 1439),      -- minutes after local midnight
  digest_day  INTEGER NOT NULL CHECK (digest_day BETWEEN 0 AND 6),    -- weekday, Sunday 0
  digest      INTEGER NOT NULL CHECK (digest BETWEEN 0 AND 1439),     -- minutes after local midnight
  quiet_from  INTEGER NOT NULL CHECK (quiet_from BETWEEN 0 AND 1439), -- minutes after local midnight
  quiet_until INTEGER NOT NULL CHECK (quiet_until BETWEEN 0 AND 1439) -- minutes after local midnight, the first that is not quiet
) STRICT;

-- Whom any other row may speak of. Every row about somebody points here and
-- goes with this one, so that erasing somebody is erasing this row.
CREATE TABLE person (
  key  INTEGER PRIMARY KEY, -- ours
  team INTEGER NOT NULL REFERENCES team ON DELETE CASCADE,
  id   INTEGER NOT NULL,    -- the platform's number
  UNIQUE (team, id)
) STRICT;
CREATE INDEX person_by_id ON person (id);

CREATE TABLE member (
  place   INTEGER PRIMARY KEY, -- order of enrolment
  person  INTEGER NOT NULL UNIQUE REFERENCES person ON DELETE CASCADE,
  name    TEXT    NOT NULL,
  zone    TEXT    NOT NULL,    -- IANA name
  joined  TEXT,                -- training day, YYYY-MM-DD; NULL for a coach who never logged and was not enrolled
  since   INTEGER NOT NULL,    -- instant of enrolment, ms since 1970 UTC
  trains  INTEGER NOT NULL CHECK (trains IN (0, 1)),
  coach   INTEGER NOT NULL CHECK (coach IN (0, 1)),
  manager INTEGER NOT NULL CHECK (manager IN (0, 1)),
  nudges  INTEGER NOT NULL CHECK (nudges IN (0, 1)) -- wants to be nudged
) STRICT;

CREATE TABLE away (
  member     INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,
  position   INTEGER NOT NULL, -- from 0, in the order given
  from_day   TEXT    NOT NULL, -- YYYY-MM-DD, included
  until_day  TEXT    NOT NULL, -- YYYY-MM-DD, included
  PRIMARY KEY (member, position)
) STRICT, WITHOUT ROWID;

-- A coach's word that they saw the gate shown.
CREATE TABLE mark (
  member INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,
  day    TEXT    NOT NULL, -- YYYY-MM-DD
  gate   TEXT    NOT NULL, -- rung id
  coach  INTEGER REFERENCES person ON DELETE SET NULL, -- NULL once erased
  PRIMARY KEY (member, day, gate)
) STRICT, WITHOUT ROWID;
CREATE INDEX mark_by_coach ON mark (coach);
