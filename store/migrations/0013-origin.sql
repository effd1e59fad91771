-- Where a log's message was said, and its latest edit that was taken in: all that
-- is known of a message stands in its log.
ALTER TABLE log ADD COLUMN channel INTEGER /* the platform's number; NULL for a command from a form, which cannot be edited or deleted */;
ALTER TABLE log ADD COLUMN edited INTEGER /* the latest edit taken in, ms since 1970 UTC; NULL for none */;
UPDATE log SET channel = nullif(source.channel, 0), edited = nullif(source.edited, 0) FROM source WHERE source.id = log.id;
DROP TABLE source;
CREATE INDEX log_by_channel ON log (channel, id) WHERE channel IS NOT NULL;

-- Messages whose answer is not out yet.
ALTER TABLE owed RENAME TO unanswered;
DROP INDEX owed_by_team;
CREATE INDEX unanswered_by_team ON unanswered (team);
