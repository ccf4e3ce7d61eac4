-- Which yeast a planned brew is to get, set by hand. What it speaks of may be brewed, used up or
-- struck out later: a plan never stands in the way of a correction, so none of these is a reference.
CREATE TABLE allotment (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  planned_brew_id TEXT NOT NULL CHECK (length(planned_brew_id) = 36),
  from_lot_id TEXT CHECK (length(from_lot_id) = 36),
  from_ferment_id TEXT CHECK (length(from_ferment_id) = 36),
  from_brew_id TEXT CHECK (length(from_brew_id) = 36),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  CHECK ((from_lot_id IS NOT NULL) + (from_ferment_id IS NOT NULL) + (from_brew_id IS NOT NULL) = 1),
  CHECK (from_brew_id <> planned_brew_id),
  CHECK (amount_l IS NULL OR amount_kg IS NULL),
  CHECK (from_lot_id IS NOT NULL OR (amount_l IS NULL AND amount_kg IS NULL))
) STRICT;

-- How fresh culture of a strain comes in, and what it and a lost brew cost.
CREATE TABLE fresh_culture_policy (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  strain_id TEXT NOT NULL UNIQUE REFERENCES strain (id) ON DELETE NO ACTION,
  comes_from TEXT NOT NULL CHECK (comes_from IN ('slope', 'bought'))
) STRICT;

CREATE INDEX allotment_by_planned_brew_id ON allotment (planned_brew_id);
