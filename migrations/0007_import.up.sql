-- What a shop imported: sources, grades and tool classes that are its own from then on, so
-- that loading the reference data leaves them alone. Records have their curation for that,
-- machines are always the shop's.

CREATE TABLE imported (
    kind text NOT NULL
        CONSTRAINT what_is_imported_is_a_source_a_grade_or_a_class
        CHECK (kind IN ('source', 'material', 'tool-class')),
    id text NOT NULL CONSTRAINT what_is_imported_has_an_id CHECK (id <> ''),
    revision bigint NOT NULL CONSTRAINT an_import_has_its_revision CHECK (revision >= 1),
    CONSTRAINT a_noun_is_imported_once PRIMARY KEY (kind, id)
);
COMMENT ON TABLE imported IS 'Nouns that a shop imported, and in which revision first; loading the reference data leaves them alone.';

-- Imports add rows by the hundred in one statement, so added rows are noted statement by
-- statement; changed and removed ones go on being noted one by one. Arguments as in
-- stamp_row.
CREATE FUNCTION note_added() RETURNS trigger LANGUAGE plpgsql SET extra_float_digits = 1 AS $$
DECLARE
    made bigint;
    at timestamptz;
BEGIN
    IF NOT EXISTS (SELECT FROM added) THEN
        RETURN NULL;
    END IF;
    made := next_revision();
    SELECT counter.at INTO STRICT at FROM data_revision AS counter;
    INSERT INTO changes (revision, table_name, key, kind, id, action, new, who, at, reason)
    SELECT made, TG_TABLE_NAME,
        CASE WHEN TG_NARGS = 3 THEN whole ->> TG_ARGV[2] ELSE row_key(whole, TG_ARGV) END,
        TG_ARGV[0], whole ->> TG_ARGV[1], 'added', whole,
        coalesce(nullif(current_setting('swarf.who', true), ''), 'sql:' || session_user), at,
        coalesce(current_setting('swarf.reason', true), '')
    FROM (SELECT to_jsonb(n) AS whole FROM added AS n) AS rows;
    RETURN NULL;
END $$;

-- keep_history puts the triggers on a table.
CREATE OR REPLACE PROCEDURE keep_history(named regclass, kind text, id_column text, VARIADIC key_columns text[])
LANGUAGE plpgsql AS $$
DECLARE
    arguments text := (SELECT string_agg(quote_literal(a), ', ') FROM unnest(ARRAY[kind, id_column] || key_columns) AS a);
BEGIN
    EXECUTE format('CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON %s FOR EACH ROW EXECUTE FUNCTION stamp_row(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER note_added AFTER INSERT ON %s REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION note_added(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER note_change AFTER UPDATE OR DELETE ON %s FOR EACH ROW EXECUTE FUNCTION note_change(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON %s FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', named);
END $$;

DO $$
DECLARE
    kept record;
BEGIN
    FOR kept IN
        SELECT tgrelid::regclass AS named, (SELECT string_agg(quote_literal(a), ', ' ORDER BY place)
            FROM unnest(string_to_array(encode(tgargs, 'escape'), '\000')) WITH ORDINALITY AS x (a, place) WHERE a <> '') AS arguments
        FROM pg_trigger WHERE tgname = 'note_change'
    LOOP
        EXECUTE format('DROP TRIGGER note_change ON %s', kept.named);
        EXECUTE format('CREATE TRIGGER note_added AFTER INSERT ON %s REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION note_added(%s)', kept.named, kept.arguments);
        EXECUTE format('CREATE TRIGGER note_change AFTER UPDATE OR DELETE ON %s FOR EACH ROW EXECUTE FUNCTION note_change(%s)', kept.named, kept.arguments);
    END LOOP;
END $$;

-- When the rows of a source were last held against it.
ALTER TABLE source ADD COLUMN reviewed text NOT NULL DEFAULT ''
    CONSTRAINT a_source_is_reviewed_on_a_day CHECK (reviewed ~ '^([0-9]{4}-[0-9]{2}-[0-9]{2})?$');

INSERT INTO schema_applied (version) VALUES (7);
