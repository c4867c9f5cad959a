package api

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"swarf/api/picture"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// listMachines answers GET /v1/machines.
func listMachines(x *exchange) error {
	p, err := x.readPage()
	if err != nil {
		return err
	}
	all := x.snap.Machines()
	items, next := slice(all, p)
	out := wire.MachineList{
		Units:        x.system.String(),
		Items:        make([]wire.Machine, len(items)),
		NextCursor:   x.next(p, next),
		DataRevision: x.snap.Revision,
		ModelVersion: x.s.ModelVersion,
	}
	for i, m := range items {
		out.Items[i] = machineToWire(m, x.system)
		out.Items[i].Units = ""
	}
	return x.conditional(out)
}

// getMachine answers GET /v1/machines/{id}.
func getMachine(x *exchange) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	m, ok := snap.Machine(id)
	if !ok {
		return notFound("machine", id, "/v1/machines")
	}
	if x.format.drawn() {
		return x.drawReading(picture.Spindle(m, nil, aboutMachine(m, x.system)))
	}
	return x.conditional(x.s.machineRecord(m, x.system))
}

// machineRecord is a machine as a single record. It states the revision in which
// the machine last changed, so that a write elsewhere leaves its tag as it is.
func (s *Server) machineRecord(m *machine.Machine, system unit.System) *wire.Machine {
	out := machineToWire(m, system)
	out.DataRevision, out.ModelVersion = m.Revision, s.ModelVersion
	return &out
}

// machineTags are the tags of the JSON representations of a machine: one per unit
// system, either of which a writer may hold.
func (s *Server) machineTags(m *machine.Machine) ([]string, error) {
	return tagsOf(func(system unit.System) any { return s.machineRecord(m, system) })
}

// tagsOf are the tags of the JSON representations of a record.
func tagsOf(shown func(unit.System) any) ([]string, error) {
	var tags []string
	for _, system := range []unit.System{unit.Metric, unit.Inch} {
		body, err := encodeJSON(shown(system), system)
		if err != nil {
			return nil, err
		}
		tags = append(tags, etag(formatJSON.contentType(), body))
	}
	return tags, nil
}

// putMachine answers PUT /v1/machines/{id}: 201 when it created, 200 when it
// replaced.
func putMachine(x *exchange) error {
	id, w, err := x.writing(true)
	if err != nil {
		return err
	}
	return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
		var body wire.Machine
		d := decodeBody(data, &body, wire.DecodeOptions{RequireUnits: true})
		x.system = d.system
		if !d.readable {
			return d.faults
		}
		faults := &cut.Faults{List: d.faults}
		if body.ID != "" && body.ID != id {
			faults.Conflict("id", "the body says "+strconv.Quote(clip(body.ID))+", the path "+strconv.Quote(clip(id)))
		}
		body.ID = id
		m := machineFromWire(&body, "", faults)
		if err := faults.List.OrNil(); err != nil {
			return err
		}
		return x.store(m, w)
	})
}

// store writes a machine and answers with what is now on record.
func (x *exchange) store(m *machine.Machine, w Write) error {
	ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
	defer cancel()
	done, err := x.s.Store.PutMachine(ctx, *m, w)
	if err != nil {
		return err
	}
	if m.Revision = done.RecordRevision; x.only {
		m.Revision = x.s.Snapshots().Revision
	}
	x.settled(ctx, done.Revision)
	body, err := x.encode(x.s.machineRecord(m, x.system))
	if err != nil {
		return err
	}
	h := x.Response().Header()
	h.Set("ETag", etag(x.format.contentType(), body))
	status := http.StatusOK
	if done.Created {
		status = http.StatusCreated
		h.Set("Location", "/v1/machines/"+url.PathEscape(m.ID))
	}
	return x.send(status, x.format.contentType(), body)
}

// deleteMachine answers DELETE /v1/machines/{id}.
func deleteMachine(x *exchange) error {
	id, w, err := x.writing(false)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
	defer cancel()
	done, err := x.s.Store.DeleteMachine(ctx, id, w)
	if err != nil {
		return err
	}
	return x.gone(ctx, done.Revision)
}

// gone answers a removal.
func (x *exchange) gone(ctx context.Context, revision int64) error {
	status := http.StatusNoContent
	if x.settled(ctx, revision); x.only {
		status = x.checkedOnly(status)
	}
	x.Response().WriteHeader(status)
	return nil
}

// longestReason is how many characters the author and the reason of a write may have.
const longestReason = 500

// writing reads what every write of a machine has: its id, who writes and why, and
// the condition, which is checked inside the transaction. What cannot be created
// must exist: then the condition does not matter (RFC 9110, 13.2.1).
func (x *exchange) writing(mayCreate bool) (string, Write, error) {
	id, by, condition, err := x.author(mayCreate, "machines cannot be stored")
	w := Write{
		Author: by,
		Check: func(present *machine.Machine) error {
			switch {
			case present != nil:
				tags, err := x.s.machineTags(present)
				if err != nil {
					return err
				}
				return condition.holds(true, tags)
			case !mayCreate:
				return notFound("machine", id, "/v1/machines")
			}
			return condition.holds(false, nil)
		},
	}
	return id, w, err
}

// author reads what every write has: the id it is about, who writes and why, and the
// condition under which it may happen. Without a store, noStore says what cannot be done.
func (x *exchange) author(mayCreate bool, cannot string) (id string, by Author, condition precondition, err error) {
	if id, err = x.pathValue("id"); err != nil {
		return id, by, condition, err
	}
	if x.s.Store == nil {
		return id, by, condition, noStore(cannot)
	}
	if condition, err = readPrecondition(x.Request(), mayCreate); err != nil {
		return id, by, condition, err
	}
	var faults cut.Faults
	text := checker{faults: &faults}
	by = x.signature(text)
	by.Reason = text.text("reason", x.query.text("reason"), longestReason)
	return id, by, condition, faults.List.OrNil()
}

// noStore is a request that needs a database where none is configured.
func noStore(what string) error {
	return fault(domain.Unavailable, "storage-not-configured", "", what+": the service runs from the reference data in the binary, without a database",
		"set DATABASE_URL to a PostgreSQL database, run `swarf migrate` and `swarf load`, and start `swarf serve` again")
}

// listChanges answers GET /v1/changes, oldest first.
func listChanges(x *exchange) error {
	if x.s.Store == nil {
		return noStore("there is no history of changes")
	}
	p, err := x.readPage()
	if err != nil {
		return err
	}
	after, bad := x.query.whole("after", 0, 1<<53, 0)
	if bad != nil {
		return bad
	}
	ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
	defer cancel()
	// One more than the page shows whether there is another.
	list, err := x.s.Store.Changes(ctx, ChangesQuery{After: after, Skip: p.start, Limit: p.limit + 1})
	if err != nil {
		return err
	}
	next := 0
	if len(list) > p.limit {
		list, next = list[:p.limit], p.start+p.limit
	}
	out := wire.ChangeList{
		Items:        make([]wire.Change, len(list)),
		NextCursor:   x.next(p, next),
		DataRevision: x.snap.Revision,
		ModelVersion: x.s.ModelVersion,
	}
	for i, c := range list {
		out.Items[i] = wire.Change{Revision: c.Revision, At: c.At.UTC().Format(time.RFC3339), Who: c.Who, Person: c.Person, Kind: c.Kind, ID: c.ID, Action: c.Action, Reason: c.Reason}
	}
	return x.conditional(out)
}
