-- When somebody did no ring work, never why.

CREATE TABLE pause (
  id         INTEGER PRIMARY KEY, -- ours, in the order set
  member     INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,
  from_day   TEXT    NOT NULL,    -- training day set, YYYY-MM-DD
  until_day  TEXT,                -- training day resumed, YYYY-MM-DD, the first that is not paused; NULL while it runs
  coach_ends INTEGER NOT NULL CHECK (coach_ends IN (0, 1)), -- only a coach ends it; 0 once ended
  CHECK (until_day IS NULL OR coach_ends = 0)
) STRICT;
CREATE INDEX pause_by_member ON pause (member);
CREATE UNIQUE INDEX pause_running ON pause (member) WHERE until_day IS NULL;

-- Lets somebody take the cause of a pause back; gone at its expiry or use.
CREATE TABLE take_back (
  cause   INTEGER NOT NULL, -- the platform's number of the message
  member  INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,
  day     TEXT    NOT NULL, -- training day of the cause, YYYY-MM-DD
  opened  INTEGER NOT NULL CHECK (opened IN (0, 1)), -- the pause began with this cause
  expires INTEGER NOT NULL, -- ms since 1970 UTC
  PRIMARY KEY (cause, member)
) STRICT, WITHOUT ROWID;
CREATE INDEX take_back_by_member ON take_back (member);
CREATE INDEX take_back_by_expiry ON take_back (expires);

-- Messages that have acted once, without anything that ties them to anybody.
CREATE TABLE acted (
  hash BLOB PRIMARY KEY CHECK (length(hash) = 16) -- keyed hash of the message's number
) STRICT, WITHOUT ROWID;
