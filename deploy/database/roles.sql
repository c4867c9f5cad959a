-- Three roles for swarf, each with what it needs and nothing else. A superuser runs this in
-- swarf's database before the first `swarf migrate` and again after each:
--
--   psql -d swarf -v ON_ERROR_STOP=1 -f roles.sql
--
--   swarf_owner  owns the tables: for `swarf migrate` alone
--   swarf_serve  reads and writes rows: for `swarf serve` and `swarf load`; it changes no
--                table, and takes nothing out of the history
--   swarf_read   reads everything but keys: for reports and for a person who looks
--
-- None has a password yet: give each its own with \password, or let them in by certificate.

DO $$
DECLARE
    named text;
BEGIN
    FOREACH named IN ARRAY ARRAY['swarf_owner', 'swarf_serve', 'swarf_read'] LOOP
        IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = named) THEN
            EXECUTE format('CREATE ROLE %I LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOREPLICATION', named);
        END IF;
        EXECUTE format('GRANT CONNECT ON DATABASE %I TO %I', current_database(), named);
    END LOOP;
    EXECUTE format('REVOKE ALL ON DATABASE %I FROM PUBLIC', current_database());
    EXECUTE format('GRANT CREATE ON DATABASE %I TO swarf_owner', current_database());
END $$;

REVOKE ALL ON SCHEMA public FROM PUBLIC;
GRANT USAGE, CREATE ON SCHEMA public TO swarf_owner;
GRANT USAGE ON SCHEMA public TO swarf_serve, swarf_read;

-- What the owner makes from now on.
ALTER DEFAULT PRIVILEGES FOR ROLE swarf_owner GRANT SELECT, INSERT, UPDATE, DELETE ON TABLES TO swarf_serve;
ALTER DEFAULT PRIVILEGES FOR ROLE swarf_owner GRANT USAGE ON SEQUENCES TO swarf_serve;
ALTER DEFAULT PRIVILEGES FOR ROLE swarf_owner GRANT USAGE ON SCHEMAS TO swarf_serve;
ALTER DEFAULT PRIVILEGES FOR ROLE swarf_owner IN SCHEMA public GRANT SELECT ON TABLES TO swarf_read;

-- What is there already, once migrated.
DO $$
DECLARE
    named text;
BEGIN
    FOREACH named IN ARRAY ARRAY['public', 'river'] LOOP
        IF to_regnamespace(named) IS NOT NULL THEN
            EXECUTE format('GRANT USAGE ON SCHEMA %I TO swarf_serve', named);
            EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA %I TO swarf_serve', named);
            EXECUTE format('GRANT USAGE ON ALL SEQUENCES IN SCHEMA %I TO swarf_serve', named);
        END IF;
    END LOOP;
    GRANT SELECT ON ALL TABLES IN SCHEMA public TO swarf_read;

    -- The history is added to and nothing else; which steps were run is the owner's to say.
    FOREACH named IN ARRAY ARRAY['changes', 'seal', 'access_change'] LOOP
        IF to_regclass('public.' || named) IS NOT NULL THEN
            EXECUTE format('REVOKE UPDATE, DELETE ON public.%I FROM swarf_serve', named);
        END IF;
    END LOOP;
    FOREACH named IN ARRAY ARRAY['schema_migrations', 'schema_applied'] LOOP
        IF to_regclass('public.' || named) IS NOT NULL THEN
            EXECUTE format('REVOKE INSERT, UPDATE, DELETE ON public.%I FROM swarf_serve', named);
        END IF;
    END LOOP;
    IF to_regclass('public.data_revision') IS NOT NULL THEN
        REVOKE INSERT, DELETE ON public.data_revision FROM swarf_serve;
    END IF;

    -- Keys are nobody's to read but the service's.
    FOREACH named IN ARRAY ARRAY['access_key', 'access_use', 'access_change', 'kept_answer'] LOOP
        IF to_regclass('public.' || named) IS NOT NULL THEN
            EXECUTE format('REVOKE ALL ON public.%I FROM swarf_read', named);
        END IF;
    END LOOP;
END $$;
