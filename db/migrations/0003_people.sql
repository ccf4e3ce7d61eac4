-- Who may do what. None of these tables is a projection: a rebuild from the journal leaves them be.
CREATE TABLE account (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  -- Names the actor in the journal for ever, so it is never changed and an account never deleted.
  user_name TEXT NOT NULL UNIQUE CHECK (length(user_name) BETWEEN 2 AND 32 AND user_name = lower(user_name)),
  name TEXT NOT NULL CHECK (length(trim(name)) BETWEEN 1 AND 80),
  -- Missing until the person has chosen a password.
  password_hash TEXT CHECK (password_hash LIKE '$argon2id$%'),
  created_ms INTEGER NOT NULL,
  disabled_ms INTEGER
) STRICT;

CREATE TABLE account_role (
  account_id TEXT NOT NULL REFERENCES account (id) ON DELETE NO ACTION,
  role TEXT NOT NULL CHECK (role IN ('viewer', 'cellar', 'lab', 'brewer', 'head')),
  PRIMARY KEY (account_id, role)
) STRICT;

CREATE VIEW active_head AS
  SELECT account.id FROM account JOIN account_role ON account_role.account_id = account.id
  WHERE account_role.role = 'head' AND account.disabled_ms IS NULL AND account.password_hash IS NOT NULL;

-- Without a head nobody could make one.
CREATE TRIGGER account_keeps_a_head AFTER UPDATE ON account
WHEN OLD.disabled_ms IS NULL AND OLD.password_hash IS NOT NULL
  AND EXISTS (SELECT 1 FROM account_role WHERE account_id = OLD.id AND role = 'head')
  AND NOT EXISTS (SELECT 1 FROM active_head)
BEGIN SELECT RAISE(ABORT, 'one head must remain'); END;

CREATE TRIGGER account_role_keeps_a_head AFTER DELETE ON account_role
WHEN OLD.role = 'head'
  AND EXISTS (SELECT 1 FROM account WHERE id = OLD.account_id AND disabled_ms IS NULL AND password_hash IS NOT NULL)
  AND NOT EXISTS (SELECT 1 FROM active_head)
BEGIN SELECT RAISE(ABORT, 'one head must remain'); END;

CREATE TRIGGER account_no_delete BEFORE DELETE ON account
BEGIN SELECT RAISE(ABORT, 'an account is closed, never deleted'); END;

-- A code with which a person chooses a password, once.
CREATE TABLE activation (
  account_id TEXT PRIMARY KEY REFERENCES account (id) ON DELETE NO ACTION,
  code_sha256 TEXT NOT NULL UNIQUE CHECK (length(code_sha256) = 64),
  expires_ms INTEGER NOT NULL
) STRICT;

CREATE TABLE session (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  token_sha256 TEXT NOT NULL UNIQUE CHECK (length(token_sha256) = 64),
  account_id TEXT NOT NULL REFERENCES account (id) ON DELETE NO ACTION,
  device TEXT NOT NULL,
  created_ms INTEGER NOT NULL,
  -- When the password was last given.
  proved_ms INTEGER NOT NULL,
  last_seen_ms INTEGER NOT NULL,
  idle_ms INTEGER NOT NULL CHECK (idle_ms > 0),
  expires_ms INTEGER NOT NULL CHECK (expires_ms > created_ms)
) STRICT;
CREATE INDEX session_account ON session (account_id, last_seen_ms);

-- A device on which a person signed in before: its failures are counted apart from strangers'.
CREATE TABLE known_device (
  token_sha256 TEXT PRIMARY KEY CHECK (length(token_sha256) = 64),
  account_id TEXT NOT NULL REFERENCES account (id) ON DELETE NO ACTION,
  created_ms INTEGER NOT NULL
) STRICT;
CREATE INDEX known_device_account ON known_device (account_id);

CREATE TABLE throttle (
  subject TEXT PRIMARY KEY CHECK (length(subject) BETWEEN 1 AND 120),
  failures INTEGER NOT NULL CHECK (failures > 0),
  first_ms INTEGER NOT NULL,
  last_ms INTEGER NOT NULL
) STRICT;
CREATE INDEX throttle_last ON throttle (last_ms);

-- What a sensor shows to post its readings. The vessel is a projection, so it is not referenced.
CREATE TABLE device_token (
  id TEXT PRIMARY KEY CHECK (length(id) = 8),
  sensor TEXT NOT NULL CHECK (length(trim(sensor)) BETWEEN 1 AND 60),
  vessel_id TEXT CHECK (length(vessel_id) = 36),
  secret_sha256 TEXT NOT NULL UNIQUE CHECK (length(secret_sha256) = 64),
  created_by TEXT NOT NULL REFERENCES account (id) ON DELETE NO ACTION,
  created_ms INTEGER NOT NULL,
  last_used_ms INTEGER,
  revoked_ms INTEGER
) STRICT;

-- The secret in the address of a calendar feed.
CREATE TABLE feed_key (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  account_id TEXT NOT NULL REFERENCES account (id) ON DELETE NO ACTION,
  key_sha256 TEXT NOT NULL UNIQUE CHECK (length(key_sha256) = 64),
  created_ms INTEGER NOT NULL,
  last_used_ms INTEGER,
  revoked_ms INTEGER
) STRICT;
CREATE INDEX feed_key_account ON feed_key (account_id);

CREATE TABLE security_event (
  seq INTEGER PRIMARY KEY AUTOINCREMENT,
  at_ms INTEGER NOT NULL,
  what TEXT NOT NULL CHECK (length(what) BETWEEN 1 AND 40),
  user_name TEXT CHECK (length(user_name) <= 80),
  address TEXT CHECK (length(address) <= 64),
  detail TEXT CHECK (length(detail) <= 200)
) STRICT;
CREATE INDEX security_event_at ON security_event (at_ms);
