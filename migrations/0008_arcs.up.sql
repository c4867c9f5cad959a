-- What a machine keeps on circles, where that is less than on lines.
ALTER TABLE machine ADD COLUMN max_arc_feed_rate_mm_per_min double precision
    CONSTRAINT maximum_feed_rate_on_arcs_is_positive CHECK (max_arc_feed_rate_mm_per_min > 0 AND max_arc_feed_rate_mm_per_min < 'Infinity');

INSERT INTO schema_applied (version) VALUES (8);
