DROP TABLE job_part;
DROP TABLE job;
DELETE FROM schema_applied WHERE version = 9;
