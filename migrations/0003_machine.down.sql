DROP TABLE machine;
DELETE FROM schema_applied WHERE version = 3;
