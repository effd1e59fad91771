-- What belongs to a pause holds no instant finer than the day, and no number of a
-- message: a platform's number contains its instant, and by either somebody could
-- find the message that set a pause, and so what it said. A report of pain and
-- /pause leave the same rows.

-- Lets somebody take the cause of a pause back; gone at its expiry or use.
CREATE TABLE take_back_untied (
  id      INTEGER PRIMARY KEY, -- ours, in the order put
  cause   BLOB    NOT NULL CHECK (length(cause) = 16), -- keyed hash of the number of the message or command; by it “misread” finds its own cause
  member  INTEGER NOT NULL REFERENCES person ON DELETE CASCADE,
  day     TEXT    NOT NULL, -- training day of the cause, YYYY-MM-DD
  opened  INTEGER NOT NULL CHECK (opened IN (0, 1)), -- the pause began with this cause
  expires INTEGER NOT NULL, -- ms since 1970 UTC, rounded up to a whole minute: it can be no coarser while 15 minutes are promised
  UNIQUE (cause, member)
) STRICT;
DROP TABLE take_back; -- what could be taken back for some minutes more can't be: SQL makes no hash of it
ALTER TABLE take_back_untied RENAME TO take_back;
CREATE INDEX take_back_by_member ON take_back (member);
CREATE INDEX take_back_by_expiry ON take_back (expires);

-- Messages and commands that have acted once, without anything that ties them to
-- anybody. Whoever has the key could try numbers of messages on them, so they go
-- after three days, when nothing older is read again.
CREATE TABLE acted_untied (
  hash BLOB PRIMARY KEY CHECK (length(hash) = 16), -- keyed hash of the number
  day  TEXT NOT NULL -- YYYY-MM-DD, UTC; when it is to be forgotten depends on it
) STRICT, WITHOUT ROWID;
INSERT INTO acted_untied SELECT hash, date('now') FROM acted;
DROP TABLE acted;
ALTER TABLE acted_untied RENAME TO acted;

CREATE TABLE post_untied (
  id      INTEGER PRIMARY KEY AUTOINCREMENT, -- never given twice: the platform drops doubles by it
  team    INTEGER NOT NULL REFERENCES team ON DELETE CASCADE,
  payload BLOB,             -- what is to be said; NULL once sent or dropped
  state   TEXT    NOT NULL CHECK (state IN ('formed', 'sending', 'sent', 'dropped')),
  formed  INTEGER NOT NULL, -- ms since 1970 UTC, rounded down to a whole day: it may be a notice of a pause
  claimed INTEGER,          -- when the last attempt to send it began, ms since 1970 UTC, by which it is looked for; NULL before the first, and once sent or dropped
  why     TEXT,             -- why it was dropped, a word of the code's; NULL unless dropped
  CHECK ((state IN ('formed', 'sending')) = (payload IS NOT NULL)),
  CHECK (claimed IS NULL OR state = 'sending')
) STRICT;
INSERT INTO post_untied
  SELECT id, team, payload, state, formed / 86400000 * 86400000, iif(state = 'sending', claimed, NULL), why FROM post;
DELETE FROM sqlite_sequence WHERE name = 'post_untied';
INSERT INTO sqlite_sequence (name, seq) SELECT 'post_untied', seq FROM sqlite_sequence WHERE name = 'post';

-- A notice of a pause has no decision: it is said once because its message or
-- command acts once.
CREATE TABLE decision_untied (
  team    INTEGER NOT NULL REFERENCES team ON DELETE CASCADE,
  kind    TEXT    NOT NULL, -- a word of the code's, as nudge
  subject INTEGER NOT NULL, -- the platform's number of the person it is about; 0 the whole team
  cause   TEXT    NOT NULL, -- a local date, YYYY-MM-DD, or a word of the code's; a message's number as # and its keyed hash
  outcome TEXT    NOT NULL, -- a word of the code's, as post
  at      INTEGER NOT NULL, -- ms since 1970 UTC, rounded down to a whole day: it may be of a pause of which no coach could be told
  post    INTEGER REFERENCES post_untied ON DELETE SET NULL, -- the post that says it; NULL for none
  PRIMARY KEY (team, kind, subject, cause)
) STRICT, WITHOUT ROWID;
INSERT INTO decision_untied SELECT team, kind, subject, cause, outcome, at / 86400000 * 86400000, post FROM decision
  WHERE kind NOT IN ('paused', 'word');

-- Unasked posts are still known by their message where a coach was told of a
-- member: of such a member it is kept whose direct channel holds a notice, and of
-- no notice which it was.
CREATE TABLE told (
  member INTEGER NOT NULL REFERENCES person ON DELETE CASCADE, -- whom the notices are about
  coach  INTEGER NOT NULL REFERENCES person ON DELETE CASCADE, -- who was told
  PRIMARY KEY (member, coach)
) STRICT, WITHOUT ROWID;
CREATE INDEX told_by_coach ON told (coach);
INSERT INTO told SELECT DISTINCT a.person, d.person FROM answer a
  JOIN person m ON m.key = a.person JOIN direct d ON d.channel = a.channel JOIN person c ON c.key = d.person
  WHERE a.source IS NULL AND c.team = m.team AND c.key <> m.key;
DELETE FROM answer WHERE source IS NULL AND channel IN (SELECT channel FROM direct);

-- Coaches whose direct channel is to be searched for notices about somebody erased.
CREATE TABLE search (
  coach INTEGER PRIMARY KEY REFERENCES person ON DELETE CASCADE
) STRICT;
CREATE TRIGGER told_of_erased AFTER DELETE ON told
WHEN NOT EXISTS (SELECT 1 FROM person WHERE key = OLD.member) AND EXISTS (SELECT 1 FROM person WHERE key = OLD.coach)
BEGIN
  INSERT INTO search (coach) VALUES (OLD.coach) ON CONFLICT DO NOTHING;
END;

-- Where somebody and the bot are alone, and how far that was read.
CREATE TABLE direct_untied (
  person  INTEGER PRIMARY KEY REFERENCES person ON DELETE CASCADE,
  channel INTEGER NOT NULL, -- the platform's number
  seen    INTEGER NOT NULL  -- a number of the platform's of the beginning of a day, UTC, before which all was taken in; 0 none
) STRICT;
INSERT INTO direct_untied SELECT person, channel, ((seen >> 22) + 1420070400000) / 86400000 * 86400000 - 1420070400000 << 22 FROM direct WHERE seen > 0;
INSERT INTO direct_untied SELECT person, channel, 0 FROM direct WHERE seen = 0;
DROP TABLE direct;
ALTER TABLE direct_untied RENAME TO direct;
CREATE INDEX direct_by_channel ON direct (channel);

-- Direct channels of people erased, from which the bot's own messages are to be removed.
CREATE TABLE to_empty (
  channel INTEGER PRIMARY KEY -- the platform's number
) STRICT;
CREATE TRIGGER direct_of_erased AFTER DELETE ON direct
WHEN NOT EXISTS (SELECT 1 FROM person WHERE key = OLD.person)
BEGIN
  INSERT INTO to_empty (channel) VALUES (OLD.channel) ON CONFLICT DO NOTHING;
END;

DROP TABLE decision;
DROP TABLE post;
ALTER TABLE post_untied RENAME TO post;
ALTER TABLE decision_untied RENAME TO decision;
CREATE INDEX post_unsent ON post (id) WHERE state IN ('formed', 'sending');
CREATE INDEX decision_by_instant ON decision (at);
CREATE INDEX decision_by_post ON decision (post);

-- Messages whose answer is not out yet.
CREATE TABLE unanswered_untied (
  hash BLOB    PRIMARY KEY CHECK (length(hash) = 16), -- keyed hash of the message's number, which ties it to nobody
  team INTEGER NOT NULL REFERENCES team ON DELETE CASCADE,
  at   INTEGER NOT NULL -- since when, ms since 1970 UTC, rounded down to a whole day: it may be a message that set a pause
) STRICT, WITHOUT ROWID;
INSERT INTO unanswered_untied SELECT hash, team, at / 86400000 * 86400000 FROM unanswered;
DROP TABLE unanswered;
ALTER TABLE unanswered_untied RENAME TO unanswered;
CREATE INDEX unanswered_by_team ON unanswered (team);

-- Since when somebody who was erased is read again. Nothing they wrote before is
-- ever taken in, so it stays until they are erased again.
CREATE TABLE rejoined (
  hash  BLOB PRIMARY KEY CHECK (length(hash) = 16), -- keyed hash of the person's number, as in block
  since INTEGER NOT NULL -- ms since 1970 UTC; that of a message is compared with it
) STRICT, WITHOUT ROWID;

-- Messages and edits that were refused because nothing could be stored, which was
-- said: they stay so, though they are read again. They go after three days, when
-- nothing older is read again.
CREATE TABLE refused (
  hash BLOB PRIMARY KEY CHECK (length(hash) = 16), -- keyed hash of the message's number and the edit's instant
  day  TEXT NOT NULL -- YYYY-MM-DD, UTC; when it is to be forgotten depends on it
) STRICT, WITHOUT ROWID;
