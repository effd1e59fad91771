-- Where a log stands: in its team's channel, or said to the bot alone.
ALTER TABLE log ADD COLUMN alone INTEGER NOT NULL DEFAULT 0 CHECK (alone IN (0, 1));
