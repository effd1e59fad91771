-- The programme a team has taken in place of the built-in one.

CREATE TABLE programme (
  team   INTEGER PRIMARY KEY REFERENCES team ON DELETE CASCADE,
  source TEXT    NOT NULL, -- its file, whole, as it was given
  taken  INTEGER NOT NULL  -- ms since 1970 UTC
) STRICT;
