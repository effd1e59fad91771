-- Who must not be read in again.

CREATE TABLE block (
  hash BLOB PRIMARY KEY CHECK (length(hash) = 16) -- keyed hash of an erased person's number
) STRICT, WITHOUT ROWID;

-- Tells whether the key at hand is the one the hashes were made with.
CREATE TABLE key_check (
  id   INTEGER PRIMARY KEY CHECK (id = 1), -- one row
  hash BLOB NOT NULL CHECK (length(hash) = 16) -- keyed hash of a fixed word
) STRICT;
