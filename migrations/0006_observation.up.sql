-- What the shop measured: append-only, outside the revisions, since it changes no answer
-- by itself. Columns beside the documents are what fits read.

CREATE TABLE observation (
    id bigint GENERATED ALWAYS AS IDENTITY CONSTRAINT an_observation_is_kept_once PRIMARY KEY,
    received timestamptz NOT NULL DEFAULT clock_timestamp(),
    at text NOT NULL,
    who text NOT NULL CONSTRAINT somebody_observed CHECK (who <> ''),
    kind text NOT NULL CONSTRAINT kind_of_an_observation_is_known CHECK (kind IN ('load', 'edge', 'surface')),
    state text NOT NULL CONSTRAINT an_observation_counts_or_is_set_aside CHECK (state IN ('accepted', 'set-aside')),
    reasons text[] NOT NULL,
    material_id text NOT NULL,
    process text NOT NULL,
    tool_material text NOT NULL,
    machine_id text NOT NULL,
    lot text NOT NULL,
    edge text NOT NULL,
    record_id text NOT NULL,
    force_exp double precision CONSTRAINT force_constant_is_finite CHECK (abs(force_exp) < 'Infinity'),
    thickness_exp double precision CONSTRAINT thickness_is_finite CHECK (abs(thickness_exp) < 'Infinity'),
    wear_ratio double precision CONSTRAINT share_of_life_is_never_negative CHECK (wear_ratio >= 0 AND wear_ratio < 'Infinity'),
    expected_ratio double precision CONSTRAINT measured_over_expected_is_positive CHECK (expected_ratio > 0 AND expected_ratio < 'Infinity'),
    speed_m_per_min double precision CONSTRAINT observed_speed_is_positive CHECK (speed_m_per_min > 0 AND speed_m_per_min < 'Infinity'),
    feed_mm double precision CONSTRAINT observed_feed_is_positive CHECK (feed_mm > 0 AND feed_mm < 'Infinity'),
    depth_mm double precision CONSTRAINT observed_depth_is_positive CHECK (depth_mm > 0 AND depth_mm < 'Infinity'),
    minutes double precision CONSTRAINT observed_minutes_are_positive CHECK (minutes > 0 AND minutes < 'Infinity'),
    failed boolean NOT NULL,
    document jsonb NOT NULL CONSTRAINT an_observation_is_a_document CHECK (jsonb_typeof(document) = 'object')
);
COMMENT ON TABLE observation IS 'Measured loads, edges and surfaces with what they say of the metal; nothing here serves until a person approves what was fitted to it.';
CREATE INDEX observation_by_metal ON observation (material_id, process, kind) WHERE state = 'accepted';
CREATE INDEX observation_by_machine ON observation (machine_id, kind) WHERE state = 'accepted';
CREATE INDEX observation_by_record ON observation (record_id, received) WHERE state = 'accepted' AND kind = 'load';
CREATE TRIGGER observations_stay BEFORE UPDATE OR DELETE ON observation FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER observations_all_stay BEFORE TRUNCATE ON observation FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE curation ADD COLUMN drift_ratio double precision
    CONSTRAINT drift_is_positive CHECK (drift_ratio > 0 AND drift_ratio < 'Infinity');
COMMENT ON COLUMN curation.drift_ratio IS 'Median of measured over expected since the record came into force, when it is more than 15 % off.';

INSERT INTO schema_applied (version) VALUES (6);
