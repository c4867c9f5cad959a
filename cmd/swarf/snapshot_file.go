package main

import (
	"context"
	"crypto/ed25519"
	"encoding/base64"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"swarf/db"
	"swarf/db/data"
	"swarf/db/snapshot"
	"swarf/domain/catalog"
	"swarf/domain/estimate"
)

// snapshotUse is the page of the command.
const snapshotUse = `usage: swarf snapshot export [-out FILE]
       swarf snapshot verify [FILE]
       swarf snapshot key

A snapshot is all data of one revision in one file, signed with Ed25519, from which
swarf ask -offline answers where there is no network.

  export   write the data of DATABASE_URL, or the reference data where that is not
           set, to FILE (else SWARF_SNAPSHOT), signed with SWARF_SNAPSHOT_KEY
  verify   check checksum, signature and data of FILE (else SWARF_SNAPSHOT) against
           SWARF_SNAPSHOT_TRUST, or the public half of SWARF_SNAPSHOT_KEY
  key      make a key by chance, and print both halves as settings: the secret one for
           whoever exports, the public one for whoever asks
`

// snapshotFile writes, checks and signs snapshot files.
func snapshotFile(ctx context.Context, p *program, args []string) error {
	set := p.flags("snapshot")
	set.Usage = func() { fmt.Fprint(p.out, snapshotUse) }
	what := ""
	if len(args) > 0 && args[0] != "" && args[0][0] != '-' {
		what, args = args[0], args[1:]
	}
	path := p.config.Snapshot
	switch what {
	case "export":
		set.StringVar(&path, "out", path, "")
		if err := parse(set, args); err != nil {
			return err
		}
		return p.export(ctx, path)
	case "verify":
		if len(args) == 1 && args[0] != "" && args[0][0] != '-' {
			path, args = args[0], nil
		}
		if err := parse(set, args); err != nil {
			return err
		}
		return p.verify(path)
	case "key":
		if err := parse(set, args); err != nil {
			return err
		}
		key, trust, err := snapshot.NewKey()
		if err != nil {
			return err
		}
		fmt.Fprintf(p.out, "SWARF_SNAPSHOT_KEY=%s\nSWARF_SNAPSHOT_TRUST=%s\n", key, trust)
		return nil
	}
	if err := parse(set, args); err != nil {
		return err
	}
	return fmt.Errorf("%w: say export, verify or key; swarf snapshot -h tells more", errUsage)
}

var errNoFile = errors.New("no file; set SWARF_SNAPSHOT or name one")

// export writes a signed snapshot of what there is.
func (p *program) export(ctx context.Context, path string) error {
	if path == "" {
		return errNoFile
	}
	key, err := snapshot.ParseKey(p.config.SnapshotKey.Reveal())
	if err != nil {
		return err
	}
	if key == nil {
		return errors.New("no key to sign with; set SWARF_SNAPSHOT_KEY (swarf snapshot key makes one)")
	}
	d, err := p.presentData(ctx)
	if err != nil {
		return err
	}
	if _, err := catalog.New(d); err != nil {
		return err
	}
	file, err := snapshot.Encode(&d, snapshot.Options{Made: time.Now(), ModelVersion: estimate.ModelVersion, Key: key})
	if err != nil {
		return err
	}
	if err := snapshot.Write(path, file); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "%s: revision %d, %d bytes, signed; to be checked with SWARF_SNAPSHOT_TRUST=%s\n", path, d.Revision, len(file),
		base64.StdEncoding.EncodeToString(key.Public().(ed25519.PublicKey)))
	return nil
}

// presentData is the data of the database, or the reference data without one.
func (p *program) presentData(ctx context.Context) (catalog.Data, error) {
	if p.config.DatabaseURL == "" {
		return data.Embedded()
	}
	pg, err := db.Open(ctx, p.dbConfig())
	if err != nil {
		return catalog.Data{}, err
	}
	defer pg.Close()
	if _, err := pg.CheckSchema(ctx); err != nil {
		return catalog.Data{}, err
	}
	d, err := pg.Snapshot(ctx)
	if err == nil && d.Revision == 0 {
		err = errors.New("the database holds no data: run swarf load")
	}
	return d, err
}

// verify says whether a snapshot is to be trusted, and what it holds.
func (p *program) verify(path string) error {
	if path == "" {
		return errNoFile
	}
	trust, err := p.config.trust()
	if err != nil {
		return err
	}
	if trust == nil {
		return errNoTrust
	}
	d, header, err := snapshot.Read(path, trust)
	if err != nil {
		return &ending{exitUnreachable, err}
	}
	if err := p.report(path, *d); err != nil {
		return &ending{exitUnreachable, err}
	}
	fmt.Fprintf(p.out, "made %s by model %s, whole, and signed with the trusted key\n", header.Made.Format(time.RFC3339), header.ModelVersion)
	if header.ModelVersion != estimate.ModelVersion {
		fmt.Fprintf(p.out, "this program computes by model %s: its digits may differ from those of whoever exported it\n", estimate.ModelVersion)
	}
	return nil
}

// checkSnapshot reports on the file that the service keeps, if it keeps one.
func (p *program) checkSnapshot() error {
	if p.config.Snapshot == "" {
		return nil
	}
	trust, err := p.config.trust()
	if err != nil {
		return err
	}
	d, header, err := snapshot.Read(p.config.Snapshot, trust)
	if errors.Is(err, fs.ErrNotExist) {
		fmt.Fprintf(p.out, "snapshot: none yet at %s\n", p.config.Snapshot)
		return nil
	}
	if err != nil {
		return fmt.Errorf("snapshot: %w", err)
	}
	fmt.Fprintf(p.out, "snapshot: made %s\n", header.Made.Format(time.RFC3339))
	return p.report("snapshot", *d)
}

// trust is the public key that snapshots must be signed with; nil when none is set.
func (c *Config) trust() (ed25519.PublicKey, error) {
	if c.SnapshotTrust != "" {
		return snapshot.ParseTrust(c.SnapshotTrust)
	}
	key, err := snapshot.ParseKey(c.SnapshotKey.Reveal())
	if key == nil {
		return nil, err
	}
	return key.Public().(ed25519.PublicKey), nil
}
