package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"swarf/db"
)

// audit goes through the whole history of the database and says whether it is as it was
// written. What is not ends it with 1.
func audit(ctx context.Context, p *program, args []string) error {
	set := p.flags("audit verify")
	written := set.String("seal", "", "a seal that was written down, as revision:hash: the history up to it must be the one it closed")
	if len(args) == 0 || args[0] != "verify" {
		return fmt.Errorf("%w: swarf audit verify [-seal revision:hash]", errUsage)
	}
	if err := parse(set, args[1:]); err != nil {
		return err
	}
	var known *db.Seal
	if *written != "" {
		seal, err := db.ParseSeal(*written)
		if err != nil {
			return fmt.Errorf("%w: -seal: %w", errUsage, err)
		}
		known = &seal
	}
	if p.config.DatabaseURL == "" {
		return errNoDatabase
	}
	pg, err := db.Open(ctx, p.dbConfig())
	if err != nil {
		return err
	}
	defer pg.Close()
	found, err := pg.Audit(ctx, known)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, "%d revisions with %d changes\n", found.Revisions, found.Changes)
	if len(found.Faults) > 0 {
		return errors.New("the history is not as it was written:\n  " + strings.Join(found.Faults, "\n  "))
	}
	fmt.Fprintln(p.out, "every change is as it was sealed, every row as it was last changed")
	if found.Revisions > 0 {
		fmt.Fprintf(p.out, "seal: %s\nKeep it outside the database: a later run with -seal shows that nothing up to it was ever rewritten.\n", found.Head)
	}
	return nil
}
