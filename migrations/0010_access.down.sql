CREATE OR REPLACE FUNCTION note_change() RETURNS trigger LANGUAGE plpgsql SET extra_float_digits = 1 AS $$
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

CREATE OR REPLACE FUNCTION note_added() RETURNS trigger LANGUAGE plpgsql SET extra_float_digits = 1 AS $$
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

ALTER TABLE changes DROP COLUMN person;
DROP TABLE access_change;
DROP TABLE access_use;
DROP TABLE access_key;
DROP FUNCTION keep_key();
DROP FUNCTION note_key();
DELETE FROM schema_applied WHERE version = 10;
