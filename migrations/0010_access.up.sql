-- Who may ask: keys, what became of them, and when they were last used. They stand outside
-- the revisions, since they change no answer. Only digests of secrets are kept.

CREATE TABLE access_key (
    id text CONSTRAINT a_key_is_kept_once PRIMARY KEY
        CONSTRAINT key_id_is_eight_letters_and_digits CHECK (id ~ '^[a-z2-7]{8}$'),
    name text NOT NULL CONSTRAINT a_key_has_a_name CHECK (name <> '' AND length(name) <= 80),
    view boolean NOT NULL,
    scopes text[] NOT NULL
        CONSTRAINT scopes_are_known CHECK (scopes <> '{}' AND scopes <@ ARRAY['read', 'compute', 'write', 'approve', 'admin']),
    digest bytea NOT NULL CONSTRAINT a_digest_has_32_bytes CHECK (length(digest) = 32),
    digest_made timestamptz NOT NULL,
    earlier_digest bytea CONSTRAINT an_earlier_digest_has_32_bytes CHECK (length(earlier_digest) = 32),
    earlier_made timestamptz,
    earlier_until timestamptz,
    made timestamptz NOT NULL DEFAULT clock_timestamp(),
    made_by text NOT NULL CONSTRAINT somebody_made_the_key CHECK (made_by <> ''),
    expires timestamptz,
    revoked timestamptz,
    revoked_by text NOT NULL DEFAULT '',
    CONSTRAINT a_view_token_only_reads_and_computes CHECK (NOT view OR scopes <@ ARRAY['read', 'compute']),
    CONSTRAINT an_earlier_secret_has_its_times CHECK (num_nulls(earlier_digest, earlier_made, earlier_until) IN (0, 3)),
    CONSTRAINT revocation_names_who CHECK ((revoked IS NULL) = (revoked_by = ''))
);
COMMENT ON TABLE access_key IS 'Keys of callers. Secrets are not here, only SHA-256 digests of whole tokens; rows are never removed.';
CREATE UNIQUE INDEX no_two_keys_have_one_name ON access_key (lower(name));

CREATE TABLE access_use (
    key_id text CONSTRAINT use_is_noted_once_a_key PRIMARY KEY CONSTRAINT a_use_is_of_a_key REFERENCES access_key (id),
    at timestamptz NOT NULL
);
COMMENT ON TABLE access_use IS 'About when a key was last used; written by the minute, not by the request.';

CREATE TABLE access_change (
    sequence bigint GENERATED ALWAYS AS IDENTITY CONSTRAINT a_change_of_a_key_is_noted_once PRIMARY KEY,
    key_id text NOT NULL,
    action text NOT NULL
        CONSTRAINT a_key_is_made_rotated_or_revoked CHECK (action IN ('made', 'rotated', 'revoked')),
    who text NOT NULL CONSTRAINT somebody_changed_the_key CHECK (who <> ''),
    person text NOT NULL,
    at timestamptz NOT NULL DEFAULT clock_timestamp(),
    reason text NOT NULL
);
COMMENT ON TABLE access_change IS 'What became of keys, oldest first; never updated, never deleted from.';
CREATE INDEX access_change_by_key ON access_change (key_id, sequence);

-- note_key writes down what became of a key and tells every replica, at commit.
CREATE FUNCTION note_key() RETURNS trigger LANGUAGE plpgsql AS $$
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

-- keep_key lets a revoked key be nothing else again, and an id and a name stay whose they are.
CREATE FUNCTION keep_key() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF OLD.revoked IS NOT NULL OR (NEW.id, NEW.name, NEW.view, NEW.made, NEW.made_by) IS DISTINCT FROM (OLD.id, OLD.name, OLD.view, OLD.made, OLD.made_by) THEN
        RAISE EXCEPTION 'a key keeps its name, and a revoked key stays as it is'
            USING ERRCODE = 'restrict_violation', CONSTRAINT = 'a_revoked_key_stays_revoked', TABLE = TG_TABLE_NAME;
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER keep_key BEFORE UPDATE ON access_key FOR EACH ROW EXECUTE FUNCTION keep_key();
CREATE TRIGGER note_key AFTER INSERT OR UPDATE ON access_key FOR EACH ROW EXECUTE FUNCTION note_key();
CREATE TRIGGER keys_stay BEFORE DELETE OR TRUNCATE ON access_key FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER history_of_keys_is_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON access_change FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- Whoever writes with a key may name a person beside it.
ALTER TABLE changes ADD COLUMN person text NOT NULL DEFAULT '';
COMMENT ON COLUMN changes.person IS 'Whom the caller named beside the key it wrote with; not proved.';

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

INSERT INTO schema_applied (version) VALUES (10);
