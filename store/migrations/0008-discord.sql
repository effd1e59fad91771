-- What the adapter to the chat platform must find again.

CREATE TABLE server (
  team     INTEGER PRIMARY KEY, -- the platform's number of the server; stands before the team is settled
  channel  INTEGER, -- the platform's number of the team's channel; NULL before it is settled
  coaches  INTEGER, -- the platform's number of the coach role; NULL for none
  commands TEXT     -- a hash of the commands registered there; NULL before the first time
) STRICT;

-- Team channels and their threads, and how far each was read.
CREATE TABLE watched (
  channel INTEGER PRIMARY KEY, -- the platform's number
  team    INTEGER NOT NULL REFERENCES team ON DELETE CASCADE,
  since   INTEGER NOT NULL, -- the platform's number after which it is read; 0 from its beginning
  seen    INTEGER NOT NULL  -- the newest message taken in, the platform's number; at first as since
) STRICT;
CREATE INDEX watched_by_team ON watched (team);

-- Where somebody and the bot are alone, and how far that was read.
CREATE TABLE direct (
  person  INTEGER PRIMARY KEY REFERENCES person ON DELETE CASCADE,
  channel INTEGER NOT NULL, -- the platform's number
  seen    INTEGER NOT NULL  -- the newest message taken in, the platform's number; 0 none
) STRICT;
CREATE INDEX direct_by_channel ON direct (channel);

-- Messages that gave a log, or tried to.
CREATE TABLE source (
  id      INTEGER PRIMARY KEY, -- the platform's number of the message
  channel INTEGER NOT NULL,    -- the platform's number of its place; 0 for a command, which cannot be edited or deleted
  person  INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,
  edited  INTEGER NOT NULL     -- the latest edit taken in, ms since 1970 UTC; 0 none
) STRICT;
CREATE INDEX source_by_channel ON source (channel, id);
CREATE INDEX source_by_person ON source (person);

-- The bot's own messages about somebody.
CREATE TABLE answer (
  message INTEGER NOT NULL, -- the platform's number of the bot's message
  person  INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,
  channel INTEGER NOT NULL, -- the platform's number of its place
  source  INTEGER,          -- the platform's number of the message answered; NULL for what was said unasked
  part    INTEGER NOT NULL, -- from 0; a long answer is several messages
  PRIMARY KEY (message, person)
) STRICT, WITHOUT ROWID;
CREATE INDEX answer_by_source ON answer (source, part);
CREATE INDEX answer_by_person ON answer (person);

-- Messages of the bot's to be removed from the platform: those about somebody erased.
CREATE TABLE removal (
  message INTEGER PRIMARY KEY, -- the platform's number
  channel INTEGER NOT NULL     -- the platform's number of its place
) STRICT;
CREATE TRIGGER answer_of_erased AFTER DELETE ON answer
WHEN NOT EXISTS (SELECT 1 FROM person WHERE key = OLD.person)
BEGIN
  INSERT INTO removal (message, channel) VALUES (OLD.message, OLD.channel) ON CONFLICT DO NOTHING;
END;

-- Which of their teams somebody's direct messages are for.
CREATE TABLE choice (
  person  INTEGER PRIMARY KEY REFERENCES person ON DELETE CASCADE, -- of the team chosen
  expires INTEGER NOT NULL -- ms since 1970 UTC
) STRICT;

-- Coaches who are so by the role, which may be taken away.
CREATE TABLE coach_by_role (
  person INTEGER PRIMARY KEY REFERENCES person ON DELETE CASCADE
) STRICT;
