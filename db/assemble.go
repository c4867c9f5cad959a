package db

import (
	"context"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
)

// build makes the domain's data from rows and the revisions of the nouns.
func build(ctx context.Context, tx pgx.Tx, from *rows, revision int64) (catalog.Data, error) {
	last, err := lastRevisions(ctx, tx, revision)
	if err != nil {
		return catalog.Data{}, err
	}
	return from.data(revision, last)
}

// noun is something with a name of its own on the wire.
type noun struct{ kind, id string }

// lastRevisions reads in which revision each noun last changed, up to a revision;
// with kind "scope/material", "scope/subgroup" and "scope/group" also the records
// of each scope.
func lastRevisions(ctx context.Context, tx pgx.Tx, revision int64) (map[noun]int64, error) {
	result, err := tx.Query(ctx, `
		SELECT kind, id, max(revision) FROM changes WHERE revision <= $1 GROUP BY kind, id
		UNION ALL
		SELECT 'scope/' || (whole ->> 'scope_level'), whole ->> 'scope_key', max(revision)
		FROM changes CROSS JOIN LATERAL (VALUES (old), (new)) AS v (whole)
		WHERE kind = 'record' AND revision <= $1 AND whole ->> 'scope_level' IS NOT NULL
		GROUP BY 1, 2`, revision)
	if err != nil {
		return nil, err
	}
	last := map[noun]int64{}
	var n noun
	var in int64
	_, err = pgx.ForEachRow(result, []any{&n.kind, &n.id, &in}, func() error {
		last[n] = in
		return nil
	})
	return last, err
}

// data is the domain's view of the rows.
func (r *rows) data(revision int64, last map[noun]int64) (catalog.Data, error) {
	out := catalog.Data{Revision: revision}
	for _, x := range r.sources {
		source := domain.Source(x)
		source.Revision = last[noun{"source", x.ID}]
		out.Sources = append(out.Sources, source)
	}
	var err error
	if out.Materials, err = r.materialList(); err != nil {
		return catalog.Data{}, err
	}
	for i := range out.Materials {
		m := &out.Materials[i]
		group := string(m.Group)
		m.Revision = max(last[noun{"material", m.ID}], last[noun{"scope/material", m.ID}],
			last[noun{"scope/subgroup", group + "/" + m.Subgroup}], last[noun{"scope/group", group}])
	}
	lives := r.curations()
	out.Force, out.Starting = make([]material.Force, 0, len(r.force)), make([]material.Starting, 0, len(r.starting))
	for _, x := range r.force {
		f := x.record()
		f.Curation = lives[x.ID]
		out.Force = append(out.Force, f)
	}
	for _, x := range r.starting {
		s := x.record()
		s.Curation = lives[x.ID]
		out.Starting = append(out.Starting, s)
	}
	for _, x := range r.life {
		l := x.record()
		l.Curation = lives[x.ID]
		out.Life = append(out.Life, l)
	}
	for _, x := range r.cuts {
		out.Cuts = append(out.Cuts, x.cut())
	}
	if out.Classes, err = r.classList(); err != nil {
		return catalog.Data{}, err
	}
	for i := range out.Classes {
		out.Classes[i].Revision = last[noun{"tool-class", out.Classes[i].ID}]
	}
	for _, x := range r.hardness {
		out.Hardness = append(out.Hardness, x.row())
	}
	for _, x := range r.machines {
		out.Machines = append(out.Machines, x.machine())
	}
	return out, nil
}

// rowsOf is the way back: the rows that hold the domain's data, sorted.
func rowsOf(data *catalog.Data) (*rows, error) {
	out := &rows{}
	for _, s := range data.Sources {
		out.addSource(s)
	}
	for i := range data.Materials {
		if err := out.addMaterial(&data.Materials[i]); err != nil {
			return nil, err
		}
	}
	for _, f := range data.Force {
		if err := out.addForce(f); err != nil {
			return nil, err
		}
	}
	for _, s := range data.Starting {
		if err := out.addStarting(s); err != nil {
			return nil, err
		}
	}
	for _, l := range data.Life {
		out.addLife(l)
	}
	for i := range data.Classes {
		out.addClass(&data.Classes[i])
	}
	for _, h := range data.Hardness {
		out.addHardness(h)
	}
	for i := range data.Machines {
		out.machines = append(out.machines, machineRowOf(&data.Machines[i]))
	}
	out.sort()
	return out, nil
}
