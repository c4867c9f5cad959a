// Package db keeps the service's data in PostgreSQL: it builds the schema, loads
// the reference data, reads snapshots of now and of earlier revisions, writes
// machines and tells of changes. It returns domain types and domain errors;
// errors.go is the only place that reads the driver's.
//
// Rows travel as JSON in both directions, to_jsonb(row) out and
// jsonb_populate_record in, so that a row of a table and a row of the history are
// decoded by the same code and give the same digits (PostgreSQL and Go both write
// the shortest decimal that reads back as the same double). It also lets the code
// run on either side of its own migration: a column it does not know is passed
// over, one that is not there yet reads as zero. That is why the SQL that reads
// whole rows lists no columns.
package db
