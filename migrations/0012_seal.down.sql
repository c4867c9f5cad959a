DROP TRIGGER seal_revision ON data_revision;
DROP FUNCTION seal_revision();
DROP FUNCTION seal_of(bigint, bytea);
DROP FUNCTION change_hash(changes);
DROP TABLE seal;
DELETE FROM schema_applied WHERE version = 12;
