-- What a bench reads and when, and what is held with all that comes from it.
ALTER TABLE strain ADD COLUMN pending_routine_check TEXT CHECK (pending_routine_check IN ('warn', 'hold'));
ALTER TABLE treatment ADD COLUMN override TEXT;
ALTER TABLE micro_check ADD COLUMN purpose TEXT CHECK (purpose IN ('routine', 'suspicion'));
ALTER TABLE micro_check ADD COLUMN looks_for TEXT;
ALTER TABLE micro_check ADD COLUMN cells_plated REAL CHECK (cells_plated >= 0);
UPDATE micro_check SET (looks_for, cells_plated) = (
  SELECT json_extract(body, '$.looksFor'), json_extract(body, '$.cellsPlated')
  FROM journal WHERE journal.id = micro_check.entry_id);

CREATE TABLE medium (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  looks_for TEXT NOT NULL,
  reads TEXT NOT NULL CHECK (reads IN ('colonies', 'share', 'presence')),
  read_after_days REAL NOT NULL CHECK (read_after_days > 0),
  discard_per_million REAL CHECK (discard_per_million > 0),
  retired INTEGER NOT NULL CHECK (retired IN (0, 1))
) STRICT;

CREATE TABLE family_hold (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT REFERENCES lot (id),
  ferment_id TEXT REFERENCES ferment (id),
  why TEXT NOT NULL,
  CHECK ((lot_id IS NULL) <> (ferment_id IS NULL))
) STRICT;

CREATE TABLE family_hold_lot (
  hold_id TEXT NOT NULL REFERENCES family_hold (id),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  PRIMARY KEY (hold_id, lot_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE family_hold_ferment (
  hold_id TEXT NOT NULL REFERENCES family_hold (id),
  ferment_id TEXT NOT NULL REFERENCES ferment (id),
  PRIMARY KEY (hold_id, ferment_id)
) STRICT, WITHOUT ROWID;

CREATE TABLE family_release (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  hold_id TEXT NOT NULL UNIQUE REFERENCES family_hold (id),
  why TEXT NOT NULL
) STRICT;

CREATE INDEX family_hold_lot_by_lot_id ON family_hold_lot (lot_id);
CREATE INDEX family_hold_ferment_by_ferment_id ON family_hold_ferment (ferment_id);
-- Few among many: the history of a lot looks through them for its own id.
CREATE INDEX journal_family ON journal (seq) WHERE kind IN ('familyHold', 'familyRelease');
