-- Life in feed and depth, by process: vc·T^n·f^x·ap^y = C, told by C at a feed and depth.

ALTER TABLE life_record
    ADD COLUMN process text NOT NULL DEFAULT 'turning'
        CONSTRAINT process_of_a_life_is_known CHECK (process IN ('turning', 'milling', 'drilling', 'general')),
    ADD COLUMN feed_exp double precision
        CONSTRAINT feed_exponent_of_a_life_is_from_zero_to_below_two CHECK (feed_exp >= 0 AND feed_exp < 2),
    ADD COLUMN depth_exp double precision
        CONSTRAINT depth_exponent_of_a_life_is_from_zero_to_below_two CHECK (depth_exp >= 0 AND depth_exp < 2),
    ADD COLUMN reference_feed_mm double precision
        CONSTRAINT reference_feed_is_positive CHECK (reference_feed_mm > 0 AND reference_feed_mm < 'Infinity'),
    ADD COLUMN reference_depth_mm double precision
        CONSTRAINT reference_depth_is_positive CHECK (reference_depth_mm > 0 AND reference_depth_mm < 'Infinity'),
    ADD CONSTRAINT exponents_of_a_life_have_their_reference
        CHECK ((feed_exp IS NULL OR reference_feed_mm IS NOT NULL) AND (depth_exp IS NULL OR reference_depth_mm IS NOT NULL));

INSERT INTO schema_applied (version) VALUES (5);
