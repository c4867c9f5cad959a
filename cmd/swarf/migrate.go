package main

import (
	"context"
	"errors"
	"fmt"

	"swarf/db"
	"swarf/db/data"
)

var errNoDatabase = errors.New("DATABASE_URL names no database; set it to postgres://user@host:5432/name")

// migrate brings the database to the schema of this program.
func migrate(ctx context.Context, p *program, args []string) error {
	if err := parse(p.flags("migrate"), args); err != nil {
		return err
	}
	if p.config.DatabaseURL == "" {
		return errNoDatabase
	}
	report, err := db.Migrate(ctx, p.dbConfig())
	if err != nil {
		return err
	}
	fmt.Fprintln(p.out, report)
	return nil
}

// load puts the embedded reference data into the database in one transaction and
// reports what changed. Doing it twice changes nothing.
func load(ctx context.Context, p *program, args []string) error {
	set := p.flags("load")
	var options db.LoadOptions
	set.BoolVar(&options.DryRun, "dry-run", false, "compare and report, write nothing")
	set.BoolVar(&options.Demo, "demo", false, "load the invented machines of the demonstration too")
	set.StringVar(&options.Reason, "reason", "reference data of this program", "why, for the history")
	if err := parse(set, args); err != nil {
		return err
	}
	if p.config.DatabaseURL == "" {
		return errNoDatabase
	}
	embedded, err := data.Embedded()
	if err != nil {
		return fmt.Errorf("the embedded data: %w", err)
	}
	pg, err := db.Open(ctx, p.dbConfig())
	if err != nil {
		return err
	}
	defer pg.Close()
	if _, err := pg.CheckSchema(ctx); err != nil {
		return err
	}
	options.Who = operator("swarf load")
	report, err := pg.Load(ctx, embedded, options)
	if err != nil {
		return err
	}
	fmt.Fprint(p.out, report)
	return nil
}
