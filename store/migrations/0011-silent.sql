-- Whether an answer to the log stands.
ALTER TABLE log ADD COLUMN silent INTEGER NOT NULL DEFAULT 0 CHECK (silent IN (0, 1)); -- 1: it was taken down
