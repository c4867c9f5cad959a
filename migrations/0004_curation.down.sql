DROP TABLE stored_cut;
DROP TABLE curation;
DELETE FROM schema_applied WHERE version = 4;
