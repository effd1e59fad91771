-- What messages gave. Never their text.

CREATE TABLE log (
  id     INTEGER PRIMARY KEY, -- the platform's number of the message
  member INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,  -- whose sets they are
  author INTEGER REFERENCES person ON DELETE SET NULL,          -- who wrote the message; NULL once erased
  at     INTEGER NOT NULL,    -- the message's first instant, ms since 1970 UTC
  day    TEXT    NOT NULL,    -- training day of the sets, YYYY-MM-DD
  state  TEXT    NOT NULL CHECK (state IN ('live', 'empty', 'deleted', 'undone', 'corrected'))
) STRICT;
-- Holds all that a member's history asks of a log, in the order asked.
CREATE INDEX log_by_member ON log (member, day, at, id, state);
CREATE INDEX log_by_author ON log (author, at, id);

-- The sets of live logs: equal sets typed one after the other are one row.
CREATE TABLE bout (
  log      INTEGER NOT NULL REFERENCES log ON DELETE CASCADE,
  position INTEGER NOT NULL,                     -- from 0, in the order typed
  times    INTEGER NOT NULL CHECK (times > 0),   -- sets in a row
  rung     TEXT    NOT NULL,                     -- rung id
  work_s   INTEGER NOT NULL,                     -- seconds, of one rep where reps stand beside it; 0 unsaid
  reps     INTEGER NOT NULL,                     -- 0 unsaid
  load_hg  INTEGER NOT NULL,                     -- hectograms (0.1 kg); negative for a counterweight or a band of known pull
  help     TEXT    NOT NULL,                     -- a word of the code's, as band; '' none
  side     TEXT    NOT NULL CHECK (side IN ('', 'left', 'right', 'each')), -- '' unsaid
  rest_s   INTEGER,                              -- seconds to the next bout; NULL unsaid
  effort   INTEGER,                              -- 0-10; NULL unsaid
  failed   INTEGER NOT NULL CHECK (failed IN (0, 1)),
  tries    INTEGER NOT NULL,                     -- attempts taken; 0 on other rungs
  done     INTEGER,                              -- attempts that came off; NULL unsaid
  PRIMARY KEY (log, position)
) STRICT, WITHOUT ROWID;

-- Messages written before the instant no longer give that day's sets.
CREATE TABLE correction (
  member INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,
  day    TEXT    NOT NULL, -- YYYY-MM-DD
  at     INTEGER NOT NULL, -- the latest correction, ms since 1970 UTC
  PRIMARY KEY (member, day)
) STRICT, WITHOUT ROWID;

-- Who changed somebody else's record.
CREATE TABLE audit (
  id     INTEGER PRIMARY KEY, -- ours
  member INTEGER NOT NULL REFERENCES person ON DELETE CASCADE, -- whose record
  actor  INTEGER REFERENCES person ON DELETE SET NULL,         -- who changed it; NULL once erased
  day    TEXT    NOT NULL,    -- the day changed, YYYY-MM-DD
  what   TEXT    NOT NULL,    -- a word of the code's, as correct
  at     INTEGER NOT NULL     -- ms since 1970 UTC
) STRICT;
CREATE INDEX audit_by_member ON audit (member, at);
CREATE INDEX audit_by_actor ON audit (actor);
