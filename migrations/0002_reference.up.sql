-- Reference data: sources, materials with what belongs to them, the records from
-- which forces, starting values and tool life are taken, and tool classes.
--
-- A column's unit is in its name. PostgreSQL puts NaN above everything, so every
-- number has an upper bound that NaN and Infinity miss. A range of validity is a
-- pair of columns valid_…_low_/valid_…_high_; an end that is absent is NULL.

CREATE TABLE source (
    id text CONSTRAINT a_source_has_one_record PRIMARY KEY
        CONSTRAINT source_id_is_lower_case CHECK (id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'),
    author text NOT NULL,
    title text NOT NULL CONSTRAINT a_source_has_a_title CHECK (title <> ''),
    year text NOT NULL,
    place text NOT NULL,
    address text NOT NULL,
    kind text NOT NULL CONSTRAINT a_source_is_of_some_kind CHECK (kind <> ''),
    access text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL
);
CALL keep_history('source', 'source', 'id', 'id');

CREATE TABLE material (
    id text CONSTRAINT a_material_has_one_record PRIMARY KEY
        CONSTRAINT material_id_is_lower_case CHECK (id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'),
    name text NOT NULL CONSTRAINT a_material_has_a_name CHECK (name <> ''),
    iso_group text NOT NULL
        CONSTRAINT group_is_a_letter_of_iso_513_or_o CHECK (iso_group IN ('P', 'M', 'K', 'N', 'S', 'H', 'O')),
    subgroup text NOT NULL,
    minimum_chip_ground_edge_mm double precision
        CONSTRAINT minimum_chip_of_a_ground_edge_is_positive CHECK (minimum_chip_ground_edge_mm > 0 AND minimum_chip_ground_edge_mm < 'Infinity'),
    minimum_chip_honed_insert_mm double precision
        CONSTRAINT minimum_chip_of_a_honed_insert_is_positive CHECK (minimum_chip_honed_insert_mm > 0 AND minimum_chip_honed_insert_mm < 'Infinity'),
    cautions text[] NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL
);
CALL keep_history('material', 'material', 'id', 'id');

CREATE TABLE designation (
    material_id text NOT NULL
        CONSTRAINT a_designation_is_of_a_known_grade REFERENCES material (id),
    standard text NOT NULL
        CONSTRAINT a_designation_names_its_standard CHECK (standard <> '' AND standard !~ '[|]'),
    value text NOT NULL CONSTRAINT a_designation_has_a_value CHECK (value <> ''),
    position integer NOT NULL CONSTRAINT designations_are_counted_from_one CHECK (position >= 1),
    revision bigint NOT NULL,
    CONSTRAINT a_grade_has_a_designation_once PRIMARY KEY (material_id, standard, value),
    CONSTRAINT designations_have_an_order UNIQUE (material_id, position) DEFERRABLE INITIALLY DEFERRED
);
CALL keep_history('designation', 'material', 'material_id', 'material_id', 'standard', 'value');

CREATE TABLE material_condition (
    material_id text NOT NULL
        CONSTRAINT a_condition_is_of_a_known_grade REFERENCES material (id),
    name text NOT NULL CONSTRAINT a_condition_has_a_name CHECK (name <> ''),
    position integer NOT NULL CONSTRAINT conditions_are_counted_from_one CHECK (position >= 1),
    hardness_low double precision
        CONSTRAINT lowest_hardness_is_positive CHECK (hardness_low > 0 AND hardness_low < 'Infinity'),
    hardness_high double precision
        CONSTRAINT highest_hardness_is_positive CHECK (hardness_high > 0 AND hardness_high < 'Infinity'),
    hardness_scale text NOT NULL
        CONSTRAINT hardness_scale_is_known_or_empty CHECK (hardness_scale IN ('', 'HBW', 'HRC', 'HRB', 'HV')),
    record_id text NOT NULL,
    basis text NOT NULL
        CONSTRAINT basis_is_known CHECK (basis IN ('published', 'recalled', 'common-practice', 'shop', 'derived', 'demo')),
    source_id text NOT NULL
        CONSTRAINT a_number_has_a_known_source REFERENCES source (id),
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT hardness_goes_from_low_to_high CHECK (hardness_low <= hardness_high),
    CONSTRAINT hardness_has_a_scale CHECK (hardness_scale <> '' OR (hardness_low IS NULL AND hardness_high IS NULL)),
    CONSTRAINT published_says_where CHECK (basis <> 'published' OR place <> ''),
    CONSTRAINT a_grade_has_a_condition_once PRIMARY KEY (material_id, name),
    CONSTRAINT conditions_have_an_order UNIQUE (material_id, position) DEFERRABLE INITIALLY DEFERRED
);
CALL keep_history('material_condition', 'material', 'material_id', 'material_id', 'name');

CREATE TABLE physical_property (
    material_id text NOT NULL
        CONSTRAINT a_property_is_of_a_known_grade REFERENCES material (id),
    position integer NOT NULL CONSTRAINT properties_are_counted_from_one CHECK (position >= 1),
    name text NOT NULL CONSTRAINT a_property_has_a_name CHECK (name <> ''),
    quantity text NOT NULL
        CONSTRAINT quantity_of_a_property_is_known CHECK (quantity IN ('none', 'length', 'speed', 'feed-rate', 'rotation', 'force', 'torque', 'power', 'removal-rate', 'specific-force', 'specific-energy', 'roughness', 'pressure', 'modulus', 'mass', 'temperature', 'angle', 'time', 'acceleration', 'density', 'conductivity', 'specific-heat', 'expansion', 'seconds', 'angle-per-length', 'angle-rate')),
    value double precision NOT NULL
        CONSTRAINT value_of_a_property_is_positive CHECK (value > 0 AND value < 'Infinity'),
    record_id text NOT NULL,
    basis text NOT NULL
        CONSTRAINT basis_is_known CHECK (basis IN ('published', 'recalled', 'common-practice', 'shop', 'derived', 'demo')),
    source_id text NOT NULL
        CONSTRAINT a_number_has_a_known_source REFERENCES source (id),
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT published_says_where CHECK (basis <> 'published' OR place <> ''),
    CONSTRAINT a_grade_has_one_property_in_a_place PRIMARY KEY (material_id, position)
);
CALL keep_history('physical_property', 'material', 'material_id', 'material_id', 'position');

CREATE TABLE force_record (
    id text CONSTRAINT a_force_record_has_one_id PRIMARY KEY
        CONSTRAINT force_record_id_is_lower_case CHECK (id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'),
    scope_level text NOT NULL
        CONSTRAINT scope_is_a_grade_a_subgroup_or_a_group CHECK (scope_level IN ('material', 'subgroup', 'group')),
    scope_key text NOT NULL,
    scope_material text GENERATED ALWAYS AS (CASE WHEN scope_level = 'material' THEN scope_key END) STORED
        CONSTRAINT a_record_is_about_a_known_grade REFERENCES material (id),
    condition text NOT NULL,
    process text NOT NULL
        CONSTRAINT process_was_measured_or_general CHECK (process IN ('turning', 'milling', 'drilling', 'general')),
    method text NOT NULL
        CONSTRAINT method_is_known CHECK (method IN ('kienzle', 'unit-power', 'drill-handbook')),
    family text NOT NULL,
    specific_cutting_force_1_1_n_per_mm2 double precision
        CONSTRAINT specific_cutting_force_is_positive CHECK (specific_cutting_force_1_1_n_per_mm2 > 0 AND specific_cutting_force_1_1_n_per_mm2 < 'Infinity'),
    chip_thickness_exp double precision
        CONSTRAINT chip_thickness_exponent_is_from_zero_to_below_one CHECK (chip_thickness_exp >= 0 AND chip_thickness_exp < 1),
    feed_force_1_1_n_per_mm2 double precision
        CONSTRAINT specific_feed_force_is_positive CHECK (feed_force_1_1_n_per_mm2 > 0 AND feed_force_1_1_n_per_mm2 < 'Infinity'),
    feed_force_exp double precision
        CONSTRAINT feed_force_exponent_is_between_minus_and_plus_two CHECK (feed_force_exp > -2 AND feed_force_exp < 2),
    passive_force_1_1_n_per_mm2 double precision
        CONSTRAINT specific_passive_force_is_positive CHECK (passive_force_1_1_n_per_mm2 > 0 AND passive_force_1_1_n_per_mm2 < 'Infinity'),
    passive_force_exp double precision
        CONSTRAINT passive_force_exponent_is_between_minus_and_plus_two CHECK (passive_force_exp > -2 AND passive_force_exp < 2),
    reference_rake_deg double precision
        CONSTRAINT reference_rake_is_below_a_right_angle CHECK (reference_rake_deg > -90 AND reference_rake_deg < 90),
    energy_j_per_mm3 double precision
        CONSTRAINT specific_energy_is_positive CHECK (energy_j_per_mm3 > 0 AND energy_j_per_mm3 < 'Infinity'),
    energy_thickness_mm double precision
        CONSTRAINT thickness_of_the_energy_is_positive CHECK (energy_thickness_mm > 0 AND energy_thickness_mm < 'Infinity'),
    energy_thickness_exp double precision
        CONSTRAINT energy_exponent_is_from_zero_to_below_one CHECK (energy_thickness_exp >= 0 AND energy_thickness_exp < 1),
    drill_work_factor_ratio double precision
        CONSTRAINT drill_work_factor_is_positive CHECK (drill_work_factor_ratio > 0 AND drill_work_factor_ratio < 'Infinity'),
    valid_chip_thickness_low_mm double precision
        CONSTRAINT lowest_valid_chip_thickness_is_never_negative CHECK (valid_chip_thickness_low_mm >= 0 AND valid_chip_thickness_low_mm < 'Infinity'),
    valid_chip_thickness_high_mm double precision
        CONSTRAINT highest_valid_chip_thickness_is_positive CHECK (valid_chip_thickness_high_mm > 0 AND valid_chip_thickness_high_mm < 'Infinity'),
    valid_hardness_low_hbw double precision
        CONSTRAINT lowest_valid_hardness_is_never_negative CHECK (valid_hardness_low_hbw >= 0 AND valid_hardness_low_hbw < 'Infinity'),
    valid_hardness_high_hbw double precision
        CONSTRAINT highest_valid_hardness_is_positive CHECK (valid_hardness_high_hbw > 0 AND valid_hardness_high_hbw < 'Infinity'),
    valid_speed_low_m_per_min double precision
        CONSTRAINT lowest_valid_speed_is_never_negative CHECK (valid_speed_low_m_per_min >= 0 AND valid_speed_low_m_per_min < 'Infinity'),
    valid_speed_high_m_per_min double precision
        CONSTRAINT highest_valid_speed_is_positive CHECK (valid_speed_high_m_per_min > 0 AND valid_speed_high_m_per_min < 'Infinity'),
    spread_ratio double precision
        CONSTRAINT spread_is_positive CHECK (spread_ratio > 0 AND spread_ratio < 'Infinity'),
    rank integer NOT NULL,
    basis text NOT NULL
        CONSTRAINT basis_is_known CHECK (basis IN ('published', 'recalled', 'common-practice', 'shop', 'derived', 'demo')),
    source_id text NOT NULL
        CONSTRAINT a_number_has_a_known_source REFERENCES source (id),
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT scope_key_fits_its_level CHECK (
        scope_level = 'material'
        OR (scope_level = 'subgroup' AND scope_key ~ '^[PMKNSHO]/[a-z]+(-[a-z]+)*$')
        OR (scope_level = 'group' AND scope_key ~ '^[PMKNSHO]$')),
    CONSTRAINT kienzle_needs_its_pair CHECK (
        method <> 'kienzle' OR (specific_cutting_force_1_1_n_per_mm2 IS NOT NULL AND chip_thickness_exp IS NOT NULL)),
    CONSTRAINT unit_power_needs_its_energy CHECK (method <> 'unit-power' OR energy_j_per_mm3 IS NOT NULL),
    CONSTRAINT drill_handbook_needs_its_factor CHECK (method <> 'drill-handbook' OR drill_work_factor_ratio IS NOT NULL),
    CONSTRAINT valid_chip_thickness_goes_from_low_to_high CHECK (valid_chip_thickness_low_mm <= valid_chip_thickness_high_mm),
    CONSTRAINT valid_hardness_goes_from_low_to_high CHECK (valid_hardness_low_hbw <= valid_hardness_high_hbw),
    CONSTRAINT valid_speed_goes_from_low_to_high CHECK (valid_speed_low_m_per_min <= valid_speed_high_m_per_min),
    CONSTRAINT published_says_where CHECK (basis <> 'published' OR place <> '')
);
CALL keep_history('force_record', 'record', 'id', 'id');

CREATE TABLE starting_record (
    id text CONSTRAINT a_starting_record_has_one_id PRIMARY KEY
        CONSTRAINT starting_record_id_is_lower_case CHECK (id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'),
    scope_level text NOT NULL
        CONSTRAINT scope_is_a_grade_a_subgroup_or_a_group CHECK (scope_level IN ('material', 'subgroup', 'group')),
    scope_key text NOT NULL,
    scope_material text GENERATED ALWAYS AS (CASE WHEN scope_level = 'material' THEN scope_key END) STORED
        CONSTRAINT a_record_is_about_a_known_grade REFERENCES material (id),
    condition text NOT NULL,
    operations text[] NOT NULL
        CONSTRAINT a_starting_record_serves_an_operation CHECK (cardinality(operations) > 0),
    tool_classes text[] NOT NULL,
    tool_material text NOT NULL,
    kind text NOT NULL,
    speed_low_m_per_min double precision
        CONSTRAINT lowest_starting_speed_is_never_negative CHECK (speed_low_m_per_min >= 0 AND speed_low_m_per_min < 'Infinity'),
    speed_high_m_per_min double precision
        CONSTRAINT highest_starting_speed_is_positive CHECK (speed_high_m_per_min > 0 AND speed_high_m_per_min < 'Infinity'),
    feed_kind text NOT NULL
        CONSTRAINT feed_kind_is_known_or_empty CHECK (
            feed_kind IN ('', 'per-revolution', 'per-tooth', 'diameter-fraction-per-revolution', 'diameter-fraction-per-tooth')),
    feed_low_mm double precision
        CONSTRAINT lowest_starting_feed_is_never_negative CHECK (feed_low_mm >= 0 AND feed_low_mm < 'Infinity'),
    feed_high_mm double precision
        CONSTRAINT highest_starting_feed_is_positive CHECK (feed_high_mm > 0 AND feed_high_mm < 'Infinity'),
    feed_low_diameter_ratio double precision
        CONSTRAINT lowest_starting_feed_ratio_is_never_negative CHECK (feed_low_diameter_ratio >= 0 AND feed_low_diameter_ratio < 'Infinity'),
    feed_high_diameter_ratio double precision
        CONSTRAINT highest_starting_feed_ratio_is_positive CHECK (feed_high_diameter_ratio > 0 AND feed_high_diameter_ratio < 'Infinity'),
    valid_hardness_low_hbw double precision
        CONSTRAINT lowest_valid_hardness_is_never_negative CHECK (valid_hardness_low_hbw >= 0 AND valid_hardness_low_hbw < 'Infinity'),
    valid_hardness_high_hbw double precision
        CONSTRAINT highest_valid_hardness_is_positive CHECK (valid_hardness_high_hbw > 0 AND valid_hardness_high_hbw < 'Infinity'),
    depth_mm double precision
        CONSTRAINT depth_of_the_record_is_positive CHECK (depth_mm > 0 AND depth_mm < 'Infinity'),
    rank integer NOT NULL,
    basis text NOT NULL
        CONSTRAINT basis_is_known CHECK (basis IN ('published', 'recalled', 'common-practice', 'shop', 'derived', 'demo')),
    source_id text NOT NULL
        CONSTRAINT a_number_has_a_known_source REFERENCES source (id),
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT scope_key_fits_its_level CHECK (
        scope_level = 'material'
        OR (scope_level = 'subgroup' AND scope_key ~ '^[PMKNSHO]/[a-z]+(-[a-z]+)*$')
        OR (scope_level = 'group' AND scope_key ~ '^[PMKNSHO]$')),
    CONSTRAINT starting_speed_goes_from_low_to_high CHECK (speed_low_m_per_min <= speed_high_m_per_min),
    CONSTRAINT starting_feed_goes_from_low_to_high CHECK (feed_low_mm <= feed_high_mm),
    CONSTRAINT starting_feed_ratio_goes_from_low_to_high CHECK (feed_low_diameter_ratio <= feed_high_diameter_ratio),
    CONSTRAINT feed_fits_its_kind CHECK (
        (feed_kind LIKE 'per-%' OR (feed_low_mm IS NULL AND feed_high_mm IS NULL))
        AND (feed_kind LIKE 'diameter-%' OR (feed_low_diameter_ratio IS NULL AND feed_high_diameter_ratio IS NULL))),
    CONSTRAINT valid_hardness_goes_from_low_to_high CHECK (valid_hardness_low_hbw <= valid_hardness_high_hbw),
    CONSTRAINT published_says_where CHECK (basis <> 'published' OR place <> '')
);
CALL keep_history('starting_record', 'record', 'id', 'id');

CREATE TABLE life_record (
    id text CONSTRAINT a_life_record_has_one_id PRIMARY KEY
        CONSTRAINT life_record_id_is_lower_case CHECK (id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'),
    scope_level text NOT NULL
        CONSTRAINT scope_is_a_grade_a_subgroup_or_a_group CHECK (scope_level IN ('material', 'subgroup', 'group')),
    scope_key text NOT NULL,
    scope_material text GENERATED ALWAYS AS (CASE WHEN scope_level = 'material' THEN scope_key END) STORED
        CONSTRAINT a_record_is_about_a_known_grade REFERENCES material (id),
    tool_material text NOT NULL,
    taylor_exp double precision
        CONSTRAINT taylor_exponent_is_above_zero_and_below_two CHECK (taylor_exp > 0 AND taylor_exp < 2),
    taylor_speed_m_per_min double precision
        CONSTRAINT taylor_speed_is_positive CHECK (taylor_speed_m_per_min > 0 AND taylor_speed_m_per_min < 'Infinity'),
    criterion text NOT NULL,
    basis text NOT NULL
        CONSTRAINT basis_is_known CHECK (basis IN ('published', 'recalled', 'common-practice', 'shop', 'derived', 'demo')),
    source_id text NOT NULL
        CONSTRAINT a_number_has_a_known_source REFERENCES source (id),
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT scope_key_fits_its_level CHECK (
        scope_level = 'material'
        OR (scope_level = 'subgroup' AND scope_key ~ '^[PMKNSHO]/[a-z]+(-[a-z]+)*$')
        OR (scope_level = 'group' AND scope_key ~ '^[PMKNSHO]$')),
    CONSTRAINT published_says_where CHECK (basis <> 'published' OR place <> '')
);
CALL keep_history('life_record', 'record', 'id', 'id');

CREATE TABLE hardness_row (
    position integer CONSTRAINT a_hardness_row_has_one_place PRIMARY KEY
        CONSTRAINT hardness_rows_are_counted_from_one CHECK (position >= 1),
    hv double precision
        CONSTRAINT vickers_hardness_is_positive CHECK (hv > 0 AND hv < 'Infinity'),
    hbw double precision
        CONSTRAINT brinell_hardness_is_positive CHECK (hbw > 0 AND hbw < 'Infinity'),
    hrc double precision
        CONSTRAINT rockwell_c_hardness_is_positive CHECK (hrc > 0 AND hrc < 'Infinity'),
    hrb double precision
        CONSTRAINT rockwell_b_hardness_is_positive CHECK (hrb > 0 AND hrb < 'Infinity'),
    tensile_strength_n_per_mm2 double precision
        CONSTRAINT tensile_strength_is_positive CHECK (tensile_strength_n_per_mm2 > 0 AND tensile_strength_n_per_mm2 < 'Infinity'),
    source_id text NOT NULL
        CONSTRAINT a_hardness_row_has_a_known_source REFERENCES source (id),
    revision bigint NOT NULL,
    CONSTRAINT a_hardness_row_relates_two_numbers CHECK (num_nonnulls(hv, hbw, hrc, hrb, tensile_strength_n_per_mm2) >= 2)
);
CALL keep_history('hardness_row', 'source', 'source_id', 'position');

CREATE TABLE tool_class (
    id text CONSTRAINT a_tool_class_has_one_record PRIMARY KEY
        CONSTRAINT tool_class_id_is_lower_case CHECK (id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'),
    name text NOT NULL CONSTRAINT a_tool_class_has_a_name CHECK (name <> ''),
    operations text[] NOT NULL
        CONSTRAINT a_tool_class_does_an_operation CHECK (cardinality(operations) > 0),
    edge text NOT NULL CONSTRAINT edge_is_ground_or_honed_or_none CHECK (edge IN ('ground', 'honed', '')),
    tool_material text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL
);
CALL keep_history('tool_class', 'tool-class', 'id', 'id');

CREATE TABLE tool_property (
    class_id text NOT NULL
        CONSTRAINT a_tool_property_is_of_a_known_class REFERENCES tool_class (id),
    name text NOT NULL CONSTRAINT a_tool_property_has_a_name CHECK (name <> ''),
    position integer NOT NULL CONSTRAINT tool_properties_are_counted_from_one CHECK (position >= 1),
    code text NOT NULL,
    quantity text NOT NULL
        CONSTRAINT quantity_of_a_tool_property_is_known CHECK (quantity IN ('none', 'length', 'speed', 'feed-rate', 'rotation', 'force', 'torque', 'power', 'removal-rate', 'specific-force', 'specific-energy', 'roughness', 'pressure', 'modulus', 'mass', 'temperature', 'angle', 'time', 'acceleration', 'density', 'conductivity', 'specific-heat', 'expansion', 'seconds', 'angle-per-length', 'angle-rate')),
    default_value double precision
        CONSTRAINT default_value_is_finite CHECK (default_value > '-Infinity' AND default_value < 'Infinity'),
    low_value double precision
        CONSTRAINT lowest_value_is_finite CHECK (low_value > '-Infinity' AND low_value < 'Infinity'),
    high_value double precision
        CONSTRAINT highest_value_is_finite CHECK (high_value > '-Infinity' AND high_value < 'Infinity'),
    revision bigint NOT NULL,
    CONSTRAINT values_go_from_low_to_high CHECK (low_value <= high_value),
    CONSTRAINT default_lies_in_its_range CHECK (low_value <= default_value AND default_value <= high_value),
    CONSTRAINT a_class_has_a_property_once PRIMARY KEY (class_id, name),
    CONSTRAINT tool_properties_have_an_order UNIQUE (class_id, position) DEFERRABLE INITIALLY DEFERRED
);
CALL keep_history('tool_property', 'tool-class', 'class_id', 'class_id', 'name');

CREATE INDEX force_record_by_material ON force_record (scope_material);
CREATE INDEX starting_record_by_material ON starting_record (scope_material);
CREATE INDEX life_record_by_material ON life_record (scope_material);

INSERT INTO schema_applied (version) VALUES (2);
