package main

import (
	"context"
	"crypto/ed25519"
	"errors"
	"io/fs"
	"log/slog"
	"reflect"
	"slices"
	"time"

	"swarf/db/snapshot"
	"swarf/domain/access"
	"swarf/domain/catalog"
	"swarf/domain/estimate"
)

// keepRest is the least time between two writes of the snapshot file: a shop that changes
// machines all day does not write everything each time.
const keepRest = 10 * time.Second

// keeper keeps a file of the present data and of who may ask for it, from which the service starts while the database
// is away.
type keeper struct {
	path    string
	key     ed25519.PrivateKey // signs; nil: the checksum alone
	trust   ed25519.PublicKey  // the file must be signed with
	present *snapshots
	ring    *keyring
	log     *slog.Logger
	rest    time.Duration
	newer   chan struct{} // holds one token: there may be something new to write
	last    int64         // revision in the file, 0 before the first write
	callers []access.Key  // in the file
}

// keeper is that of the settings; nil where they name no file.
func (p *program) keeper(present *snapshots, ring *keyring) (*keeper, error) {
	if p.config.Snapshot == "" {
		return nil, nil
	}
	key, err := snapshot.ParseKey(p.config.SnapshotKey.Reveal())
	if err != nil {
		return nil, err
	}
	trust, err := p.config.trust()
	if err != nil {
		return nil, err
	}
	return &keeper{path: p.config.Snapshot, key: key, trust: trust, present: present, ring: ring, log: p.log, rest: keepRest, newer: make(chan struct{}, 1)}, nil
}

// tell says that there is newer data. It does not wait.
func (k *keeper) tell() {
	if k == nil {
		return
	}
	select {
	case k.newer <- struct{}{}:
	default:
	}
}

// run writes the file as it is told, with a rest between, until the context ends; what it was
// told then goes out at once.
func (k *keeper) run(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			select {
			case <-k.newer:
				k.write()
			default:
			}
			return
		case <-k.newer:
		}
		k.write()
		select {
		case <-ctx.Done():
		case <-time.After(k.rest):
		}
	}
}

// write puts the present data into the file, unless it is there.
func (k *keeper) write() {
	snap := k.present.now()
	if snap == nil || k.present.cold.Load() {
		return
	}
	callers := k.ring.Ring()
	keys := unused(callers)
	if snap.Revision == k.last && reflect.DeepEqual(keys, k.callers) {
		return
	}
	d := snap.Data()
	file, err := snapshot.Encode(&d, snapshot.Options{Made: time.Now(), ModelVersion: estimate.ModelVersion, Key: k.key, Callers: callers})
	if err == nil {
		err = snapshot.Write(k.path, file)
	}
	if err != nil {
		k.log.Warn("the snapshot file was not written; a start without the database would serve older data, or none", "error", err)
		return
	}
	k.last, k.callers = snap.Revision, keys
	k.log.Info("kept a snapshot", "file", k.path, "data_revision", snap.Revision, "bytes", len(file))
}

// unused are the keys of a ring without when they were used, which is no news.
func unused(r *access.Ring) []access.Key {
	if r == nil {
		return nil
	}
	keys := slices.Clone(r.Keys())
	for i := range keys {
		keys[i].UsedUnix = 0
	}
	return keys
}

// start serves from the file while nothing else is there. A file that is damaged, or not
// signed as it must be, serves nothing: no number is better than a wrong one.
func (k *keeper) start(way *link) {
	if k == nil || k.present.now() != nil {
		return
	}
	d, callers, header, err := snapshot.ReadKept(k.path, k.trust)
	var snap *catalog.Snapshot
	if err == nil {
		snap, err = catalog.New(*d)
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		k.log.Warn("no snapshot file to start from", "file", k.path)
	case err != nil:
		k.log.Error("the snapshot file is refused", "file", k.path, "error", err)
	case k.present.seed(snap):
		way.heardAt(header.Made)
		k.ring.seed(callers)
		k.log.Warn("serving from the snapshot file until the database answers", "file", k.path, "data_revision", snap.Revision, "made", header.Made)
	}
}
