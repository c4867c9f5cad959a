DO $$
DECLARE
    kept record;
BEGIN
    FOR kept IN
        SELECT tgrelid::regclass AS named, (SELECT string_agg(quote_literal(a), ', ' ORDER BY place)
            FROM unnest(string_to_array(encode(tgargs, 'escape'), '\000')) WITH ORDINALITY AS x (a, place) WHERE a <> '') AS arguments
        FROM pg_trigger WHERE tgname = 'note_change'
    LOOP
        EXECUTE format('DROP TRIGGER note_added ON %s', kept.named);
        EXECUTE format('DROP TRIGGER note_change ON %s', kept.named);
        EXECUTE format('CREATE TRIGGER note_change AFTER INSERT OR UPDATE OR DELETE ON %s FOR EACH ROW EXECUTE FUNCTION note_change(%s)', kept.named, kept.arguments);
    END LOOP;
END $$;

CREATE OR REPLACE PROCEDURE keep_history(named regclass, kind text, id_column text, VARIADIC key_columns text[])
LANGUAGE plpgsql AS $$
DECLARE
    arguments text := (SELECT string_agg(quote_literal(a), ', ') FROM unnest(ARRAY[kind, id_column] || key_columns) AS a);
BEGIN
    EXECUTE format('CREATE TRIGGER stamp_row BEFORE INSERT OR UPDATE ON %s FOR EACH ROW EXECUTE FUNCTION stamp_row(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER note_change AFTER INSERT OR UPDATE OR DELETE ON %s FOR EACH ROW EXECUTE FUNCTION note_change(%s)', named, arguments);
    EXECUTE format('CREATE TRIGGER rows_go_one_by_one BEFORE TRUNCATE ON %s FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()', named);
END $$;

ALTER TABLE source DROP COLUMN reviewed;
DROP FUNCTION note_added();
DROP TABLE imported;
DELETE FROM schema_applied WHERE version = 7;
