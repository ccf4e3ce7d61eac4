-- A session's token is renewed once a day. The next one counts from when it is first seen; until
-- then the one in use stays good, and for a little while after it, for what was sent meanwhile.
ALTER TABLE session ADD COLUMN token_made_ms INTEGER NOT NULL DEFAULT 0;
ALTER TABLE session ADD COLUMN next_token_sha256 TEXT CHECK (length(next_token_sha256) = 64);
ALTER TABLE session ADD COLUMN next_made_ms INTEGER;
ALTER TABLE session ADD COLUMN old_token_sha256 TEXT CHECK (length(old_token_sha256) = 64);
ALTER TABLE session ADD COLUMN old_until_ms INTEGER;
CREATE UNIQUE INDEX session_next_token ON session (next_token_sha256);
CREATE UNIQUE INDEX session_old_token ON session (old_token_sha256);

-- A sensor's token is renewed by hand; the one before stays good for a day.
ALTER TABLE device_token ADD COLUMN old_secret_sha256 TEXT CHECK (length(old_secret_sha256) = 64);
ALTER TABLE device_token ADD COLUMN old_until_ms INTEGER;
