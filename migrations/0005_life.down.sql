ALTER TABLE life_record
    DROP COLUMN process, DROP COLUMN feed_exp, DROP COLUMN depth_exp, DROP COLUMN reference_feed_mm, DROP COLUMN reference_depth_mm;
DELETE FROM schema_applied WHERE version = 5;
