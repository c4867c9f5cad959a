DROP TABLE kept_answer;
DELETE FROM schema_applied WHERE version = 11;
