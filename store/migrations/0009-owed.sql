-- Messages whose answer is still to be sent.

CREATE TABLE owed (
  hash BLOB    PRIMARY KEY CHECK (length(hash) = 16), -- keyed hash of the message's number, which ties it to nobody
  team INTEGER NOT NULL REFERENCES team ON DELETE CASCADE,
  at   INTEGER NOT NULL -- since when, ms since 1970 UTC
) STRICT, WITHOUT ROWID;
CREATE INDEX owed_by_team ON owed (team);
