CREATE TABLE journal (
  seq INTEGER PRIMARY KEY AUTOINCREMENT,
  id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
  kind TEXT NOT NULL,
  record_id TEXT NOT NULL CHECK (length(record_id) = 36),
  supersedes TEXT UNIQUE REFERENCES journal (id) ON DELETE RESTRICT ON UPDATE RESTRICT,
  reason TEXT CHECK (reason IS NULL OR length(trim(reason)) BETWEEN 1 AND 500),
  by_name TEXT NOT NULL CHECK (length(trim(by_name)) > 0),
  actor TEXT NOT NULL,
  via TEXT NOT NULL CHECK (via IN ('web', 'device', 'import', 'system')),
  happened_at TEXT NOT NULL,
  happened_ms INTEGER NOT NULL,
  received_ms INTEGER NOT NULL,
  request_sha256 TEXT NOT NULL CHECK (length(request_sha256) = 64),
  body TEXT NOT NULL CHECK (json_valid(body)),
  warnings TEXT NOT NULL CHECK (json_valid(warnings)),
  prev_hash TEXT NOT NULL UNIQUE CHECK (length(prev_hash) = 64),
  hash TEXT NOT NULL UNIQUE CHECK (length(hash) = 64),
  CHECK ((supersedes IS NULL) = (reason IS NULL))
) STRICT;

CREATE INDEX journal_record ON journal (record_id, seq);

CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;

CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;

-- INSERT OR REPLACE would delete without firing the trigger above.
CREATE TRIGGER journal_no_replace BEFORE INSERT ON journal
WHEN EXISTS (
  SELECT 1 FROM journal
  WHERE id = NEW.id OR seq = NEW.seq OR hash = NEW.hash OR prev_hash = NEW.prev_hash
    OR supersedes = NEW.supersedes
)
BEGIN SELECT RAISE(ABORT, 'the journal already holds this entry'); END;

-- The pages of a lot and of a ferment show every entry about it, struck out ones too.
CREATE INDEX journal_lot ON journal (json_extract(body, '$.lotId'), seq);
CREATE INDEX journal_ferment ON journal (json_extract(body, '$.fermentId'), seq);
