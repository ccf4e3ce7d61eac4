-- Lines are told from the gravities of many ferments: the index alone answers that.
DROP INDEX reading_by_ferment_id_happened_ms;
CREATE INDEX reading_curve ON reading (ferment_id, happened_ms, gravity_sg, cells_per_ml);
