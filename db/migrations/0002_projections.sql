-- Projections: rebuilt from the journal at will, never written by hand. References refuse the
-- deletion of what they point at (NO ACTION, so that a rebuild may defer the check to its end).

CREATE TABLE brewery (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL,
  first_generation INTEGER NOT NULL CHECK (first_generation IN (0, 1)),
  only_one INTEGER NOT NULL UNIQUE DEFAULT 1 CHECK (only_one = 1)
) STRICT;

CREATE TABLE strain (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL,
  code TEXT NOT NULL UNIQUE,
  crops TEXT NOT NULL CHECK (crops IN ('top', 'bottom'))
) STRICT;

CREATE TABLE vessel (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL UNIQUE,
  capacity_l REAL CHECK (capacity_l > 0)
) STRICT;

CREATE TABLE ferment (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  gyle TEXT NOT NULL UNIQUE,
  beer TEXT NOT NULL,
  vessel_id TEXT NOT NULL REFERENCES vessel (id),
  strain_id TEXT NOT NULL REFERENCES strain (id),
  volume_l REAL NOT NULL CHECK (volume_l > 0),
  original_gravity_sg REAL NOT NULL CHECK (original_gravity_sg > 1 AND original_gravity_sg <= 1.2),
  pitched_ms INTEGER,
  chilled_ms INTEGER,
  racked_ms INTEGER
) STRICT;

CREATE TABLE lot (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('freshCulture', 'crop', 'blend')),
  code TEXT NOT NULL UNIQUE,
  strain_id TEXT NOT NULL REFERENCES strain (id),
  ferment_id TEXT REFERENCES ferment (id),
  base_generation INTEGER CHECK (base_generation >= 0),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  generation INTEGER NOT NULL CHECK (generation >= 0),
  times_pitched INTEGER NOT NULL CHECK (times_pitched >= 0),
  line_id TEXT NOT NULL REFERENCES lot (id),
  left_l REAL,
  left_kg REAL,
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL)),
  CHECK ((kind = 'crop') = (ferment_id IS NOT NULL)),
  CHECK ((kind = 'freshCulture') = (base_generation IS NOT NULL)),
  CHECK ((amount_l IS NULL) = (left_l IS NULL) AND (amount_kg IS NULL) = (left_kg IS NULL))
) STRICT;

CREATE TABLE lot_parent (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  parent_id TEXT NOT NULL REFERENCES lot (id),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  PRIMARY KEY (lot_id, parent_id),
  CHECK (lot_id <> parent_id),
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TABLE pitch (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  ferment_id TEXT NOT NULL REFERENCES ferment (id),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  expected_viable_cells REAL CHECK (expected_viable_cells >= 0),
  override TEXT,
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL))
) STRICT;

CREATE TABLE reading (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  ferment_id TEXT NOT NULL REFERENCES ferment (id),
  gravity_sg REAL CHECK (gravity_sg BETWEEN 0.98 AND 1.2),
  temp_c REAL,
  ph REAL,
  cells_per_ml REAL CHECK (cells_per_ml >= 0)
) STRICT;

CREATE TABLE chill (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  ferment_id TEXT NOT NULL UNIQUE REFERENCES ferment (id)
) STRICT;

CREATE TABLE rack (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  ferment_id TEXT NOT NULL UNIQUE REFERENCES ferment (id),
  gravity_sg REAL CHECK (gravity_sg BETWEEN 0.98 AND 1.2),
  batches TEXT NOT NULL CHECK (json_valid(batches))
) STRICT;

CREATE TABLE store_reading (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  temp_c REAL NOT NULL
) STRICT;

CREATE TABLE cell_count (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  basis TEXT NOT NULL CHECK (basis IN ('mL', 'g'))
) STRICT;

CREATE TABLE stain (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  stain TEXT NOT NULL,
  live INTEGER NOT NULL CHECK (live >= 0),
  dead INTEGER NOT NULL CHECK (dead >= 0),
  CHECK (live + dead > 0)
) STRICT;

CREATE TABLE micro_check (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  medium TEXT NOT NULL,
  due_ms INTEGER NOT NULL
) STRICT;

CREATE TABLE micro_result (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  check_id TEXT NOT NULL UNIQUE REFERENCES micro_check (id),
  outcome TEXT NOT NULL CHECK (outcome IN ('clear', 'found', 'discard')),
  colonies INTEGER CHECK (colonies >= 0)
) STRICT;

CREATE TABLE treatment (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  treatment TEXT NOT NULL,
  added_l REAL CHECK (added_l >= 0)
) STRICT;

CREATE TABLE discard (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  why TEXT NOT NULL,
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL))
) STRICT;

CREATE TABLE hold (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  why TEXT NOT NULL
) STRICT;

CREATE TABLE release (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  why TEXT NOT NULL
) STRICT;

CREATE TABLE planned_brew (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  beer TEXT NOT NULL,
  volume_l REAL NOT NULL CHECK (volume_l > 0),
  original_gravity_sg REAL NOT NULL CHECK (original_gravity_sg > 1),
  strain_id TEXT NOT NULL REFERENCES strain (id),
  vessel_id TEXT REFERENCES vessel (id)
) STRICT;

CREATE INDEX lot_by_ferment_id ON lot (ferment_id);
CREATE INDEX lot_by_line_id ON lot (line_id);
CREATE INDEX pitch_by_ferment_id ON pitch (ferment_id);
CREATE INDEX pitch_by_lot_id ON pitch (lot_id);
CREATE INDEX reading_by_ferment_id_happened_ms ON reading (ferment_id, happened_ms);
CREATE INDEX store_reading_by_lot_id_happened_ms ON store_reading (lot_id, happened_ms);
CREATE INDEX cell_count_by_lot_id_happened_ms ON cell_count (lot_id, happened_ms);
CREATE INDEX stain_by_lot_id_happened_ms ON stain (lot_id, happened_ms);
CREATE INDEX micro_check_by_lot_id ON micro_check (lot_id);
CREATE INDEX treatment_by_lot_id ON treatment (lot_id);
CREATE INDEX discard_by_lot_id ON discard (lot_id);
CREATE INDEX hold_by_lot_id ON hold (lot_id);
CREATE INDEX release_by_lot_id ON release (lot_id);
CREATE INDEX planned_brew_by_on_day ON planned_brew (on_day);
CREATE INDEX lot_parent_by_parent_id ON lot_parent (parent_id);
CREATE INDEX ferment_by_strain_id_seq ON ferment (strain_id, seq);
-- What shows the present stays small however long the history.
CREATE INDEX lot_in_store ON lot (happened_ms) WHERE left_l > 0 OR left_kg > 0;
CREATE INDEX ferment_running ON ferment (happened_ms) WHERE racked_ms IS NULL;

-- One step up the lineage: step is 1 through a ferment, 0 through a blend.
CREATE VIEW lineage (child, parent, step) AS
  SELECT lot.id, pitch.lot_id, 1 FROM lot JOIN pitch ON pitch.ferment_id = lot.ferment_id
  UNION ALL
  SELECT lot_id, parent_id, 0 FROM lot_parent;

CREATE TRIGGER crop_needs_pitch BEFORE INSERT ON lot
WHEN NEW.kind = 'crop' AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = NEW.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop needs a ferment that was pitched'); END;

CREATE TRIGGER crop_keeps_pitch BEFORE UPDATE OF ferment_id ON lot
WHEN NEW.kind = 'crop' AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = NEW.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop needs a ferment that was pitched'); END;

CREATE TRIGGER pitch_under_crop_stays AFTER DELETE ON pitch
WHEN EXISTS (SELECT 1 FROM lot WHERE ferment_id = OLD.ferment_id)
  AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = OLD.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop was taken from this ferment: it needs its pitch'); END;

CREATE TRIGGER pitch_under_crop_moves AFTER UPDATE OF ferment_id ON pitch
WHEN OLD.ferment_id <> NEW.ferment_id
  AND EXISTS (SELECT 1 FROM lot WHERE ferment_id = OLD.ferment_id)
  AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = OLD.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop was taken from this ferment: it needs its pitch'); END;

CREATE TRIGGER pitch_no_cycle AFTER INSERT ON pitch
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT NEW.lot_id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id IN (SELECT id FROM lot WHERE ferment_id = NEW.ferment_id)
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;

CREATE TRIGGER pitch_no_cycle_corrected AFTER UPDATE OF lot_id, ferment_id ON pitch
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT NEW.lot_id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id IN (SELECT id FROM lot WHERE ferment_id = NEW.ferment_id)
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;

CREATE TRIGGER blend_no_cycle AFTER INSERT ON lot_parent
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT NEW.parent_id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id = NEW.lot_id
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;

CREATE TRIGGER crop_no_cycle_corrected AFTER UPDATE OF ferment_id ON lot
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT parent FROM lineage WHERE child = NEW.id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id = NEW.id
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;
