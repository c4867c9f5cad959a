-- Machines: the shop's own data, and the invented ones of the demonstration.
-- gears and work_holding are documents, because nothing is ever asked of a part of
-- them: gears is [{name, min_speed_per_min, max_speed_per_min, ratings: [{duty:
-- {type, percent, cycle_minutes}, power_kw, torque_nm, points: [{speed_per_min,
-- power_kw}]}]}]. What is not stated is NULL: unknown, never without limit.

CREATE TABLE machine (
    id text CONSTRAINT a_machine_has_one_record PRIMARY KEY
        CONSTRAINT machine_id_is_letters_digits_and_marks CHECK (id ~ '^[A-Za-z0-9][A-Za-z0-9._~-]{0,127}$'),
    name text NOT NULL,
    process text NOT NULL
        CONSTRAINT process_is_milling_or_turning CHECK (process IN ('milling', 'turning')),
    max_speed_per_min double precision NOT NULL
        CONSTRAINT maximum_speed_is_positive CHECK (max_speed_per_min > 0 AND max_speed_per_min < 'Infinity'),
    efficiency_ratio double precision NOT NULL
        CONSTRAINT efficiency_is_above_zero_up_to_one CHECK (efficiency_ratio > 0 AND efficiency_ratio <= 1),
    idle_power_kw double precision NOT NULL
        CONSTRAINT idle_power_is_never_negative CHECK (idle_power_kw >= 0 AND idle_power_kw < 'Infinity'),
    gears jsonb NOT NULL
        CONSTRAINT gears_are_a_list CHECK (jsonb_typeof(gears) = 'array')
        CONSTRAINT a_gear_has_a_continuous_rating CHECK (
            jsonb_path_exists(gears, '$[*].ratings[*] ? (@.duty.type == "S1")'))
        CONSTRAINT every_gear_has_a_rating CHECK (
            NOT jsonb_path_exists(gears, '$[*] ? (!exists(@.ratings[*]))'))
        CONSTRAINT gear_speeds_are_in_order CHECK (
            NOT jsonb_path_exists(gears, '$[*] ? (!(@.min_speed_per_min >= 0 && @.max_speed_per_min > @.min_speed_per_min && @.max_speed_per_min < 1000000000))'))
        CONSTRAINT a_rating_has_a_duty_type CHECK (
            NOT jsonb_path_exists(gears, '$[*].ratings[*] ? (!(@.duty.type == "S1" || @.duty.type == "S2" || @.duty.type == "S3" || @.duty.type == "S6"))'))
        CONSTRAINT a_rating_is_a_positive_pair_or_points CHECK (
            NOT jsonb_path_exists(gears, '$[*].ratings[*] ? (!(@.power_kw > 0 && @.power_kw < 1000000000 && @.torque_nm > 0 && @.torque_nm < 1000000000) && !exists(@.points[*]))'))
        CONSTRAINT power_and_torque_are_never_negative CHECK (
            NOT jsonb_path_exists(gears, '$[*].ratings[*] ? (!(@.power_kw >= 0 && @.power_kw < 1000000000 && @.torque_nm >= 0 && @.torque_nm < 1000000000))'))
        CONSTRAINT a_duty_has_a_share_and_a_cycle CHECK (
            NOT jsonb_path_exists(gears, '$[*].ratings[*].duty ? (!(@.percent >= 0 && @.percent <= 100 && @.cycle_minutes >= 0 && @.cycle_minutes < 1000000000))'))
        -- A comparison of text with a number is neither true nor false, and so passes the rules beside this one.
        CONSTRAINT every_number_of_a_gear_is_one CHECK (
            NOT jsonb_path_exists(gears, '$.** ? (@.type() == "object").keyvalue() ? (@.key != "name" && @.key != "type" && (@.value.type() == "string" || @.value.type() == "boolean" || @.value.type() == "null"))'))
        CONSTRAINT points_of_a_rating_are_positive CHECK (
            NOT jsonb_path_exists(gears, '$[*].ratings[*].points[*] ? (!(@.speed_per_min > 0 && @.speed_per_min < 1000000000 && @.power_kw > 0 && @.power_kw < 1000000000))')),
    max_feed_rate_mm_per_min double precision
        CONSTRAINT maximum_feed_rate_is_positive CHECK (max_feed_rate_mm_per_min > 0 AND max_feed_rate_mm_per_min < 'Infinity'),
    max_feed_force_n double precision
        CONSTRAINT maximum_feed_force_is_positive CHECK (max_feed_force_n > 0 AND max_feed_force_n < 'Infinity'),
    acceleration_m_per_s2 double precision
        CONSTRAINT acceleration_is_positive CHECK (acceleration_m_per_s2 > 0 AND acceleration_m_per_s2 < 'Infinity'),
    rapid_rate_mm_per_min double precision
        CONSTRAINT rapid_rate_is_positive CHECK (rapid_rate_mm_per_min > 0 AND rapid_rate_mm_per_min < 'Infinity'),
    coolant_deliveries text[],
    through_tool_pressure_bar double precision
        CONSTRAINT through_tool_pressure_is_never_negative CHECK (through_tool_pressure_bar >= 0 AND through_tool_pressure_bar < 'Infinity'),
    synchronous_tapping boolean,
    tool_change_seconds double precision
        CONSTRAINT tool_change_time_is_never_negative CHECK (tool_change_seconds >= 0 AND tool_change_seconds < 'Infinity'),
    meter jsonb CONSTRAINT meter_is_a_document CHECK (jsonb_typeof(meter) = 'object'),
    work_holding jsonb
        CONSTRAINT work_holding_is_a_document CHECK (jsonb_typeof(work_holding) = 'object')
        CONSTRAINT every_number_of_work_holding_is_one CHECK (
            NOT jsonb_path_exists(work_holding, '$ ? (@.type() == "object").keyvalue() ? (@.key != "kind" && @.key != "catcher" && @.value.type() != "number")'))
        CONSTRAINT work_holding_numbers_are_never_negative CHECK (
            NOT jsonb_path_exists(work_holding, '$.* ? (@.type() == "number" && (@ < 0 || @ >= 1000000000))')),
    basis text NOT NULL
        CONSTRAINT machine_basis_is_known CHECK (basis IN ('published', 'recalled', 'common-practice', 'shop', 'derived', 'demo')),
    note text NOT NULL,
    revision bigint NOT NULL
);
CALL keep_history('machine', 'machine', 'id', 'id');

INSERT INTO schema_applied (version) VALUES (3);
