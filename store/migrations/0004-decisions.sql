-- What was decided unasked, and the posts that say it.

CREATE TABLE post (
  id      INTEGER PRIMARY KEY AUTOINCREMENT, -- never given twice: the platform drops doubles by it
  team    INTEGER NOT NULL REFERENCES team ON DELETE CASCADE,
  payload BLOB,             -- what is to be said; NULL once sent or dropped
  state   TEXT    NOT NULL CHECK (state IN ('formed', 'sending', 'sent', 'dropped')),
  formed  INTEGER NOT NULL, -- ms since 1970 UTC
  claimed INTEGER,          -- when the last attempt to send it began, ms since 1970 UTC; NULL before the first
  ended   INTEGER,          -- when it was sent or dropped, ms since 1970 UTC; NULL before
  message INTEGER,          -- the platform's number of the message sent; NULL before
  why     TEXT,             -- why it was dropped, a word of the code's; NULL unless dropped
  CHECK ((state IN ('formed', 'sending')) = (payload IS NOT NULL)),
  CHECK ((state IN ('formed', 'sending')) = (ended IS NULL))
) STRICT;
CREATE INDEX post_unsent ON post (id) WHERE state IN ('formed', 'sending');

CREATE TABLE decision (
  team    INTEGER NOT NULL REFERENCES team ON DELETE CASCADE,
  kind    TEXT    NOT NULL, -- a word of the code's, as nudge
  subject INTEGER NOT NULL, -- the platform's number of the person it is about; 0 the whole team
  cause   TEXT    NOT NULL, -- a local date, YYYY-MM-DD, or a word of the code's; a message's number as # and its keyed hash
  outcome TEXT    NOT NULL, -- a word of the code's, as post
  at      INTEGER NOT NULL, -- ms since 1970 UTC
  post    INTEGER REFERENCES post ON DELETE SET NULL, -- the post that says it; NULL for none
  PRIMARY KEY (team, kind, subject, cause)
) STRICT, WITHOUT ROWID;
CREATE INDEX decision_by_instant ON decision (at);
CREATE INDEX decision_by_post ON decision (post);
