CREATE SCHEMA river;
CREATE TYPE river.river_job_state AS ENUM (
    'available',
    'cancelled',
    'completed',
    'discarded',
    'pending',
    'retryable',
    'running',
    'scheduled'
);
CREATE TABLE public.changes (
    revision bigint NOT NULL,
    sequence bigint NOT NULL,
    table_name text NOT NULL,
    key text NOT NULL,
    kind text NOT NULL,
    id text NOT NULL,
    action text NOT NULL,
    old jsonb,
    new jsonb,
    who text NOT NULL,
    at timestamp with time zone NOT NULL,
    reason text NOT NULL,
    person text DEFAULT ''::text NOT NULL,
    CONSTRAINT action_is_added_changed_or_removed CHECK ((action = ANY (ARRAY['added'::text, 'changed'::text, 'removed'::text]))),
    CONSTRAINT changes_begin_at_revision_one CHECK ((revision >= 1)),
    CONSTRAINT kind_is_a_public_noun CHECK ((kind = ANY (ARRAY['machine'::text, 'material'::text, 'source'::text, 'tool-class'::text, 'record'::text, 'cut'::text]))),
    CONSTRAINT old_and_new_fit_the_action CHECK ((((action = 'added'::text) AND (old IS NULL) AND (new IS NOT NULL)) OR ((action = 'changed'::text) AND (old IS NOT NULL) AND (new IS NOT NULL)) OR ((action = 'removed'::text) AND (old IS NOT NULL) AND (new IS NULL)))),
    CONSTRAINT somebody_made_the_change CHECK ((who <> ''::text))
);
COMMENT ON TABLE public.changes IS 'Every change of every row, oldest first; never updated, never deleted from.';
COMMENT ON COLUMN public.changes.kind IS 'The public noun the row belongs to; id is the noun''s id.';
COMMENT ON COLUMN public.changes.person IS 'Whom the caller named beside the key it wrote with; not proved.';
CREATE FUNCTION public.change_hash(c public.changes) RETURNS bytea
    LANGUAGE sql STABLE
    SET extra_float_digits TO '1'
    AS $$
    SELECT sha256(convert_to(jsonb_build_array(c.revision, c.sequence, c.table_name, c.key, c.kind, c.id, c.action,
        c.old, c.new, c.who, c.person, (extract(epoch FROM c.at) * 1000000)::bigint, c.reason)::text, 'UTF8'))
$$;
CREATE PROCEDURE public.keep_history(IN named regclass, IN kind text, IN id_column text, VARIADIC key_columns text[])
    LANGUAGE plpgsql
    AS $$
DECLARE
    arguments text := (SELECT string_agg(quote_literal(a), ', ') FROM unnest(ARRAY[kind, id_column] || key_columns) AS a);
BEGIN
    EXECUTE format('CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON %s FOR EACH ROW EXECUTE FUNCTION stamp_row(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER note_added AFTER INSERT ON %s REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION note_added(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER note_change AFTER UPDATE OR DELETE ON %s FOR EACH ROW EXECUTE FUNCTION note_change(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON %s FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', named);
END $$;
CREATE FUNCTION public.keep_key() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
BEGIN
    IF OLD.revoked IS NOT NULL OR (NEW.id, NEW.name, NEW.view, NEW.made, NEW.made_by) IS DISTINCT FROM (OLD.id, OLD.name, OLD.view, OLD.made, OLD.made_by) THEN
        RAISE EXCEPTION 'a key keeps its name, and a revoked key stays as it is'
            USING ERRCODE = 'restrict_violation', CONSTRAINT = 'a_revoked_key_stays_revoked', TABLE = TG_TABLE_NAME;
    END IF;
    RETURN NEW;
END $$;
CREATE FUNCTION public.next_revision() RETURNS bigint
    LANGUAGE plpgsql
    AS $$
DECLARE
    marker text := coalesce(current_setting('swarf.revision', true), '');
    mine text := pg_current_xact_id()::text;
    made bigint;
BEGIN
    IF split_part(marker, ':', 1) = mine THEN
        RETURN split_part(marker, ':', 2)::bigint;
    END IF;
    UPDATE data_revision
        SET revision = revision + 1, at = greatest(at, clock_timestamp())
        RETURNING revision INTO STRICT made;
    PERFORM set_config('swarf.revision', mine || ':' || made, true);
    PERFORM pg_notify('swarf_revision', made::text);
    RETURN made;
END $$;
CREATE FUNCTION public.note_added() RETURNS trigger
    LANGUAGE plpgsql
    SET extra_float_digits TO '1'
    AS $$
DECLARE
    made bigint;
    at timestamptz;
BEGIN
    IF NOT EXISTS (SELECT FROM added) THEN
        RETURN NULL;
    END IF;
    made := next_revision();
    SELECT counter.at INTO STRICT at FROM data_revision AS counter;
    INSERT INTO changes (revision, table_name, key, kind, id, action, new, who, person, at, reason)
    SELECT made, TG_TABLE_NAME,
        CASE WHEN TG_NARGS = 3 THEN whole ->> TG_ARGV[2] ELSE row_key(whole, TG_ARGV) END,
        TG_ARGV[0], whole ->> TG_ARGV[1], 'added', whole,
        coalesce(nullif(current_setting('swarf.who', true), ''), 'sql:' || session_user),
        coalesce(current_setting('swarf.person', true), ''), at,
        coalesce(current_setting('swarf.reason', true), '')
    FROM (SELECT to_jsonb(n) AS whole FROM added AS n) AS rows;
    RETURN NULL;
END $$;
CREATE FUNCTION public.note_change() RETURNS trigger
    LANGUAGE plpgsql
    SET extra_float_digits TO '1'
    AS $$
DECLARE
    was jsonb;
    becomes jsonb;
    made bigint := next_revision();
BEGIN
    IF TG_OP <> 'INSERT' THEN
        was := to_jsonb(OLD);
    END IF;
    IF TG_OP <> 'DELETE' THEN
        becomes := to_jsonb(NEW);
    END IF;
    INSERT INTO changes (revision, table_name, key, kind, id, action, old, new, who, person, at, reason)
    SELECT made, TG_TABLE_NAME, row_key(coalesce(becomes, was), TG_ARGV), TG_ARGV[0],
        coalesce(becomes, was) ->> TG_ARGV[1],
        CASE TG_OP WHEN 'INSERT' THEN 'added' WHEN 'UPDATE' THEN 'changed' ELSE 'removed' END,
        was, becomes,
        coalesce(nullif(current_setting('swarf.who', true), ''), 'sql:' || session_user),
        coalesce(current_setting('swarf.person', true), ''),
        counter.at,
        coalesce(current_setting('swarf.reason', true), '')
    FROM data_revision AS counter;
    RETURN NULL;
END $$;
CREATE FUNCTION public.note_key() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
BEGIN
    INSERT INTO access_change (key_id, action, who, person, reason)
    VALUES (NEW.id,
        CASE WHEN TG_OP = 'INSERT' THEN 'made' WHEN OLD.revoked IS DISTINCT FROM NEW.revoked THEN 'revoked' ELSE 'rotated' END,
        coalesce(nullif(current_setting('swarf.who', true), ''), 'sql:' || session_user),
        coalesce(current_setting('swarf.person', true), ''),
        coalesce(current_setting('swarf.reason', true), ''));
    PERFORM pg_notify('swarf_keys', NEW.id);
    RETURN NULL;
END $$;
CREATE FUNCTION public.only_triggers_write() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
BEGIN
    IF pg_trigger_depth() < 2 THEN
        RAISE EXCEPTION 'changes is filled by the tables themselves'
            USING ERRCODE = 'restrict_violation', CONSTRAINT = 'history_is_never_invented', TABLE = TG_TABLE_NAME;
    END IF;
    RETURN NEW;
END $$;
CREATE FUNCTION public.only_upwards() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
BEGIN
    IF NEW.revision <> OLD.revision + 1 OR NEW.at < OLD.at THEN
        RAISE EXCEPTION 'the revision goes from % to %, not to %', OLD.revision, OLD.revision + 1, NEW.revision
            USING ERRCODE = 'restrict_violation', CONSTRAINT = 'revisions_go_up_by_one', TABLE = TG_TABLE_NAME;
    END IF;
    RETURN NEW;
END $$;
CREATE FUNCTION public.refuse_change() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
BEGIN
    RAISE EXCEPTION '% is refused on %: its rows are the history', TG_OP, TG_TABLE_NAME
        USING ERRCODE = 'restrict_violation', CONSTRAINT = 'history_is_never_rewritten', TABLE = TG_TABLE_NAME;
END $$;
CREATE FUNCTION public.row_key(whole jsonb, arguments text[]) RETURNS text
    LANGUAGE sql IMMUTABLE
    AS $$
    SELECT string_agg(whole ->> name, '|' ORDER BY place)
    FROM unnest(arguments) WITH ORDINALITY AS a (name, place)
    WHERE place > 2
$$;
CREATE FUNCTION public.seal_of(sealed bigint, before bytea) RETURNS bytea
    LANGUAGE sql STABLE
    AS $$
    SELECT sha256(coalesce(before, ''::bytea) || convert_to(sealed::text, 'UTF8')
        || coalesce(string_agg(change_hash(c), ''::bytea ORDER BY c.sequence), ''::bytea))
    FROM changes AS c WHERE c.revision = sealed
$$;
CREATE FUNCTION public.seal_revision() RETURNS trigger
    LANGUAGE plpgsql
    AS $$
BEGIN
    INSERT INTO seal (revision, hash)
    VALUES (NEW.revision, seal_of(NEW.revision, (SELECT hash FROM seal WHERE revision = NEW.revision - 1)));
    RETURN NULL;
END $$;
CREATE FUNCTION public.stamp_row() RETURNS trigger
    LANGUAGE plpgsql
    SET extra_float_digits TO '1'
    AS $$
BEGIN
    IF TG_OP = 'UPDATE' THEN
        IF row_key(to_jsonb(OLD), TG_ARGV) <> row_key(to_jsonb(NEW), TG_ARGV) THEN
            RAISE EXCEPTION 'the key of a row of % never changes', TG_TABLE_NAME
                USING ERRCODE = 'check_violation', CONSTRAINT = 'a_key_never_changes', TABLE = TG_TABLE_NAME;
        END IF;
        IF to_jsonb(NEW) - 'revision' - 'scope_material' = to_jsonb(OLD) - 'revision' - 'scope_material' THEN
            RETURN NULL;
        END IF;
    END IF;
    NEW.revision := next_revision();
    RETURN NEW;
END $$;
CREATE FUNCTION river.river_job_state_in_bitmask(bitmask bit, state river.river_job_state) RETURNS boolean
    LANGUAGE sql IMMUTABLE
    AS $$
    SELECT CASE state
        WHEN 'available' THEN get_bit(bitmask, 7)
        WHEN 'cancelled' THEN get_bit(bitmask, 6)
        WHEN 'completed' THEN get_bit(bitmask, 5)
        WHEN 'discarded' THEN get_bit(bitmask, 4)
        WHEN 'pending'   THEN get_bit(bitmask, 3)
        WHEN 'retryable' THEN get_bit(bitmask, 2)
        WHEN 'running'   THEN get_bit(bitmask, 1)
        WHEN 'scheduled' THEN get_bit(bitmask, 0)
        ELSE 0
    END = 1;
$$;
CREATE TABLE public.access_change (
    sequence bigint NOT NULL,
    key_id text NOT NULL,
    action text NOT NULL,
    who text NOT NULL,
    person text NOT NULL,
    at timestamp with time zone DEFAULT clock_timestamp() NOT NULL,
    reason text NOT NULL,
    CONSTRAINT a_key_is_made_rotated_or_revoked CHECK ((action = ANY (ARRAY['made'::text, 'rotated'::text, 'revoked'::text]))),
    CONSTRAINT somebody_changed_the_key CHECK ((who <> ''::text))
);
COMMENT ON TABLE public.access_change IS 'What became of keys, oldest first; never updated, never deleted from.';
ALTER TABLE public.access_change ALTER COLUMN sequence ADD GENERATED ALWAYS AS IDENTITY (
    SEQUENCE NAME public.access_change_sequence_seq
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1
);
CREATE TABLE public.access_key (
    id text NOT NULL,
    name text NOT NULL,
    view boolean NOT NULL,
    scopes text[] NOT NULL,
    digest bytea NOT NULL,
    digest_made timestamp with time zone NOT NULL,
    earlier_digest bytea,
    earlier_made timestamp with time zone,
    earlier_until timestamp with time zone,
    made timestamp with time zone DEFAULT clock_timestamp() NOT NULL,
    made_by text NOT NULL,
    expires timestamp with time zone,
    revoked timestamp with time zone,
    revoked_by text DEFAULT ''::text NOT NULL,
    CONSTRAINT a_digest_has_32_bytes CHECK ((length(digest) = 32)),
    CONSTRAINT a_key_has_a_name CHECK (((name <> ''::text) AND (length(name) <= 80))),
    CONSTRAINT a_view_token_only_reads_and_computes CHECK (((NOT view) OR (scopes <@ ARRAY['read'::text, 'compute'::text]))),
    CONSTRAINT an_earlier_digest_has_32_bytes CHECK ((length(earlier_digest) = 32)),
    CONSTRAINT an_earlier_secret_has_its_times CHECK ((num_nulls(earlier_digest, earlier_made, earlier_until) = ANY (ARRAY[0, 3]))),
    CONSTRAINT key_id_is_eight_letters_and_digits CHECK ((id ~ '^[a-z2-7]{8}$'::text)),
    CONSTRAINT revocation_names_who CHECK (((revoked IS NULL) = (revoked_by = ''::text))),
    CONSTRAINT scopes_are_known CHECK (((scopes <> '{}'::text[]) AND (scopes <@ ARRAY['read'::text, 'compute'::text, 'write'::text, 'approve'::text, 'admin'::text]))),
    CONSTRAINT somebody_made_the_key CHECK ((made_by <> ''::text))
);
COMMENT ON TABLE public.access_key IS 'Keys of callers. Secrets are not here, only SHA-256 digests of whole tokens; rows are never removed.';
CREATE TABLE public.access_use (
    key_id text NOT NULL,
    at timestamp with time zone NOT NULL
);
COMMENT ON TABLE public.access_use IS 'About when a key was last used; written by the minute, not by the request.';
ALTER TABLE public.changes ALTER COLUMN sequence ADD GENERATED ALWAYS AS IDENTITY (
    SEQUENCE NAME public.changes_sequence_seq
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1
);
CREATE TABLE public.curation (
    record_id text NOT NULL,
    record_kind text NOT NULL,
    scope_level text NOT NULL,
    scope_key text NOT NULL,
    state text NOT NULL,
    in_force boolean NOT NULL,
    author text NOT NULL,
    approver text NOT NULL,
    reason text NOT NULL,
    valid_from text NOT NULL,
    valid_to text NOT NULL,
    supersedes text NOT NULL,
    superseded_by text NOT NULL,
    safety boolean NOT NULL,
    lots integer NOT NULL,
    review_by text NOT NULL,
    past_review boolean NOT NULL,
    revision bigint NOT NULL,
    drift_ratio double precision,
    CONSTRAINT a_record_does_not_supersede_itself CHECK (((supersedes <> record_id) AND (superseded_by <> record_id))),
    CONSTRAINT a_record_has_an_author CHECK ((author <> ''::text)),
    CONSTRAINT approval_names_its_approver CHECK (((state <> 'approved'::text) OR (approver <> ''::text))),
    CONSTRAINT approval_says_from_when CHECK (((state <> 'approved'::text) OR (valid_from <> ''::text))),
    CONSTRAINT drift_is_positive CHECK (((drift_ratio > (0)::double precision) AND (drift_ratio < 'Infinity'::double precision))),
    CONSTRAINT end_of_validity_is_a_time_in_utc CHECK (((valid_to = ''::text) OR (valid_to ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$'::text))),
    CONSTRAINT kind_of_a_record_is_known CHECK ((record_kind = ANY (ARRAY['force'::text, 'starting'::text, 'life'::text]))),
    CONSTRAINT lots_are_counted CHECK ((lots >= 0)),
    CONSTRAINT nobody_approves_their_own_record CHECK ((lower(btrim(approver)) <> lower(btrim(author)))),
    CONSTRAINT only_approved_records_are_in_force CHECK (((NOT in_force) OR (state = 'approved'::text))),
    CONSTRAINT review_is_by_a_date CHECK (((review_by = ''::text) OR (review_by ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}$'::text))),
    CONSTRAINT safety_is_about_withdrawals CHECK (((NOT safety) OR (state = 'withdrawn'::text))),
    CONSTRAINT start_of_validity_is_a_time_in_utc CHECK (((valid_from = ''::text) OR (valid_from ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$'::text))),
    CONSTRAINT state_is_known CHECK ((state = ANY (ARRAY['draft'::text, 'approved'::text, 'superseded'::text, 'withdrawn'::text]))),
    CONSTRAINT validity_goes_from_low_to_high CHECK (((valid_to = ''::text) OR (valid_from <= valid_to)))
);
COMMENT ON TABLE public.curation IS 'The life of a record that a person wrote, or ended; a record without a row here is reference data in force.';
COMMENT ON COLUMN public.curation.valid_from IS 'Times and dates are ISO 8601 text, so that a row reads the same in every session.';
COMMENT ON COLUMN public.curation.drift_ratio IS 'Median of measured over expected since the record came into force, when it is more than 15 % off.';
CREATE TABLE public.data_revision (
    single boolean DEFAULT true NOT NULL,
    revision bigint NOT NULL,
    at timestamp with time zone NOT NULL,
    CONSTRAINT revisions_are_never_negative CHECK ((revision >= 0)),
    CONSTRAINT the_counter_is_never_false CHECK (single)
);
COMMENT ON TABLE public.data_revision IS 'The newest revision and when it was made; 0 before the first change.';
CREATE TABLE public.designation (
    material_id text NOT NULL,
    standard text NOT NULL,
    value text NOT NULL,
    "position" integer NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT a_designation_has_a_value CHECK ((value <> ''::text)),
    CONSTRAINT a_designation_names_its_standard CHECK (((standard <> ''::text) AND (standard !~ '[|]'::text))),
    CONSTRAINT designations_are_counted_from_one CHECK (("position" >= 1))
);
CREATE TABLE public.force_record (
    id text NOT NULL,
    scope_level text NOT NULL,
    scope_key text NOT NULL,
    scope_material text GENERATED ALWAYS AS (
CASE
    WHEN (scope_level = 'material'::text) THEN scope_key
    ELSE NULL::text
END) STORED,
    condition text NOT NULL,
    process text NOT NULL,
    method text NOT NULL,
    family text NOT NULL,
    specific_cutting_force_1_1_n_per_mm2 double precision,
    chip_thickness_exp double precision,
    feed_force_1_1_n_per_mm2 double precision,
    feed_force_exp double precision,
    passive_force_1_1_n_per_mm2 double precision,
    passive_force_exp double precision,
    reference_rake_deg double precision,
    energy_j_per_mm3 double precision,
    energy_thickness_mm double precision,
    energy_thickness_exp double precision,
    drill_work_factor_ratio double precision,
    valid_chip_thickness_low_mm double precision,
    valid_chip_thickness_high_mm double precision,
    valid_hardness_low_hbw double precision,
    valid_hardness_high_hbw double precision,
    valid_speed_low_m_per_min double precision,
    valid_speed_high_m_per_min double precision,
    spread_ratio double precision,
    rank integer NOT NULL,
    basis text NOT NULL,
    source_id text NOT NULL,
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT basis_is_known CHECK ((basis = ANY (ARRAY['published'::text, 'recalled'::text, 'common-practice'::text, 'shop'::text, 'derived'::text, 'demo'::text]))),
    CONSTRAINT chip_thickness_exponent_is_from_zero_to_below_one CHECK (((chip_thickness_exp >= (0)::double precision) AND (chip_thickness_exp < (1)::double precision))),
    CONSTRAINT drill_handbook_needs_its_factor CHECK (((method <> 'drill-handbook'::text) OR (drill_work_factor_ratio IS NOT NULL))),
    CONSTRAINT drill_work_factor_is_positive CHECK (((drill_work_factor_ratio > (0)::double precision) AND (drill_work_factor_ratio < 'Infinity'::double precision))),
    CONSTRAINT energy_exponent_is_from_zero_to_below_one CHECK (((energy_thickness_exp >= (0)::double precision) AND (energy_thickness_exp < (1)::double precision))),
    CONSTRAINT feed_force_exponent_is_between_minus_and_plus_two CHECK (((feed_force_exp > ('-2'::integer)::double precision) AND (feed_force_exp < (2)::double precision))),
    CONSTRAINT force_record_id_is_lower_case CHECK ((id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'::text)),
    CONSTRAINT highest_valid_chip_thickness_is_positive CHECK (((valid_chip_thickness_high_mm > (0)::double precision) AND (valid_chip_thickness_high_mm < 'Infinity'::double precision))),
    CONSTRAINT highest_valid_hardness_is_positive CHECK (((valid_hardness_high_hbw > (0)::double precision) AND (valid_hardness_high_hbw < 'Infinity'::double precision))),
    CONSTRAINT highest_valid_speed_is_positive CHECK (((valid_speed_high_m_per_min > (0)::double precision) AND (valid_speed_high_m_per_min < 'Infinity'::double precision))),
    CONSTRAINT kienzle_needs_its_pair CHECK (((method <> 'kienzle'::text) OR ((specific_cutting_force_1_1_n_per_mm2 IS NOT NULL) AND (chip_thickness_exp IS NOT NULL)))),
    CONSTRAINT lowest_valid_chip_thickness_is_never_negative CHECK (((valid_chip_thickness_low_mm >= (0)::double precision) AND (valid_chip_thickness_low_mm < 'Infinity'::double precision))),
    CONSTRAINT lowest_valid_hardness_is_never_negative CHECK (((valid_hardness_low_hbw >= (0)::double precision) AND (valid_hardness_low_hbw < 'Infinity'::double precision))),
    CONSTRAINT lowest_valid_speed_is_never_negative CHECK (((valid_speed_low_m_per_min >= (0)::double precision) AND (valid_speed_low_m_per_min < 'Infinity'::double precision))),
    CONSTRAINT method_is_known CHECK ((method = ANY (ARRAY['kienzle'::text, 'unit-power'::text, 'drill-handbook'::text]))),
    CONSTRAINT passive_force_exponent_is_between_minus_and_plus_two CHECK (((passive_force_exp > ('-2'::integer)::double precision) AND (passive_force_exp < (2)::double precision))),
    CONSTRAINT process_was_measured_or_general CHECK ((process = ANY (ARRAY['turning'::text, 'milling'::text, 'drilling'::text, 'general'::text]))),
    CONSTRAINT published_says_where CHECK (((basis <> 'published'::text) OR (place <> ''::text))),
    CONSTRAINT reference_rake_is_below_a_right_angle CHECK (((reference_rake_deg > ('-90'::integer)::double precision) AND (reference_rake_deg < (90)::double precision))),
    CONSTRAINT scope_is_a_grade_a_subgroup_or_a_group CHECK ((scope_level = ANY (ARRAY['material'::text, 'subgroup'::text, 'group'::text]))),
    CONSTRAINT scope_key_fits_its_level CHECK (((scope_level = 'material'::text) OR ((scope_level = 'subgroup'::text) AND (scope_key ~ '^[PMKNSHO]/[a-z]+(-[a-z]+)*$'::text)) OR ((scope_level = 'group'::text) AND (scope_key ~ '^[PMKNSHO]$'::text)))),
    CONSTRAINT specific_cutting_force_is_positive CHECK (((specific_cutting_force_1_1_n_per_mm2 > (0)::double precision) AND (specific_cutting_force_1_1_n_per_mm2 < 'Infinity'::double precision))),
    CONSTRAINT specific_energy_is_positive CHECK (((energy_j_per_mm3 > (0)::double precision) AND (energy_j_per_mm3 < 'Infinity'::double precision))),
    CONSTRAINT specific_feed_force_is_positive CHECK (((feed_force_1_1_n_per_mm2 > (0)::double precision) AND (feed_force_1_1_n_per_mm2 < 'Infinity'::double precision))),
    CONSTRAINT specific_passive_force_is_positive CHECK (((passive_force_1_1_n_per_mm2 > (0)::double precision) AND (passive_force_1_1_n_per_mm2 < 'Infinity'::double precision))),
    CONSTRAINT spread_is_positive CHECK (((spread_ratio > (0)::double precision) AND (spread_ratio < 'Infinity'::double precision))),
    CONSTRAINT thickness_of_the_energy_is_positive CHECK (((energy_thickness_mm > (0)::double precision) AND (energy_thickness_mm < 'Infinity'::double precision))),
    CONSTRAINT unit_power_needs_its_energy CHECK (((method <> 'unit-power'::text) OR (energy_j_per_mm3 IS NOT NULL))),
    CONSTRAINT valid_chip_thickness_goes_from_low_to_high CHECK ((valid_chip_thickness_low_mm <= valid_chip_thickness_high_mm)),
    CONSTRAINT valid_hardness_goes_from_low_to_high CHECK ((valid_hardness_low_hbw <= valid_hardness_high_hbw)),
    CONSTRAINT valid_speed_goes_from_low_to_high CHECK ((valid_speed_low_m_per_min <= valid_speed_high_m_per_min))
);
CREATE TABLE public.hardness_row (
    "position" integer NOT NULL,
    hv double precision,
    hbw double precision,
    hrc double precision,
    hrb double precision,
    tensile_strength_n_per_mm2 double precision,
    source_id text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT a_hardness_row_relates_two_numbers CHECK ((num_nonnulls(hv, hbw, hrc, hrb, tensile_strength_n_per_mm2) >= 2)),
    CONSTRAINT brinell_hardness_is_positive CHECK (((hbw > (0)::double precision) AND (hbw < 'Infinity'::double precision))),
    CONSTRAINT hardness_rows_are_counted_from_one CHECK (("position" >= 1)),
    CONSTRAINT rockwell_b_hardness_is_positive CHECK (((hrb > (0)::double precision) AND (hrb < 'Infinity'::double precision))),
    CONSTRAINT rockwell_c_hardness_is_positive CHECK (((hrc > (0)::double precision) AND (hrc < 'Infinity'::double precision))),
    CONSTRAINT tensile_strength_is_positive CHECK (((tensile_strength_n_per_mm2 > (0)::double precision) AND (tensile_strength_n_per_mm2 < 'Infinity'::double precision))),
    CONSTRAINT vickers_hardness_is_positive CHECK (((hv > (0)::double precision) AND (hv < 'Infinity'::double precision)))
);
CREATE TABLE public.imported (
    kind text NOT NULL,
    id text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT an_import_has_its_revision CHECK ((revision >= 1)),
    CONSTRAINT what_is_imported_has_an_id CHECK ((id <> ''::text)),
    CONSTRAINT what_is_imported_is_a_source_a_grade_or_a_class CHECK ((kind = ANY (ARRAY['source'::text, 'material'::text, 'tool-class'::text])))
);
COMMENT ON TABLE public.imported IS 'Nouns that a shop imported, and in which revision first; loading the reference data leaves them alone.';
CREATE TABLE public.job (
    id bigint NOT NULL,
    route text NOT NULL,
    units text NOT NULL,
    query text NOT NULL,
    body bytea NOT NULL,
    items integer NOT NULL,
    done integer DEFAULT 0 NOT NULL,
    state text DEFAULT 'waiting'::text NOT NULL,
    why text DEFAULT ''::text NOT NULL,
    who text NOT NULL,
    revision bigint NOT NULL,
    created_at timestamp with time zone DEFAULT clock_timestamp() NOT NULL,
    ended_at timestamp with time zone,
    CONSTRAINT a_job_has_items CHECK ((items >= 1)),
    CONSTRAINT a_job_is_for_a_route CHECK ((route ~~ '/v1/%'::text)),
    CONSTRAINT a_job_is_of_a_revision CHECK ((revision >= 1)),
    CONSTRAINT finished_means_all CHECK (((state <> 'finished'::text) OR (done = items))),
    CONSTRAINT no_more_is_done_than_there_is CHECK (((done >= 0) AND (done <= items))),
    CONSTRAINT somebody_asked_for_the_job CHECK ((who <> ''::text)),
    CONSTRAINT state_of_a_job_is_known CHECK ((state = ANY (ARRAY['waiting'::text, 'running'::text, 'finished'::text, 'failed'::text, 'cancelled'::text]))),
    CONSTRAINT units_of_a_job_are_known CHECK ((units = ANY (ARRAY['metric'::text, 'inch'::text]))),
    CONSTRAINT what_ended_says_when CHECK (((state = ANY (ARRAY['finished'::text, 'failed'::text, 'cancelled'::text])) = (ended_at IS NOT NULL)))
);
ALTER TABLE public.job ALTER COLUMN id ADD GENERATED ALWAYS AS IDENTITY (
    SEQUENCE NAME public.job_id_seq
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1
);
CREATE TABLE public.job_part (
    job_id bigint NOT NULL,
    from_item integer NOT NULL,
    lines bytea NOT NULL,
    CONSTRAINT parts_begin_at_an_item CHECK ((from_item >= 0))
);
CREATE TABLE public.kept_answer (
    caller text NOT NULL,
    key text NOT NULL,
    fingerprint bytea NOT NULL,
    at timestamp with time zone DEFAULT clock_timestamp() NOT NULL,
    status integer NOT NULL,
    header jsonb NOT NULL,
    body bytea NOT NULL,
    CONSTRAINT a_fingerprint_has_32_bytes CHECK ((length(fingerprint) = 32)),
    CONSTRAINT an_idempotency_key_has_1_to_255_characters CHECK (((length(key) >= 1) AND (length(key) <= 255))),
    CONSTRAINT header_fields_are_an_object CHECK ((jsonb_typeof(header) = 'object'::text)),
    CONSTRAINT no_fault_of_ours_is_kept CHECK (((status >= 200) AND (status <= 499)))
);
COMMENT ON TABLE public.kept_answer IS 'Answers to repeat; caller is the id of a key, empty without one. Rows go when their time is over.';
CREATE TABLE public.life_record (
    id text NOT NULL,
    scope_level text NOT NULL,
    scope_key text NOT NULL,
    scope_material text GENERATED ALWAYS AS (
CASE
    WHEN (scope_level = 'material'::text) THEN scope_key
    ELSE NULL::text
END) STORED,
    tool_material text NOT NULL,
    taylor_exp double precision,
    taylor_speed_m_per_min double precision,
    criterion text NOT NULL,
    basis text NOT NULL,
    source_id text NOT NULL,
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    process text DEFAULT 'turning'::text NOT NULL,
    feed_exp double precision,
    depth_exp double precision,
    reference_feed_mm double precision,
    reference_depth_mm double precision,
    CONSTRAINT basis_is_known CHECK ((basis = ANY (ARRAY['published'::text, 'recalled'::text, 'common-practice'::text, 'shop'::text, 'derived'::text, 'demo'::text]))),
    CONSTRAINT depth_exponent_of_a_life_is_from_zero_to_below_two CHECK (((depth_exp >= (0)::double precision) AND (depth_exp < (2)::double precision))),
    CONSTRAINT exponents_of_a_life_have_their_reference CHECK ((((feed_exp IS NULL) OR (reference_feed_mm IS NOT NULL)) AND ((depth_exp IS NULL) OR (reference_depth_mm IS NOT NULL)))),
    CONSTRAINT feed_exponent_of_a_life_is_from_zero_to_below_two CHECK (((feed_exp >= (0)::double precision) AND (feed_exp < (2)::double precision))),
    CONSTRAINT life_record_id_is_lower_case CHECK ((id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'::text)),
    CONSTRAINT process_of_a_life_is_known CHECK ((process = ANY (ARRAY['turning'::text, 'milling'::text, 'drilling'::text, 'general'::text]))),
    CONSTRAINT published_says_where CHECK (((basis <> 'published'::text) OR (place <> ''::text))),
    CONSTRAINT reference_depth_is_positive CHECK (((reference_depth_mm > (0)::double precision) AND (reference_depth_mm < 'Infinity'::double precision))),
    CONSTRAINT reference_feed_is_positive CHECK (((reference_feed_mm > (0)::double precision) AND (reference_feed_mm < 'Infinity'::double precision))),
    CONSTRAINT scope_is_a_grade_a_subgroup_or_a_group CHECK ((scope_level = ANY (ARRAY['material'::text, 'subgroup'::text, 'group'::text]))),
    CONSTRAINT scope_key_fits_its_level CHECK (((scope_level = 'material'::text) OR ((scope_level = 'subgroup'::text) AND (scope_key ~ '^[PMKNSHO]/[a-z]+(-[a-z]+)*$'::text)) OR ((scope_level = 'group'::text) AND (scope_key ~ '^[PMKNSHO]$'::text)))),
    CONSTRAINT taylor_exponent_is_above_zero_and_below_two CHECK (((taylor_exp > (0)::double precision) AND (taylor_exp < (2)::double precision))),
    CONSTRAINT taylor_speed_is_positive CHECK (((taylor_speed_m_per_min > (0)::double precision) AND (taylor_speed_m_per_min < 'Infinity'::double precision)))
);
CREATE TABLE public.machine (
    id text NOT NULL,
    name text NOT NULL,
    process text NOT NULL,
    max_speed_per_min double precision NOT NULL,
    efficiency_ratio double precision NOT NULL,
    idle_power_kw double precision NOT NULL,
    gears jsonb NOT NULL,
    max_feed_rate_mm_per_min double precision,
    max_feed_force_n double precision,
    acceleration_m_per_s2 double precision,
    rapid_rate_mm_per_min double precision,
    coolant_deliveries text[],
    through_tool_pressure_bar double precision,
    synchronous_tapping boolean,
    tool_change_seconds double precision,
    meter jsonb,
    work_holding jsonb,
    basis text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    max_arc_feed_rate_mm_per_min double precision,
    CONSTRAINT a_duty_has_a_share_and_a_cycle CHECK ((NOT jsonb_path_exists(gears, '$[*]."ratings"[*]."duty"?(!(((@."percent" >= 0 && @."percent" <= 100) && @."cycle_minutes" >= 0) && @."cycle_minutes" < 1000000000))'::jsonpath))),
    CONSTRAINT a_gear_has_a_continuous_rating CHECK (jsonb_path_exists(gears, '$[*]."ratings"[*]?(@."duty"."type" == "S1")'::jsonpath)),
    CONSTRAINT a_rating_has_a_duty_type CHECK ((NOT jsonb_path_exists(gears, '$[*]."ratings"[*]?(!(((@."duty"."type" == "S1" || @."duty"."type" == "S2") || @."duty"."type" == "S3") || @."duty"."type" == "S6"))'::jsonpath))),
    CONSTRAINT a_rating_is_a_positive_pair_or_points CHECK ((NOT jsonb_path_exists(gears, '$[*]."ratings"[*]?(!(((@."power_kw" > 0 && @."power_kw" < 1000000000) && @."torque_nm" > 0) && @."torque_nm" < 1000000000) && !(exists (@."points"[*])))'::jsonpath))),
    CONSTRAINT acceleration_is_positive CHECK (((acceleration_m_per_s2 > (0)::double precision) AND (acceleration_m_per_s2 < 'Infinity'::double precision))),
    CONSTRAINT efficiency_is_above_zero_up_to_one CHECK (((efficiency_ratio > (0)::double precision) AND (efficiency_ratio <= (1)::double precision))),
    CONSTRAINT every_gear_has_a_rating CHECK ((NOT jsonb_path_exists(gears, '$[*]?(!(exists (@."ratings"[*])))'::jsonpath))),
    CONSTRAINT every_number_of_a_gear_is_one CHECK ((NOT jsonb_path_exists(gears, '$.**?(@.type() == "object").keyvalue()?((@."key" != "name" && @."key" != "type") && ((@."value".type() == "string" || @."value".type() == "boolean") || @."value".type() == "null"))'::jsonpath))),
    CONSTRAINT every_number_of_work_holding_is_one CHECK ((NOT jsonb_path_exists(work_holding, '$?(@.type() == "object").keyvalue()?((@."key" != "kind" && @."key" != "catcher") && @."value".type() != "number")'::jsonpath))),
    CONSTRAINT gear_speeds_are_in_order CHECK ((NOT jsonb_path_exists(gears, '$[*]?(!((@."min_speed_per_min" >= 0 && @."max_speed_per_min" > @."min_speed_per_min") && @."max_speed_per_min" < 1000000000))'::jsonpath))),
    CONSTRAINT gears_are_a_list CHECK ((jsonb_typeof(gears) = 'array'::text)),
    CONSTRAINT idle_power_is_never_negative CHECK (((idle_power_kw >= (0)::double precision) AND (idle_power_kw < 'Infinity'::double precision))),
    CONSTRAINT machine_basis_is_known CHECK ((basis = ANY (ARRAY['published'::text, 'recalled'::text, 'common-practice'::text, 'shop'::text, 'derived'::text, 'demo'::text]))),
    CONSTRAINT machine_id_is_letters_digits_and_marks CHECK ((id ~ '^[A-Za-z0-9][A-Za-z0-9._~-]{0,127}$'::text)),
    CONSTRAINT maximum_feed_force_is_positive CHECK (((max_feed_force_n > (0)::double precision) AND (max_feed_force_n < 'Infinity'::double precision))),
    CONSTRAINT maximum_feed_rate_is_positive CHECK (((max_feed_rate_mm_per_min > (0)::double precision) AND (max_feed_rate_mm_per_min < 'Infinity'::double precision))),
    CONSTRAINT maximum_feed_rate_on_arcs_is_positive CHECK (((max_arc_feed_rate_mm_per_min > (0)::double precision) AND (max_arc_feed_rate_mm_per_min < 'Infinity'::double precision))),
    CONSTRAINT maximum_speed_is_positive CHECK (((max_speed_per_min > (0)::double precision) AND (max_speed_per_min < 'Infinity'::double precision))),
    CONSTRAINT meter_is_a_document CHECK ((jsonb_typeof(meter) = 'object'::text)),
    CONSTRAINT points_of_a_rating_are_positive CHECK ((NOT jsonb_path_exists(gears, '$[*]."ratings"[*]."points"[*]?(!(((@."speed_per_min" > 0 && @."speed_per_min" < 1000000000) && @."power_kw" > 0) && @."power_kw" < 1000000000))'::jsonpath))),
    CONSTRAINT power_and_torque_are_never_negative CHECK ((NOT jsonb_path_exists(gears, '$[*]."ratings"[*]?(!(((@."power_kw" >= 0 && @."power_kw" < 1000000000) && @."torque_nm" >= 0) && @."torque_nm" < 1000000000))'::jsonpath))),
    CONSTRAINT process_is_milling_or_turning CHECK ((process = ANY (ARRAY['milling'::text, 'turning'::text]))),
    CONSTRAINT rapid_rate_is_positive CHECK (((rapid_rate_mm_per_min > (0)::double precision) AND (rapid_rate_mm_per_min < 'Infinity'::double precision))),
    CONSTRAINT through_tool_pressure_is_never_negative CHECK (((through_tool_pressure_bar >= (0)::double precision) AND (through_tool_pressure_bar < 'Infinity'::double precision))),
    CONSTRAINT tool_change_time_is_never_negative CHECK (((tool_change_seconds >= (0)::double precision) AND (tool_change_seconds < 'Infinity'::double precision))),
    CONSTRAINT work_holding_is_a_document CHECK ((jsonb_typeof(work_holding) = 'object'::text)),
    CONSTRAINT work_holding_numbers_are_never_negative CHECK ((NOT jsonb_path_exists(work_holding, '$.*?(@.type() == "number" && (@ < 0 || @ >= 1000000000))'::jsonpath)))
);
CREATE TABLE public.material (
    id text NOT NULL,
    name text NOT NULL,
    iso_group text NOT NULL,
    subgroup text NOT NULL,
    minimum_chip_ground_edge_mm double precision,
    minimum_chip_honed_insert_mm double precision,
    cautions text[] NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT a_material_has_a_name CHECK ((name <> ''::text)),
    CONSTRAINT group_is_a_letter_of_iso_513_or_o CHECK ((iso_group = ANY (ARRAY['P'::text, 'M'::text, 'K'::text, 'N'::text, 'S'::text, 'H'::text, 'O'::text]))),
    CONSTRAINT material_id_is_lower_case CHECK ((id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'::text)),
    CONSTRAINT minimum_chip_of_a_ground_edge_is_positive CHECK (((minimum_chip_ground_edge_mm > (0)::double precision) AND (minimum_chip_ground_edge_mm < 'Infinity'::double precision))),
    CONSTRAINT minimum_chip_of_a_honed_insert_is_positive CHECK (((minimum_chip_honed_insert_mm > (0)::double precision) AND (minimum_chip_honed_insert_mm < 'Infinity'::double precision)))
);
CREATE TABLE public.material_condition (
    material_id text NOT NULL,
    name text NOT NULL,
    "position" integer NOT NULL,
    hardness_low double precision,
    hardness_high double precision,
    hardness_scale text NOT NULL,
    record_id text NOT NULL,
    basis text NOT NULL,
    source_id text NOT NULL,
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT a_condition_has_a_name CHECK ((name <> ''::text)),
    CONSTRAINT basis_is_known CHECK ((basis = ANY (ARRAY['published'::text, 'recalled'::text, 'common-practice'::text, 'shop'::text, 'derived'::text, 'demo'::text]))),
    CONSTRAINT conditions_are_counted_from_one CHECK (("position" >= 1)),
    CONSTRAINT hardness_goes_from_low_to_high CHECK ((hardness_low <= hardness_high)),
    CONSTRAINT hardness_has_a_scale CHECK (((hardness_scale <> ''::text) OR ((hardness_low IS NULL) AND (hardness_high IS NULL)))),
    CONSTRAINT hardness_scale_is_known_or_empty CHECK ((hardness_scale = ANY (ARRAY[''::text, 'HBW'::text, 'HRC'::text, 'HRB'::text, 'HV'::text]))),
    CONSTRAINT highest_hardness_is_positive CHECK (((hardness_high > (0)::double precision) AND (hardness_high < 'Infinity'::double precision))),
    CONSTRAINT lowest_hardness_is_positive CHECK (((hardness_low > (0)::double precision) AND (hardness_low < 'Infinity'::double precision))),
    CONSTRAINT published_says_where CHECK (((basis <> 'published'::text) OR (place <> ''::text)))
);
CREATE TABLE public.observation (
    id bigint NOT NULL,
    received timestamp with time zone DEFAULT clock_timestamp() NOT NULL,
    at text NOT NULL,
    who text NOT NULL,
    kind text NOT NULL,
    state text NOT NULL,
    reasons text[] NOT NULL,
    material_id text NOT NULL,
    process text NOT NULL,
    tool_material text NOT NULL,
    machine_id text NOT NULL,
    lot text NOT NULL,
    edge text NOT NULL,
    record_id text NOT NULL,
    force_exp double precision,
    thickness_exp double precision,
    wear_ratio double precision,
    expected_ratio double precision,
    speed_m_per_min double precision,
    feed_mm double precision,
    depth_mm double precision,
    minutes double precision,
    failed boolean NOT NULL,
    document jsonb NOT NULL,
    CONSTRAINT an_observation_counts_or_is_set_aside CHECK ((state = ANY (ARRAY['accepted'::text, 'set-aside'::text]))),
    CONSTRAINT an_observation_is_a_document CHECK ((jsonb_typeof(document) = 'object'::text)),
    CONSTRAINT force_constant_is_finite CHECK ((abs(force_exp) < 'Infinity'::double precision)),
    CONSTRAINT kind_of_an_observation_is_known CHECK ((kind = ANY (ARRAY['load'::text, 'edge'::text, 'surface'::text]))),
    CONSTRAINT measured_over_expected_is_positive CHECK (((expected_ratio > (0)::double precision) AND (expected_ratio < 'Infinity'::double precision))),
    CONSTRAINT observed_depth_is_positive CHECK (((depth_mm > (0)::double precision) AND (depth_mm < 'Infinity'::double precision))),
    CONSTRAINT observed_feed_is_positive CHECK (((feed_mm > (0)::double precision) AND (feed_mm < 'Infinity'::double precision))),
    CONSTRAINT observed_minutes_are_positive CHECK (((minutes > (0)::double precision) AND (minutes < 'Infinity'::double precision))),
    CONSTRAINT observed_speed_is_positive CHECK (((speed_m_per_min > (0)::double precision) AND (speed_m_per_min < 'Infinity'::double precision))),
    CONSTRAINT share_of_life_is_never_negative CHECK (((wear_ratio >= (0)::double precision) AND (wear_ratio < 'Infinity'::double precision))),
    CONSTRAINT somebody_observed CHECK ((who <> ''::text)),
    CONSTRAINT thickness_is_finite CHECK ((abs(thickness_exp) < 'Infinity'::double precision))
);
COMMENT ON TABLE public.observation IS 'Measured loads, edges and surfaces with what they say of the metal; nothing here serves until a person approves what was fitted to it.';
ALTER TABLE public.observation ALTER COLUMN id ADD GENERATED ALWAYS AS IDENTITY (
    SEQUENCE NAME public.observation_id_seq
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1
);
CREATE TABLE public.physical_property (
    material_id text NOT NULL,
    "position" integer NOT NULL,
    name text NOT NULL,
    quantity text NOT NULL,
    value double precision NOT NULL,
    record_id text NOT NULL,
    basis text NOT NULL,
    source_id text NOT NULL,
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT a_property_has_a_name CHECK ((name <> ''::text)),
    CONSTRAINT basis_is_known CHECK ((basis = ANY (ARRAY['published'::text, 'recalled'::text, 'common-practice'::text, 'shop'::text, 'derived'::text, 'demo'::text]))),
    CONSTRAINT properties_are_counted_from_one CHECK (("position" >= 1)),
    CONSTRAINT published_says_where CHECK (((basis <> 'published'::text) OR (place <> ''::text))),
    CONSTRAINT quantity_of_a_property_is_known CHECK ((quantity = ANY (ARRAY['none'::text, 'length'::text, 'speed'::text, 'feed-rate'::text, 'rotation'::text, 'force'::text, 'torque'::text, 'power'::text, 'removal-rate'::text, 'specific-force'::text, 'specific-energy'::text, 'roughness'::text, 'pressure'::text, 'modulus'::text, 'mass'::text, 'temperature'::text, 'angle'::text, 'time'::text, 'acceleration'::text, 'density'::text, 'conductivity'::text, 'specific-heat'::text, 'expansion'::text, 'seconds'::text, 'angle-per-length'::text, 'angle-rate'::text]))),
    CONSTRAINT value_of_a_property_is_positive CHECK (((value > (0)::double precision) AND (value < 'Infinity'::double precision)))
);
CREATE TABLE public.schema_applied (
    version bigint NOT NULL,
    at timestamp with time zone DEFAULT now() NOT NULL
);
COMMENT ON TABLE public.schema_applied IS 'Written by every migration inside its own transaction: proof that it was committed.';
CREATE TABLE public.schema_migrations (
    version bigint NOT NULL,
    dirty boolean NOT NULL
);
CREATE TABLE public.seal (
    revision bigint NOT NULL,
    hash bytea NOT NULL,
    CONSTRAINT a_seal_is_a_sha256 CHECK ((octet_length(hash) = 32)),
    CONSTRAINT seals_begin_at_revision_one CHECK ((revision >= 1))
);
CREATE TABLE public.source (
    id text NOT NULL,
    author text NOT NULL,
    title text NOT NULL,
    year text NOT NULL,
    place text NOT NULL,
    address text NOT NULL,
    kind text NOT NULL,
    access text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    reviewed text DEFAULT ''::text NOT NULL,
    CONSTRAINT a_source_has_a_title CHECK ((title <> ''::text)),
    CONSTRAINT a_source_is_of_some_kind CHECK ((kind <> ''::text)),
    CONSTRAINT a_source_is_reviewed_on_a_day CHECK ((reviewed ~ '^([0-9]{4}-[0-9]{2}-[0-9]{2})?$'::text)),
    CONSTRAINT source_id_is_lower_case CHECK ((id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'::text))
);
CREATE TABLE public.starting_record (
    id text NOT NULL,
    scope_level text NOT NULL,
    scope_key text NOT NULL,
    scope_material text GENERATED ALWAYS AS (
CASE
    WHEN (scope_level = 'material'::text) THEN scope_key
    ELSE NULL::text
END) STORED,
    condition text NOT NULL,
    operations text[] NOT NULL,
    tool_classes text[] NOT NULL,
    tool_material text NOT NULL,
    kind text NOT NULL,
    speed_low_m_per_min double precision,
    speed_high_m_per_min double precision,
    feed_kind text NOT NULL,
    feed_low_mm double precision,
    feed_high_mm double precision,
    feed_low_diameter_ratio double precision,
    feed_high_diameter_ratio double precision,
    valid_hardness_low_hbw double precision,
    valid_hardness_high_hbw double precision,
    depth_mm double precision,
    rank integer NOT NULL,
    basis text NOT NULL,
    source_id text NOT NULL,
    place text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT a_starting_record_serves_an_operation CHECK ((cardinality(operations) > 0)),
    CONSTRAINT basis_is_known CHECK ((basis = ANY (ARRAY['published'::text, 'recalled'::text, 'common-practice'::text, 'shop'::text, 'derived'::text, 'demo'::text]))),
    CONSTRAINT depth_of_the_record_is_positive CHECK (((depth_mm > (0)::double precision) AND (depth_mm < 'Infinity'::double precision))),
    CONSTRAINT feed_fits_its_kind CHECK ((((feed_kind ~~ 'per-%'::text) OR ((feed_low_mm IS NULL) AND (feed_high_mm IS NULL))) AND ((feed_kind ~~ 'diameter-%'::text) OR ((feed_low_diameter_ratio IS NULL) AND (feed_high_diameter_ratio IS NULL))))),
    CONSTRAINT feed_kind_is_known_or_empty CHECK ((feed_kind = ANY (ARRAY[''::text, 'per-revolution'::text, 'per-tooth'::text, 'diameter-fraction-per-revolution'::text, 'diameter-fraction-per-tooth'::text]))),
    CONSTRAINT highest_starting_feed_is_positive CHECK (((feed_high_mm > (0)::double precision) AND (feed_high_mm < 'Infinity'::double precision))),
    CONSTRAINT highest_starting_feed_ratio_is_positive CHECK (((feed_high_diameter_ratio > (0)::double precision) AND (feed_high_diameter_ratio < 'Infinity'::double precision))),
    CONSTRAINT highest_starting_speed_is_positive CHECK (((speed_high_m_per_min > (0)::double precision) AND (speed_high_m_per_min < 'Infinity'::double precision))),
    CONSTRAINT highest_valid_hardness_is_positive CHECK (((valid_hardness_high_hbw > (0)::double precision) AND (valid_hardness_high_hbw < 'Infinity'::double precision))),
    CONSTRAINT lowest_starting_feed_is_never_negative CHECK (((feed_low_mm >= (0)::double precision) AND (feed_low_mm < 'Infinity'::double precision))),
    CONSTRAINT lowest_starting_feed_ratio_is_never_negative CHECK (((feed_low_diameter_ratio >= (0)::double precision) AND (feed_low_diameter_ratio < 'Infinity'::double precision))),
    CONSTRAINT lowest_starting_speed_is_never_negative CHECK (((speed_low_m_per_min >= (0)::double precision) AND (speed_low_m_per_min < 'Infinity'::double precision))),
    CONSTRAINT lowest_valid_hardness_is_never_negative CHECK (((valid_hardness_low_hbw >= (0)::double precision) AND (valid_hardness_low_hbw < 'Infinity'::double precision))),
    CONSTRAINT published_says_where CHECK (((basis <> 'published'::text) OR (place <> ''::text))),
    CONSTRAINT scope_is_a_grade_a_subgroup_or_a_group CHECK ((scope_level = ANY (ARRAY['material'::text, 'subgroup'::text, 'group'::text]))),
    CONSTRAINT scope_key_fits_its_level CHECK (((scope_level = 'material'::text) OR ((scope_level = 'subgroup'::text) AND (scope_key ~ '^[PMKNSHO]/[a-z]+(-[a-z]+)*$'::text)) OR ((scope_level = 'group'::text) AND (scope_key ~ '^[PMKNSHO]$'::text)))),
    CONSTRAINT starting_feed_goes_from_low_to_high CHECK ((feed_low_mm <= feed_high_mm)),
    CONSTRAINT starting_feed_ratio_goes_from_low_to_high CHECK ((feed_low_diameter_ratio <= feed_high_diameter_ratio)),
    CONSTRAINT starting_record_id_is_lower_case CHECK ((id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'::text)),
    CONSTRAINT starting_speed_goes_from_low_to_high CHECK ((speed_low_m_per_min <= speed_high_m_per_min)),
    CONSTRAINT valid_hardness_goes_from_low_to_high CHECK ((valid_hardness_low_hbw <= valid_hardness_high_hbw))
);
CREATE TABLE public.stored_cut (
    id text NOT NULL,
    request jsonb NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT a_cut_is_a_document CHECK ((jsonb_typeof(request) = 'object'::text)),
    CONSTRAINT cut_id_is_letters_digits_and_marks CHECK ((id ~ '^[A-Za-z0-9][A-Za-z0-9._~-]{0,127}$'::text))
);
COMMENT ON TABLE public.stored_cut IS 'Cuts as they were asked, to show what a change of data would do to them.';
CREATE TABLE public.tool_class (
    id text NOT NULL,
    name text NOT NULL,
    operations text[] NOT NULL,
    edge text NOT NULL,
    tool_material text NOT NULL,
    note text NOT NULL,
    revision bigint NOT NULL,
    CONSTRAINT a_tool_class_does_an_operation CHECK ((cardinality(operations) > 0)),
    CONSTRAINT a_tool_class_has_a_name CHECK ((name <> ''::text)),
    CONSTRAINT edge_is_ground_or_honed_or_none CHECK ((edge = ANY (ARRAY['ground'::text, 'honed'::text, ''::text]))),
    CONSTRAINT tool_class_id_is_lower_case CHECK ((id ~ '^[a-z0-9]+([.-][a-z0-9]+)*$'::text))
);
CREATE TABLE public.tool_property (
    class_id text NOT NULL,
    name text NOT NULL,
    "position" integer NOT NULL,
    code text NOT NULL,
    quantity text NOT NULL,
    default_value double precision,
    low_value double precision,
    high_value double precision,
    revision bigint NOT NULL,
    CONSTRAINT a_tool_property_has_a_name CHECK ((name <> ''::text)),
    CONSTRAINT default_lies_in_its_range CHECK (((low_value <= default_value) AND (default_value <= high_value))),
    CONSTRAINT default_value_is_finite CHECK (((default_value > '-Infinity'::double precision) AND (default_value < 'Infinity'::double precision))),
    CONSTRAINT highest_value_is_finite CHECK (((high_value > '-Infinity'::double precision) AND (high_value < 'Infinity'::double precision))),
    CONSTRAINT lowest_value_is_finite CHECK (((low_value > '-Infinity'::double precision) AND (low_value < 'Infinity'::double precision))),
    CONSTRAINT quantity_of_a_tool_property_is_known CHECK ((quantity = ANY (ARRAY['none'::text, 'length'::text, 'speed'::text, 'feed-rate'::text, 'rotation'::text, 'force'::text, 'torque'::text, 'power'::text, 'removal-rate'::text, 'specific-force'::text, 'specific-energy'::text, 'roughness'::text, 'pressure'::text, 'modulus'::text, 'mass'::text, 'temperature'::text, 'angle'::text, 'time'::text, 'acceleration'::text, 'density'::text, 'conductivity'::text, 'specific-heat'::text, 'expansion'::text, 'seconds'::text, 'angle-per-length'::text, 'angle-rate'::text]))),
    CONSTRAINT tool_properties_are_counted_from_one CHECK (("position" >= 1)),
    CONSTRAINT values_go_from_low_to_high CHECK ((low_value <= high_value))
);
CREATE TABLE river.river_job (
    id bigint NOT NULL,
    state river.river_job_state DEFAULT 'available'::river.river_job_state NOT NULL,
    attempt smallint DEFAULT 0 NOT NULL,
    max_attempts smallint DEFAULT 25 NOT NULL,
    attempted_at timestamp with time zone,
    created_at timestamp with time zone DEFAULT now() NOT NULL,
    finalized_at timestamp with time zone,
    scheduled_at timestamp with time zone DEFAULT now() NOT NULL,
    priority smallint DEFAULT 1 NOT NULL,
    args jsonb NOT NULL,
    attempted_by text[],
    errors jsonb[],
    kind text NOT NULL,
    metadata jsonb DEFAULT '{}'::jsonb NOT NULL,
    queue text DEFAULT 'default'::text NOT NULL,
    tags character varying(255)[] DEFAULT '{}'::character varying[] NOT NULL,
    unique_key bytea,
    unique_states bit(8),
    CONSTRAINT finalized_or_finalized_at_null CHECK ((((finalized_at IS NULL) AND (state <> ALL (ARRAY['cancelled'::river.river_job_state, 'completed'::river.river_job_state, 'discarded'::river.river_job_state]))) OR ((finalized_at IS NOT NULL) AND (state = ANY (ARRAY['cancelled'::river.river_job_state, 'completed'::river.river_job_state, 'discarded'::river.river_job_state]))))),
    CONSTRAINT kind_length CHECK (((char_length(kind) > 0) AND (char_length(kind) < 128))),
    CONSTRAINT max_attempts_is_positive CHECK ((max_attempts > 0)),
    CONSTRAINT priority_in_range CHECK (((priority >= 1) AND (priority <= 4))),
    CONSTRAINT queue_length CHECK (((char_length(queue) > 0) AND (char_length(queue) < 128)))
);
CREATE SEQUENCE river.river_job_id_seq
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;
ALTER SEQUENCE river.river_job_id_seq OWNED BY river.river_job.id;
CREATE UNLOGGED TABLE river.river_leader (
    elected_at timestamp with time zone NOT NULL,
    expires_at timestamp with time zone NOT NULL,
    leader_id text NOT NULL,
    name text DEFAULT 'default'::text NOT NULL,
    CONSTRAINT leader_id_length CHECK (((char_length(leader_id) > 0) AND (char_length(leader_id) < 128))),
    CONSTRAINT name_length CHECK ((name = 'default'::text))
);
CREATE TABLE river.river_migration (
    line text NOT NULL,
    version bigint NOT NULL,
    created_at timestamp with time zone DEFAULT now() NOT NULL,
    CONSTRAINT line_length CHECK (((char_length(line) > 0) AND (char_length(line) < 128))),
    CONSTRAINT version_gte_1 CHECK ((version >= 1))
);
CREATE TABLE river.river_notification (
    id bigint NOT NULL,
    created_at timestamp with time zone DEFAULT now() NOT NULL,
    payload text NOT NULL,
    topic text NOT NULL,
    CONSTRAINT topic_length CHECK (((length(topic) > 0) AND (length(topic) < 128)))
);
CREATE SEQUENCE river.river_notification_id_seq
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;
ALTER SEQUENCE river.river_notification_id_seq OWNED BY river.river_notification.id;
CREATE TABLE river.river_queue (
    name text NOT NULL,
    created_at timestamp with time zone DEFAULT now() NOT NULL,
    metadata jsonb DEFAULT '{}'::jsonb NOT NULL,
    paused_at timestamp with time zone,
    updated_at timestamp with time zone DEFAULT CURRENT_TIMESTAMP NOT NULL
);
ALTER TABLE ONLY river.river_job ALTER COLUMN id SET DEFAULT nextval('river.river_job_id_seq'::regclass);
ALTER TABLE ONLY river.river_notification ALTER COLUMN id SET DEFAULT nextval('river.river_notification_id_seq'::regclass);
ALTER TABLE ONLY public.changes
    ADD CONSTRAINT a_change_has_its_place_in_order PRIMARY KEY (revision, sequence);
ALTER TABLE ONLY public.access_change
    ADD CONSTRAINT a_change_of_a_key_is_noted_once PRIMARY KEY (sequence);
ALTER TABLE ONLY public.tool_property
    ADD CONSTRAINT a_class_has_a_property_once PRIMARY KEY (class_id, name);
ALTER TABLE ONLY public.stored_cut
    ADD CONSTRAINT a_cut_is_kept_once PRIMARY KEY (id);
ALTER TABLE ONLY public.force_record
    ADD CONSTRAINT a_force_record_has_one_id PRIMARY KEY (id);
ALTER TABLE ONLY public.material_condition
    ADD CONSTRAINT a_grade_has_a_condition_once PRIMARY KEY (material_id, name);
ALTER TABLE ONLY public.designation
    ADD CONSTRAINT a_grade_has_a_designation_once PRIMARY KEY (material_id, standard, value);
ALTER TABLE ONLY public.physical_property
    ADD CONSTRAINT a_grade_has_one_property_in_a_place PRIMARY KEY (material_id, "position");
ALTER TABLE ONLY public.hardness_row
    ADD CONSTRAINT a_hardness_row_has_one_place PRIMARY KEY ("position");
ALTER TABLE ONLY public.job
    ADD CONSTRAINT a_job_has_one_id PRIMARY KEY (id);
ALTER TABLE ONLY public.access_key
    ADD CONSTRAINT a_key_is_kept_once PRIMARY KEY (id);
ALTER TABLE ONLY public.life_record
    ADD CONSTRAINT a_life_record_has_one_id PRIMARY KEY (id);
ALTER TABLE ONLY public.machine
    ADD CONSTRAINT a_machine_has_one_record PRIMARY KEY (id);
ALTER TABLE ONLY public.material
    ADD CONSTRAINT a_material_has_one_record PRIMARY KEY (id);
ALTER TABLE ONLY public.imported
    ADD CONSTRAINT a_noun_is_imported_once PRIMARY KEY (kind, id);
ALTER TABLE ONLY public.job_part
    ADD CONSTRAINT a_part_is_written_once PRIMARY KEY (job_id, from_item);
ALTER TABLE ONLY public.curation
    ADD CONSTRAINT a_record_is_curated_once PRIMARY KEY (record_id);
ALTER TABLE ONLY public.kept_answer
    ADD CONSTRAINT a_request_is_answered_once PRIMARY KEY (caller, key);
ALTER TABLE ONLY public.seal
    ADD CONSTRAINT a_revision_is_sealed_once PRIMARY KEY (revision);
ALTER TABLE ONLY public.source
    ADD CONSTRAINT a_source_has_one_record PRIMARY KEY (id);
ALTER TABLE ONLY public.starting_record
    ADD CONSTRAINT a_starting_record_has_one_id PRIMARY KEY (id);
ALTER TABLE ONLY public.tool_class
    ADD CONSTRAINT a_tool_class_has_one_record PRIMARY KEY (id);
ALTER TABLE ONLY public.schema_applied
    ADD CONSTRAINT a_version_is_applied_once PRIMARY KEY (version);
ALTER TABLE ONLY public.observation
    ADD CONSTRAINT an_observation_is_kept_once PRIMARY KEY (id);
ALTER TABLE ONLY public.material_condition
    ADD CONSTRAINT conditions_have_an_order UNIQUE (material_id, "position") DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE ONLY public.designation
    ADD CONSTRAINT designations_have_an_order UNIQUE (material_id, "position") DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE ONLY public.schema_migrations
    ADD CONSTRAINT schema_migrations_pkey PRIMARY KEY (version);
ALTER TABLE ONLY public.data_revision
    ADD CONSTRAINT there_is_one_counter PRIMARY KEY (single);
ALTER TABLE ONLY public.tool_property
    ADD CONSTRAINT tool_properties_have_an_order UNIQUE (class_id, "position") DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE ONLY public.access_use
    ADD CONSTRAINT use_is_noted_once_a_key PRIMARY KEY (key_id);
ALTER TABLE ONLY river.river_job
    ADD CONSTRAINT river_job_pkey PRIMARY KEY (id);
ALTER TABLE ONLY river.river_leader
    ADD CONSTRAINT river_leader_pkey PRIMARY KEY (name);
ALTER TABLE ONLY river.river_migration
    ADD CONSTRAINT river_migration_pkey1 PRIMARY KEY (line, version);
ALTER TABLE ONLY river.river_notification
    ADD CONSTRAINT river_notification_pkey PRIMARY KEY (id);
ALTER TABLE ONLY river.river_queue
    ADD CONSTRAINT river_queue_pkey PRIMARY KEY (name);
CREATE INDEX access_change_by_key ON public.access_change USING btree (key_id, sequence);
CREATE INDEX changes_by_noun ON public.changes USING btree (kind, id, revision DESC);
CREATE INDEX changes_by_row ON public.changes USING btree (table_name, key, revision DESC, sequence DESC);
CREATE INDEX changes_by_time ON public.changes USING btree (at, revision);
CREATE INDEX force_record_by_material ON public.force_record USING btree (scope_material);
CREATE INDEX kept_answer_by_time ON public.kept_answer USING btree (at);
CREATE INDEX life_record_by_material ON public.life_record USING btree (scope_material);
CREATE UNIQUE INDEX no_two_keys_have_one_name ON public.access_key USING btree (lower(name));
CREATE INDEX observation_by_machine ON public.observation USING btree (machine_id, kind) WHERE (state = 'accepted'::text);
CREATE INDEX observation_by_metal ON public.observation USING btree (material_id, process, kind) WHERE (state = 'accepted'::text);
CREATE INDEX observation_by_record ON public.observation USING btree (record_id, received) WHERE ((state = 'accepted'::text) AND (kind = 'load'::text));
CREATE INDEX starting_record_by_material ON public.starting_record USING btree (scope_material);
CREATE INDEX river_job_args_index ON river.river_job USING gin (args);
CREATE INDEX river_job_kind ON river.river_job USING btree (kind);
CREATE INDEX river_job_metadata_index ON river.river_job USING gin (metadata);
CREATE INDEX river_job_prioritized_fetching_index ON river.river_job USING btree (state, queue, priority, scheduled_at, id);
CREATE INDEX river_job_state_and_finalized_at_index ON river.river_job USING btree (state, finalized_at) WHERE (finalized_at IS NOT NULL);
CREATE UNIQUE INDEX river_job_unique_idx ON river.river_job USING btree (unique_key) WHERE ((unique_key IS NOT NULL) AND (unique_states IS NOT NULL) AND river.river_job_state_in_bitmask(unique_states, state));
CREATE INDEX river_notification_created_at_idx ON river.river_notification USING btree (created_at);
CREATE INDEX river_notification_topic_id_idx ON river.river_notification USING btree (topic, id);
CREATE TRIGGER counter_is_kept BEFORE DELETE OR TRUNCATE ON public.data_revision FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER history_is_kept BEFORE DELETE OR UPDATE OR TRUNCATE ON public.changes FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER history_of_keys_is_kept BEFORE DELETE OR UPDATE OR TRUNCATE ON public.access_change FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER keep_key BEFORE UPDATE ON public.access_key FOR EACH ROW EXECUTE FUNCTION public.keep_key();
CREATE TRIGGER keys_stay BEFORE DELETE OR TRUNCATE ON public.access_key FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER note_added AFTER INSERT ON public.curation REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('record', 'record_id', 'record_id');
CREATE TRIGGER note_added AFTER INSERT ON public.designation REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('material', 'material_id', 'material_id', 'standard', 'value');
CREATE TRIGGER note_added AFTER INSERT ON public.force_record REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('record', 'id', 'id');
CREATE TRIGGER note_added AFTER INSERT ON public.hardness_row REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('source', 'source_id', 'position');
CREATE TRIGGER note_added AFTER INSERT ON public.life_record REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('record', 'id', 'id');
CREATE TRIGGER note_added AFTER INSERT ON public.machine REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('machine', 'id', 'id');
CREATE TRIGGER note_added AFTER INSERT ON public.material REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('material', 'id', 'id');
CREATE TRIGGER note_added AFTER INSERT ON public.material_condition REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('material', 'material_id', 'material_id', 'name');
CREATE TRIGGER note_added AFTER INSERT ON public.physical_property REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('material', 'material_id', 'material_id', 'position');
CREATE TRIGGER note_added AFTER INSERT ON public.source REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('source', 'id', 'id');
CREATE TRIGGER note_added AFTER INSERT ON public.starting_record REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('record', 'id', 'id');
CREATE TRIGGER note_added AFTER INSERT ON public.stored_cut REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('cut', 'id', 'id');
CREATE TRIGGER note_added AFTER INSERT ON public.tool_class REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('tool-class', 'id', 'id');
CREATE TRIGGER note_added AFTER INSERT ON public.tool_property REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION public.note_added('tool-class', 'class_id', 'class_id', 'name');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.curation FOR EACH ROW EXECUTE FUNCTION public.note_change('record', 'record_id', 'record_id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.designation FOR EACH ROW EXECUTE FUNCTION public.note_change('material', 'material_id', 'material_id', 'standard', 'value');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.force_record FOR EACH ROW EXECUTE FUNCTION public.note_change('record', 'id', 'id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.hardness_row FOR EACH ROW EXECUTE FUNCTION public.note_change('source', 'source_id', 'position');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.life_record FOR EACH ROW EXECUTE FUNCTION public.note_change('record', 'id', 'id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.machine FOR EACH ROW EXECUTE FUNCTION public.note_change('machine', 'id', 'id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.material FOR EACH ROW EXECUTE FUNCTION public.note_change('material', 'id', 'id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.material_condition FOR EACH ROW EXECUTE FUNCTION public.note_change('material', 'material_id', 'material_id', 'name');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.physical_property FOR EACH ROW EXECUTE FUNCTION public.note_change('material', 'material_id', 'material_id', 'position');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.source FOR EACH ROW EXECUTE FUNCTION public.note_change('source', 'id', 'id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.starting_record FOR EACH ROW EXECUTE FUNCTION public.note_change('record', 'id', 'id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.stored_cut FOR EACH ROW EXECUTE FUNCTION public.note_change('cut', 'id', 'id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.tool_class FOR EACH ROW EXECUTE FUNCTION public.note_change('tool-class', 'id', 'id');
CREATE TRIGGER note_change AFTER DELETE OR UPDATE ON public.tool_property FOR EACH ROW EXECUTE FUNCTION public.note_change('tool-class', 'class_id', 'class_id', 'name');
CREATE TRIGGER note_key AFTER INSERT OR UPDATE ON public.access_key FOR EACH ROW EXECUTE FUNCTION public.note_key();
CREATE TRIGGER observations_all_stay BEFORE TRUNCATE ON public.observation FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER observations_stay BEFORE DELETE OR UPDATE ON public.observation FOR EACH ROW EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER only_triggers_write BEFORE INSERT ON public.changes FOR EACH ROW EXECUTE FUNCTION public.only_triggers_write();
CREATE TRIGGER only_triggers_write BEFORE INSERT ON public.seal FOR EACH ROW EXECUTE FUNCTION public.only_triggers_write();
CREATE TRIGGER only_upwards BEFORE UPDATE ON public.data_revision FOR EACH ROW EXECUTE FUNCTION public.only_upwards();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.curation FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.designation FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.force_record FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.hardness_row FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.life_record FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.machine FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.material FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.material_condition FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.physical_property FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.source FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.starting_record FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.stored_cut FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.tool_class FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON public.tool_property FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE CONSTRAINT TRIGGER seal_revision AFTER UPDATE ON public.data_revision DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION public.seal_revision();
CREATE TRIGGER seals_are_kept BEFORE DELETE OR UPDATE OR TRUNCATE ON public.seal FOR EACH STATEMENT EXECUTE FUNCTION public.refuse_change();
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.curation FOR EACH ROW EXECUTE FUNCTION public.stamp_row('record', 'record_id', 'record_id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.designation FOR EACH ROW EXECUTE FUNCTION public.stamp_row('material', 'material_id', 'material_id', 'standard', 'value');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.force_record FOR EACH ROW EXECUTE FUNCTION public.stamp_row('record', 'id', 'id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.hardness_row FOR EACH ROW EXECUTE FUNCTION public.stamp_row('source', 'source_id', 'position');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.life_record FOR EACH ROW EXECUTE FUNCTION public.stamp_row('record', 'id', 'id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.machine FOR EACH ROW EXECUTE FUNCTION public.stamp_row('machine', 'id', 'id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.material FOR EACH ROW EXECUTE FUNCTION public.stamp_row('material', 'id', 'id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.material_condition FOR EACH ROW EXECUTE FUNCTION public.stamp_row('material', 'material_id', 'material_id', 'name');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.physical_property FOR EACH ROW EXECUTE FUNCTION public.stamp_row('material', 'material_id', 'material_id', 'position');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.source FOR EACH ROW EXECUTE FUNCTION public.stamp_row('source', 'id', 'id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.starting_record FOR EACH ROW EXECUTE FUNCTION public.stamp_row('record', 'id', 'id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.stored_cut FOR EACH ROW EXECUTE FUNCTION public.stamp_row('cut', 'id', 'id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.tool_class FOR EACH ROW EXECUTE FUNCTION public.stamp_row('tool-class', 'id', 'id');
CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON public.tool_property FOR EACH ROW EXECUTE FUNCTION public.stamp_row('tool-class', 'class_id', 'class_id', 'name');
ALTER TABLE ONLY public.material_condition
    ADD CONSTRAINT a_condition_is_of_a_known_grade FOREIGN KEY (material_id) REFERENCES public.material(id);
ALTER TABLE ONLY public.designation
    ADD CONSTRAINT a_designation_is_of_a_known_grade FOREIGN KEY (material_id) REFERENCES public.material(id);
ALTER TABLE ONLY public.hardness_row
    ADD CONSTRAINT a_hardness_row_has_a_known_source FOREIGN KEY (source_id) REFERENCES public.source(id);
ALTER TABLE ONLY public.force_record
    ADD CONSTRAINT a_number_has_a_known_source FOREIGN KEY (source_id) REFERENCES public.source(id);
ALTER TABLE ONLY public.life_record
    ADD CONSTRAINT a_number_has_a_known_source FOREIGN KEY (source_id) REFERENCES public.source(id);
ALTER TABLE ONLY public.material_condition
    ADD CONSTRAINT a_number_has_a_known_source FOREIGN KEY (source_id) REFERENCES public.source(id);
ALTER TABLE ONLY public.physical_property
    ADD CONSTRAINT a_number_has_a_known_source FOREIGN KEY (source_id) REFERENCES public.source(id);
ALTER TABLE ONLY public.starting_record
    ADD CONSTRAINT a_number_has_a_known_source FOREIGN KEY (source_id) REFERENCES public.source(id);
ALTER TABLE ONLY public.job_part
    ADD CONSTRAINT a_part_is_of_a_job FOREIGN KEY (job_id) REFERENCES public.job(id) ON DELETE CASCADE;
ALTER TABLE ONLY public.physical_property
    ADD CONSTRAINT a_property_is_of_a_known_grade FOREIGN KEY (material_id) REFERENCES public.material(id);
ALTER TABLE ONLY public.force_record
    ADD CONSTRAINT a_record_is_about_a_known_grade FOREIGN KEY (scope_material) REFERENCES public.material(id);
ALTER TABLE ONLY public.life_record
    ADD CONSTRAINT a_record_is_about_a_known_grade FOREIGN KEY (scope_material) REFERENCES public.material(id);
ALTER TABLE ONLY public.starting_record
    ADD CONSTRAINT a_record_is_about_a_known_grade FOREIGN KEY (scope_material) REFERENCES public.material(id);
ALTER TABLE ONLY public.tool_property
    ADD CONSTRAINT a_tool_property_is_of_a_known_class FOREIGN KEY (class_id) REFERENCES public.tool_class(id);
ALTER TABLE ONLY public.access_use
    ADD CONSTRAINT a_use_is_of_a_key FOREIGN KEY (key_id) REFERENCES public.access_key(id);
