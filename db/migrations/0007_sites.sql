-- rebuild the projections afterwards
-- Where a record belongs: `site_id` is null for the first site, so that a brewery with one site has
-- none in any row. Names and numbers are unique within a site. Yeast may be sent from one to another.
PRAGMA defer_foreign_keys = ON;
DELETE FROM family_hold_lot;
DELETE FROM family_hold_ferment;
DELETE FROM family_release;
DELETE FROM family_hold;
DELETE FROM allotment;
DELETE FROM fresh_culture_policy;
DELETE FROM planned_brew;
DELETE FROM micro_result;
DELETE FROM micro_check;
DELETE FROM treatment;
DELETE FROM discard;
DELETE FROM hold;
DELETE FROM release;
DELETE FROM stain;
DELETE FROM cell_count;
DELETE FROM store_reading;
DELETE FROM lot_parent;
DELETE FROM lot;
DELETE FROM pitch;
DELETE FROM reading;
DELETE FROM chill;
DELETE FROM rack;
DELETE FROM ferment;
DELETE FROM vessel;
DELETE FROM medium;
DELETE FROM strain;
DELETE FROM brewery;
DROP TABLE planned_brew;
DROP TABLE lot;
DROP TABLE ferment;
DROP TABLE vessel;

-- `home_id` is the first site made, the same in every row: it cannot be struck out while others stand.
CREATE TABLE site (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  code TEXT NOT NULL UNIQUE,
  home_id TEXT NOT NULL REFERENCES site (id) ON DELETE NO ACTION
) STRICT;

CREATE TABLE vessel (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  name TEXT NOT NULL,
  capacity_l REAL CHECK (capacity_l > 0),
  site_id TEXT REFERENCES site (id) ON DELETE NO ACTION
) STRICT;
CREATE UNIQUE INDEX vessel_name_at_site ON vessel (name, coalesce(site_id, ''));

CREATE TABLE ferment (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  gyle TEXT NOT NULL,
  beer TEXT NOT NULL,
  vessel_id TEXT NOT NULL REFERENCES vessel (id) ON DELETE NO ACTION,
  strain_id TEXT NOT NULL REFERENCES strain (id) ON DELETE NO ACTION,
  volume_l REAL NOT NULL CHECK (volume_l > 0),
  original_gravity_sg REAL NOT NULL CHECK (original_gravity_sg > 1 AND original_gravity_sg <= 1.2),
  pitched_ms INTEGER,
  chilled_ms INTEGER,
  racked_ms INTEGER,
  site_id TEXT REFERENCES site (id) ON DELETE NO ACTION
) STRICT;
CREATE UNIQUE INDEX ferment_gyle_at_site ON ferment (gyle, coalesce(site_id, ''));
CREATE INDEX ferment_by_strain_id_seq ON ferment (strain_id, seq);
CREATE INDEX ferment_running ON ferment (happened_ms) WHERE racked_ms IS NULL;

CREATE TABLE lot (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('freshCulture', 'crop', 'blend', 'transfer')),
  code TEXT NOT NULL UNIQUE,
  strain_id TEXT NOT NULL REFERENCES strain (id) ON DELETE NO ACTION,
  ferment_id TEXT REFERENCES ferment (id) ON DELETE NO ACTION,
  base_generation INTEGER CHECK (base_generation >= 0),
  amount_l REAL CHECK (amount_l > 0),
  amount_kg REAL CHECK (amount_kg > 0),
  generation INTEGER NOT NULL CHECK (generation >= 0),
  times_pitched INTEGER NOT NULL CHECK (times_pitched >= 0),
  line_id TEXT NOT NULL REFERENCES lot (id) ON DELETE NO ACTION,
  left_l REAL,
  left_kg REAL,
  site_id TEXT REFERENCES site (id) ON DELETE NO ACTION,
  CHECK ((amount_l IS NULL) <> (amount_kg IS NULL)),
  CHECK ((kind = 'crop') = (ferment_id IS NOT NULL)),
  CHECK ((kind = 'freshCulture') = (base_generation IS NOT NULL)),
  CHECK ((amount_l IS NULL) = (left_l IS NULL) AND (amount_kg IS NULL) = (left_kg IS NULL))
) STRICT;
CREATE INDEX lot_by_ferment_id ON lot (ferment_id);
CREATE INDEX lot_by_line_id ON lot (line_id);
CREATE INDEX lot_in_store ON lot (happened_ms) WHERE left_l > 0 OR left_kg > 0;

CREATE TRIGGER crop_needs_pitch BEFORE INSERT ON lot
WHEN NEW.kind = 'crop' AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = NEW.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop needs a ferment that was pitched'); END;

CREATE TRIGGER crop_keeps_pitch BEFORE UPDATE OF ferment_id ON lot
WHEN NEW.kind = 'crop' AND NOT EXISTS (SELECT 1 FROM pitch WHERE ferment_id = NEW.ferment_id)
BEGIN SELECT RAISE(ABORT, 'a crop needs a ferment that was pitched'); END;

CREATE TRIGGER crop_no_cycle_corrected AFTER UPDATE OF ferment_id ON lot
WHEN EXISTS (
  WITH RECURSIVE up (id) AS (
    SELECT parent FROM lineage WHERE child = NEW.id
    UNION SELECT lineage.parent FROM lineage JOIN up ON lineage.child = up.id
  )
  SELECT 1 FROM up WHERE id = NEW.id
)
BEGIN SELECT RAISE(ABORT, 'yeast cannot descend from itself'); END;

CREATE TABLE planned_brew (
  id TEXT PRIMARY KEY CHECK (length(id) = 36),
  entry_id TEXT NOT NULL UNIQUE REFERENCES journal (id),
  seq INTEGER NOT NULL UNIQUE REFERENCES journal (seq),
  happened_ms INTEGER NOT NULL,
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  beer TEXT NOT NULL,
  volume_l REAL NOT NULL CHECK (volume_l > 0),
  original_gravity_sg REAL NOT NULL CHECK (original_gravity_sg > 1),
  strain_id TEXT NOT NULL REFERENCES strain (id) ON DELETE NO ACTION,
  vessel_id TEXT REFERENCES vessel (id) ON DELETE NO ACTION,
  site_id TEXT REFERENCES site (id) ON DELETE NO ACTION
) STRICT;
CREATE INDEX planned_brew_by_on_day ON planned_brew (on_day);

-- Not a projection. A role held without a site is held at every one; the site is a projection, so it
-- is not referenced.
DROP TRIGGER account_role_keeps_a_head;
DROP TRIGGER account_keeps_a_head;
DROP VIEW active_head;
CREATE TABLE account_role_before AS SELECT account_id, role FROM account_role;
DROP TABLE account_role;
CREATE TABLE account_role (
  account_id TEXT NOT NULL REFERENCES account (id) ON DELETE NO ACTION,
  role TEXT NOT NULL CHECK (role IN ('viewer', 'cellar', 'lab', 'brewer', 'head')),
  site_id TEXT CHECK (length(site_id) = 36)
) STRICT;
CREATE UNIQUE INDEX account_role_once ON account_role (account_id, role, coalesce(site_id, ''));
INSERT INTO account_role (account_id, role) SELECT account_id, role FROM account_role_before;
DROP TABLE account_role_before;

-- Without a head of every site nobody could make one.
CREATE VIEW active_head AS
  SELECT account.id FROM account JOIN account_role ON account_role.account_id = account.id
  WHERE account_role.role = 'head' AND account_role.site_id IS NULL
    AND account.disabled_ms IS NULL AND account.password_hash IS NOT NULL;

CREATE TRIGGER account_keeps_a_head AFTER UPDATE ON account
WHEN OLD.disabled_ms IS NULL AND OLD.password_hash IS NOT NULL
  AND EXISTS (SELECT 1 FROM account_role WHERE account_id = OLD.id AND role = 'head' AND site_id IS NULL)
  AND NOT EXISTS (SELECT 1 FROM active_head)
BEGIN SELECT RAISE(ABORT, 'one head must remain'); END;

CREATE TRIGGER account_role_keeps_a_head AFTER DELETE ON account_role
WHEN OLD.role = 'head' AND OLD.site_id IS NULL
  AND EXISTS (SELECT 1 FROM account WHERE id = OLD.account_id AND disabled_ms IS NULL AND password_hash IS NOT NULL)
  AND NOT EXISTS (SELECT 1 FROM active_head)
BEGIN SELECT RAISE(ABORT, 'one head must remain'); END;
