-- All that one import brought in, so that it can be listed and undone.
CREATE INDEX journal_import ON journal (json_extract(body, '$.importId'), seq)
  WHERE json_extract(body, '$.importId') IS NOT NULL;
