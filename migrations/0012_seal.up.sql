-- A chain of hashes over the history. When a transaction that made a revision commits, the
-- revision is sealed: SHA-256 over the seal before it and over every change it made. Whoever
-- rewrites a change, takes one out or puts one in breaks the chain from there on; whoever
-- rewrites the chain too is found out by a seal that was written down elsewhere.

CREATE TABLE seal (
    revision bigint CONSTRAINT a_revision_is_sealed_once PRIMARY KEY CONSTRAINT seals_begin_at_revision_one CHECK (revision >= 1),
    hash bytea NOT NULL CONSTRAINT a_seal_is_a_sha256 CHECK (octet_length(hash) = 32)
);

-- change_hash is the hash of one change. What it says is written the same way by every
-- program: a JSON list as jsonb writes it, times as microseconds since 1970.
CREATE FUNCTION change_hash(c changes) RETURNS bytea LANGUAGE sql STABLE SET extra_float_digits = 1 AS $$
    SELECT sha256(convert_to(jsonb_build_array(c.revision, c.sequence, c.table_name, c.key, c.kind, c.id, c.action,
        c.old, c.new, c.who, c.person, (extract(epoch FROM c.at) * 1000000)::bigint, c.reason)::text, 'UTF8'))
$$;

-- seal_of is the seal of a revision, given the one before it (none before the first).
CREATE FUNCTION seal_of(sealed bigint, before bytea) RETURNS bytea LANGUAGE sql STABLE AS $$
    SELECT sha256(coalesce(before, ''::bytea) || convert_to(sealed::text, 'UTF8')
        || coalesce(string_agg(change_hash(c), ''::bytea ORDER BY c.sequence), ''::bytea))
    FROM changes AS c WHERE c.revision = sealed
$$;

-- seal_revision seals what the transaction did, as the last thing before it commits. The
-- counter's row is locked until then, so the seal before is there and no other comes between.
CREATE FUNCTION seal_revision() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    INSERT INTO seal (revision, hash)
    VALUES (NEW.revision, seal_of(NEW.revision, (SELECT hash FROM seal WHERE revision = NEW.revision - 1)));
    RETURN NULL;
END $$;

-- What was done before there were seals is sealed as it stands.
DO $$
DECLARE
    before bytea;
BEGIN
    FOR made IN 1 .. (SELECT revision FROM data_revision) LOOP
        before := seal_of(made, before);
        INSERT INTO seal (revision, hash) VALUES (made, before);
    END LOOP;
END $$;

CREATE CONSTRAINT TRIGGER seal_revision AFTER UPDATE ON data_revision
    DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION seal_revision();
CREATE TRIGGER only_triggers_write BEFORE INSERT ON seal FOR EACH ROW EXECUTE FUNCTION only_triggers_write();
CREATE TRIGGER seals_are_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON seal FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

INSERT INTO schema_applied (version) VALUES (12);
