ALTER TABLE machine DROP COLUMN max_arc_feed_rate_mm_per_min;
DELETE FROM schema_applied WHERE version = 8;
