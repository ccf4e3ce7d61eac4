-- The planned brew that a gyle carries out: one gyle at most. A brew that is carried out stays.
ALTER TABLE ferment ADD COLUMN planned_brew_id TEXT REFERENCES planned_brew (id) ON DELETE NO ACTION;
CREATE UNIQUE INDEX ferment_by_planned_brew_id ON ferment (planned_brew_id) WHERE planned_brew_id IS NOT NULL;
