package main

import (
	"context"
	"errors"
	"fmt"

	"swarf/db"
	"swarf/db/data"
	"swarf/domain/catalog"
)

// check reports on everything that serve needs, without serving: settings (already
// read when it is called), the embedded data and, where there is one, the database.
func check(ctx context.Context, p *program, args []string) error {
	flags := p.flags("check")
	table := flags.Bool("table", false, "list every printed result with its source, our number and whether they agree")
	list := flags.Bool("data", false, "list every finding in the embedded data and, where there is one, in the database, with file and row")
	if err := parse(flags, args); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "settings: fine, to listen on %s\n", p.config.Listen)
	embedded, err := data.Embedded()
	if err != nil {
		return fmt.Errorf("the embedded data: %w", err)
	}
	smells := p.smells(embedded, *list)
	if err := errors.Join(p.report("embedded data", embedded), smells); err != nil {
		return err
	}
	if err := p.spreads(embedded); err != nil {
		return err
	}
	if err := p.checks(*table); err != nil {
		return err
	}
	if err := p.checkSnapshot(); err != nil {
		return err
	}
	if p.config.DatabaseURL == "" {
		fmt.Fprintln(p.out, "database: none, DATABASE_URL is not set")
		return nil
	}
	pg, err := db.Open(ctx, p.dbConfig())
	if err != nil {
		return err
	}
	defer pg.Close()
	note, err := pg.CheckSchema(ctx)
	if err != nil {
		return err
	}
	if note == "" {
		note = "fits"
	}
	fmt.Fprintln(p.out, "schema:", note)
	if err := pg.CheckDurability(ctx); err != nil {
		return err
	}
	held, err := pg.Snapshot(ctx)
	if err != nil {
		return err
	}
	if held.Revision == 0 {
		return fmt.Errorf("the database holds no data: run swarf load")
	}
	smells = p.storedSmells(held, *list)
	return errors.Join(p.report("database", held), smells)
}

// report counts data that a snapshot can be made of.
func (p *program) report(what string, d catalog.Data) error {
	if _, err := catalog.New(d); err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	fmt.Fprintf(p.out, "%s: revision %d, %d materials, %d force records, %d starting values, %d tool classes, %d machines, %d sources\n",
		what, d.Revision, len(d.Materials), len(d.Force), len(d.Starting), len(d.Classes), len(d.Machines), len(d.Sources))
	return nil
}

// spreads tells how far sources differ, and how well the interval of the others held those
// that were left out.
func (p *program) spreads(d catalog.Data) error {
	snap, err := catalog.New(d)
	if err != nil {
		return err
	}
	for _, pool := range snap.Pools() {
		fmt.Fprintf(p.out, "spread of %s: %.3f over %d quantities of two sources or more; the 90 %% interval of the others holds %d of %d left-out values (%.1f %%)\n",
			pool.Kind, pool.SpreadRatio, pool.Quantities, pool.HeldCount, pool.Count, 100*float64(pool.HeldCount)/float64(max(pool.Count, 1)))
	}
	return nil
}
