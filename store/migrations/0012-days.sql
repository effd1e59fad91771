-- A message may give sets of several days, a row for each; and what it gave may
-- wait for its author's word.
CREATE TABLE log_of_day (
  id     INTEGER NOT NULL,    -- the platform's number of the message
  member INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,  -- whose sets they are
  author INTEGER REFERENCES person ON DELETE SET NULL,          -- who wrote the message; NULL once erased
  at     INTEGER NOT NULL,    -- the message's first instant, ms since 1970 UTC
  day    TEXT    NOT NULL,    -- training day of the sets, YYYY-MM-DD
  state  TEXT    NOT NULL CHECK (state IN ('live', 'asked', 'empty', 'deleted', 'undone', 'corrected')), -- the same for all days of a message
  alone  INTEGER NOT NULL CHECK (alone IN (0, 1)),  -- said to the bot alone, not in the team's channel
  silent INTEGER NOT NULL CHECK (silent IN (0, 1)), -- 1: the answer to it was taken down
  PRIMARY KEY (id, day)
) STRICT, WITHOUT ROWID;
INSERT INTO log_of_day SELECT id, member, author, at, day, state, alone, silent FROM log;

-- The sets of logs that are live or asked about: equal sets typed one after the
-- other are one row.
CREATE TABLE bout_of_day (
  log      INTEGER NOT NULL,                     -- the platform's number of the message
  day      TEXT    NOT NULL,                     -- training day, YYYY-MM-DD
  position INTEGER NOT NULL,                     -- from 0, in the order typed, over all days of the message
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
  PRIMARY KEY (log, day, position),
  FOREIGN KEY (log, day) REFERENCES log_of_day (id, day) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
INSERT INTO bout_of_day
  SELECT b.log, l.day, b.position, b.times, b.rung, b.work_s, b.reps, b.load_hg, b.help, b.side, b.rest_s, b.effort, b.failed, b.tries, b.done
  FROM bout b JOIN log l ON l.id = b.log;

DROP TABLE bout;
DROP TABLE log;
ALTER TABLE log_of_day RENAME TO log;
ALTER TABLE bout_of_day RENAME TO bout;

-- Holds all that a member's history asks of a log, in the order asked; unique,
-- so that the order of the bouts comes from their key.
CREATE UNIQUE INDEX log_live ON log (member, day, at, id) WHERE state = 'live';
CREATE INDEX log_by_member ON log (member, day, at);
CREATE INDEX log_by_author ON log (author, at, id);
CREATE INDEX log_asked ON log (at) WHERE state = 'asked';

-- That a member was asked alone whether a joint hurts. Not for what message, nor
-- what they said.
CREATE TABLE joint_asked (
  person  INTEGER PRIMARY KEY REFERENCES person ON DELETE CASCADE,
  expires INTEGER NOT NULL -- when they may be asked again, a whole hour, ms since 1970 UTC
) STRICT;
