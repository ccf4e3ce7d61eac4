-- By how much the clock of the device ran ahead of the log's when it sent the entry; NULL: not told.
ALTER TABLE journal ADD COLUMN clock_fast_ms INTEGER;
