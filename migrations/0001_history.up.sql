-- The history: one counter of revisions and one append-only table of changes,
-- filled by row triggers in the transaction that makes the change.
--
-- A transaction that changes anything gets one revision, at its first change. The
-- counter's row stays locked until it ends, so revisions become visible in order
-- and without gaps, and NOTIFY swarf_revision carries the number at commit.
-- A writer says who it is and why with set_config('swarf.who', …, true) and
-- set_config('swarf.reason', …, true).

CREATE TABLE schema_applied (
    version bigint CONSTRAINT a_version_is_applied_once PRIMARY KEY,
    at timestamptz NOT NULL DEFAULT now()
);
COMMENT ON TABLE schema_applied IS 'Written by every migration inside its own transaction: proof that it was committed.';

CREATE TABLE data_revision (
    single boolean NOT NULL DEFAULT true
        CONSTRAINT there_is_one_counter PRIMARY KEY
        CONSTRAINT the_counter_is_never_false CHECK (single),
    revision bigint NOT NULL CONSTRAINT revisions_are_never_negative CHECK (revision >= 0),
    at timestamptz NOT NULL
);
COMMENT ON TABLE data_revision IS 'The newest revision and when it was made; 0 before the first change.';
INSERT INTO data_revision (revision, at) VALUES (0, clock_timestamp());

CREATE TABLE changes (
    revision bigint NOT NULL CONSTRAINT changes_begin_at_revision_one CHECK (revision >= 1),
    sequence bigint GENERATED ALWAYS AS IDENTITY,
    table_name text NOT NULL,
    key text NOT NULL,
    kind text NOT NULL
        CONSTRAINT kind_is_a_public_noun
        CHECK (kind IN ('machine', 'material', 'source', 'tool-class', 'record')),
    id text NOT NULL,
    action text NOT NULL
        CONSTRAINT action_is_added_changed_or_removed
        CHECK (action IN ('added', 'changed', 'removed')),
    old jsonb,
    new jsonb,
    who text NOT NULL CONSTRAINT somebody_made_the_change CHECK (who <> ''),
    at timestamptz NOT NULL,
    reason text NOT NULL,
    CONSTRAINT a_change_has_its_place_in_order PRIMARY KEY (revision, sequence),
    CONSTRAINT old_and_new_fit_the_action CHECK (
        (action = 'added' AND old IS NULL AND new IS NOT NULL)
        OR (action = 'changed' AND old IS NOT NULL AND new IS NOT NULL)
        OR (action = 'removed' AND old IS NOT NULL AND new IS NULL))
);
COMMENT ON TABLE changes IS 'Every change of every row, oldest first; never updated, never deleted from.';
COMMENT ON COLUMN changes.kind IS 'The public noun the row belongs to; id is the noun''s id.';
CREATE INDEX changes_by_row ON changes (table_name, key, revision DESC, sequence DESC);
CREATE INDEX changes_by_noun ON changes (kind, id, revision DESC);
CREATE INDEX changes_by_time ON changes (at, revision);

-- next_revision returns the revision of the running transaction and makes it at
-- the first call. A marker with the transaction's id, undone together with it,
-- tells later calls.
CREATE FUNCTION next_revision() RETURNS bigint LANGUAGE plpgsql AS $$
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

-- row_key joins the key columns of a row, named from the third trigger argument on.
CREATE FUNCTION row_key(whole jsonb, arguments text[]) RETURNS text
LANGUAGE sql IMMUTABLE AS $$
    SELECT string_agg(whole ->> name, '|' ORDER BY place)
    FROM unnest(arguments) WITH ORDINALITY AS a (name, place)
    WHERE place > 2
$$;

-- stamp_row writes the revision into a row that changes, lets an update that
-- changes nothing fall away, and refuses one that changes the key.
-- Arguments: the public noun, the column of its id, the columns of the key.
CREATE FUNCTION stamp_row() RETURNS trigger LANGUAGE plpgsql SET extra_float_digits = 1 AS $$
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

-- note_change writes the change down. Arguments as in stamp_row.
CREATE FUNCTION note_change() RETURNS trigger LANGUAGE plpgsql SET extra_float_digits = 1 AS $$
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
    INSERT INTO changes (revision, table_name, key, kind, id, action, old, new, who, at, reason)
    SELECT made, TG_TABLE_NAME, row_key(coalesce(becomes, was), TG_ARGV), TG_ARGV[0],
        coalesce(becomes, was) ->> TG_ARGV[1],
        CASE TG_OP WHEN 'INSERT' THEN 'added' WHEN 'UPDATE' THEN 'changed' ELSE 'removed' END,
        was, becomes,
        coalesce(nullif(current_setting('swarf.who', true), ''), 'sql:' || session_user),
        counter.at,
        coalesce(current_setting('swarf.reason', true), '')
    FROM data_revision AS counter;
    RETURN NULL;
END $$;

-- refuse_change keeps what is written.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION '% is refused on %: its rows are the history', TG_OP, TG_TABLE_NAME
        USING ERRCODE = 'restrict_violation', CONSTRAINT = 'history_is_never_rewritten', TABLE = TG_TABLE_NAME;
END $$;

-- only_triggers_write lets a row into changes only from within a trigger.
CREATE FUNCTION only_triggers_write() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF pg_trigger_depth() < 2 THEN
        RAISE EXCEPTION 'changes is filled by the tables themselves'
            USING ERRCODE = 'restrict_violation', CONSTRAINT = 'history_is_never_invented', TABLE = TG_TABLE_NAME;
    END IF;
    RETURN NEW;
END $$;

-- only_upwards lets the counter move by one and its clock not at all backwards.
CREATE FUNCTION only_upwards() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NEW.revision <> OLD.revision + 1 OR NEW.at < OLD.at THEN
        RAISE EXCEPTION 'the revision goes from % to %, not to %', OLD.revision, OLD.revision + 1, NEW.revision
            USING ERRCODE = 'restrict_violation', CONSTRAINT = 'revisions_go_up_by_one', TABLE = TG_TABLE_NAME;
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER only_triggers_write BEFORE INSERT ON changes FOR EACH ROW EXECUTE FUNCTION only_triggers_write();
CREATE TRIGGER history_is_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON changes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER only_upwards BEFORE UPDATE ON data_revision FOR EACH ROW EXECUTE FUNCTION only_upwards();
CREATE TRIGGER counter_is_kept BEFORE DELETE OR TRUNCATE ON data_revision FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- keep_history puts the three triggers on a table.
CREATE PROCEDURE keep_history(named regclass, kind text, id_column text, VARIADIC key_columns text[])
LANGUAGE plpgsql AS $$
DECLARE
    arguments text := (SELECT string_agg(quote_literal(a), ', ') FROM unnest(ARRAY[kind, id_column] || key_columns) AS a);
BEGIN
    EXECUTE format('CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON %s FOR EACH ROW EXECUTE FUNCTION stamp_row(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER note_change AFTER INSERT OR UPDATE OR DELETE ON %s FOR EACH ROW EXECUTE FUNCTION note_change(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON %s FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', named);
END $$;

INSERT INTO schema_applied (version) VALUES (1);
