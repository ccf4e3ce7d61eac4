-- What shows the present is found by an index, however long the log.
CREATE INDEX ferment_by_happened_ms ON ferment (happened_ms);
CREATE INDEX ferment_by_racked_ms ON ferment (racked_ms);
CREATE INDEX ferment_by_strain_id_racked_ms ON ferment (strain_id, racked_ms);
CREATE INDEX ferment_by_vessel_id_happened_ms ON ferment (vessel_id, happened_ms);
CREATE INDEX lot_by_strain_id_happened_ms ON lot (strain_id, happened_ms);
CREATE INDEX lot_fresh ON lot (happened_ms) WHERE kind = 'freshCulture';
CREATE INDEX lot_fresh_by_strain ON lot (strain_id, happened_ms) WHERE kind = 'freshCulture';
CREATE INDEX micro_check_by_due_ms ON micro_check (due_ms);
