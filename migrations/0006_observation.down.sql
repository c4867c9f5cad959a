ALTER TABLE curation DROP COLUMN drift_ratio;
DROP TABLE observation;
DELETE FROM schema_applied WHERE version = 6;
