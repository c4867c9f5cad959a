package api_test

import (
	"context"
	"slices"
	"strings"
	"time"

	"swarf/api"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/evidence"
	"swarf/domain/material"
)

// The shop's records and cuts, kept in memory as the database keeps them.

func (s *shop) commit(kind, id, action string, by api.Author) (api.Written, error) {
	s.data.Revision = int64(len(s.snaps) + 1)
	s.snaps = append(s.snaps, snapshotOf(s.t, s.data))
	s.log = append(s.log, api.Change{Revision: s.data.Revision, At: time.Now(), Who: by.Who, Person: by.Person, Kind: kind, ID: id, Action: action, Reason: by.Reason})
	done := api.Written{Revision: s.data.Revision, RecordRevision: s.data.Revision, Created: action == "added", Record: s.present(id)}
	done.Cut, _ = s.snaps[len(s.snaps)-1].Cut(id)
	return done, nil
}

func (s *shop) present(id string) *catalog.Record {
	r, _ := s.snaps[len(s.snaps)-1].Record(id)
	return r
}

// life is the curation of a record of the data, made where there is none.
func life(p *material.Provenance) material.Curation {
	if p.Curation != nil {
		return *p.Curation
	}
	return material.Curation{Kind: "force", State: material.Approved, InForce: true, Author: "reference data", ValidFrom: "0001-01-01T00:00:00Z"}
}

func (s *shop) curate(id string, c material.Curation) {
	c.Revision = int64(len(s.snaps) + 1)
	s.data.Force = slices.Clone(s.data.Force)
	for i := range s.data.Force {
		if s.data.Force[i].ID == id {
			s.data.Force[i].Curation = &c
		}
	}
}

func (s *shop) PutRecord(_ context.Context, r catalog.Record, by api.Author, check func(*catalog.Record) error) (api.Written, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	present := s.present(r.ID)
	if err := check(present); err != nil {
		return api.Written{}, err
	}
	action := "added"
	if present != nil {
		now := life(present.Provenance())
		if _, err := now.Revise(material.Step{Who: by.Who}); err != nil {
			return api.Written{}, err
		}
		action = "changed"
	}
	s.data.Force = slices.DeleteFunc(slices.Clone(s.data.Force), func(f material.Force) bool { return f.ID == r.ID })
	s.data.Life = slices.DeleteFunc(slices.Clone(s.data.Life), func(l material.Life) bool { return l.ID == r.ID })
	if r.Life != nil {
		s.data.Life = append(s.data.Life, *r.Life)
	} else {
		s.data.Force = append(s.data.Force, *r.Force)
		s.curate(r.ID, *r.Force.Curation)
	}
	return s.commit("record", r.ID, action, by)
}

func (s *shop) CurateRecord(_ context.Context, id string, by api.Author, step func(*material.Curation) (material.Curation, error)) (api.Written, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	present := s.present(id)
	if present == nil {
		return api.Written{}, &domain.Error{Kind: domain.NotFound, Code: "not-found", Msg: "there is no record " + id}
	}
	now := life(present.Provenance())
	after, err := step(&now)
	if err != nil {
		return api.Written{}, err
	}
	s.curate(id, after)
	if old := s.present(after.Supersedes); after.Supersedes != "" && after.InForce && old != nil {
		was := life(old.Provenance())
		s.curate(old.ID, was.Supersede(id, after.ValidFrom))
	}
	return s.commit("record", id, "changed", by)
}

func (s *shop) PutCut(_ context.Context, c catalog.StoredCut, by api.Author, check func(*catalog.StoredCut) error) (api.Written, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	present, _ := s.snaps[len(s.snaps)-1].Cut(c.ID)
	if err := check(present); err != nil {
		return api.Written{}, err
	}
	action := "added"
	if present != nil {
		action = "changed"
	}
	c.Revision = int64(len(s.snaps) + 1)
	s.data.Cuts = append(slices.DeleteFunc(slices.Clone(s.data.Cuts), func(x catalog.StoredCut) bool { return x.ID == c.ID }), c)
	slices.SortFunc(s.data.Cuts, func(a, b catalog.StoredCut) int { return strings.Compare(a.ID, b.ID) })
	return s.commit("cut", c.ID, action, by)
}

func (s *shop) DeleteCut(_ context.Context, id string, by api.Author, check func(*catalog.StoredCut) error) (api.Written, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	present, _ := s.snaps[len(s.snaps)-1].Cut(id)
	if err := check(present); err != nil {
		return api.Written{}, err
	}
	s.data.Cuts = slices.DeleteFunc(slices.Clone(s.data.Cuts), func(x catalog.StoredCut) bool { return x.ID == id })
	return s.commit("cut", id, "removed", by)
}

func (s *shop) AddObservations(_ context.Context, list []evidence.Kept) (int64, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.away {
		return 0, &domain.Error{Kind: domain.Unavailable, Code: "data-not-ready", Msg: "the database is out of reach", Fix: "try again shortly"}
	}
	first := int64(len(s.seen) + 1)
	for i, k := range list {
		k.ID = first + int64(i)
		s.seen = append(s.seen, k)
	}
	return first, nil
}

func (s *shop) Observations(_ context.Context, q api.ObservationsQuery) ([]evidence.Kept, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var list []evidence.Kept
	for _, k := range s.seen {
		fits := func(asked, is string) bool { return asked == "" || asked == is }
		if k.ID > q.After && len(list) < q.Limit && fits(q.Kind, k.Kind) && fits(q.State, k.State()) && fits(q.Material, k.Material) && fits(q.Machine, k.Machine) {
			list = append(list, k)
		}
	}
	return list, nil
}

func (s *shop) ForcePoints(_ context.Context, id, process string, _ int) ([]evidence.ForcePoint, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var own, other []evidence.ForcePoint
	for _, k := range s.seen {
		if k.Seen == nil || k.SetAside {
			continue
		}
		p := evidence.ForcePoint{Material: k.Material + "|" + k.Process, Machine: k.Machine, Lot: k.Lot, Edge: k.Edge, ForceExp: k.Seen.ForceExp, ThicknessExp: k.Seen.ThicknessExp, WearRatio: k.Seen.WearRatio}
		if k.Material == id && k.Process == process {
			own = append(own, p)
		} else {
			other = append(other, p)
		}
	}
	return append(own, other...), nil
}

func (s *shop) LifePoints(_ context.Context, id, process, toolMaterial string, _ int) ([]evidence.LifePoint, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var list []evidence.LifePoint
	for _, k := range s.seen {
		if k.Ended != nil && !k.SetAside && k.Material == id && k.Process == process && k.ToolMaterial == toolMaterial {
			list = append(list, evidence.LifePoint{Ended: *k.Ended, Lot: k.Lot, Machine: k.Machine})
		}
	}
	return list, nil
}

func (s *shop) Import(_ context.Context, what api.Import, by api.Author) (api.Written, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if now := int64(len(s.snaps)); what.Revision != now || s.overtake {
		return api.Written{}, &domain.Error{Kind: domain.Conflict, Code: "import-overtaken", Msg: "the data changed", Fix: "send it again"}
	}
	s.data = what.On(s.data)
	for _, r := range what.Records {
		s.drafts[r.ID] = int64(len(s.snaps) + 1)
	}
	return s.commit("record", "import", "added", by)
}

func (s *shop) CurateImport(_ context.Context, revision int64, by api.Author, step func(*material.Curation) (material.Curation, error)) (int, api.Written, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	n := 0
	for id, in := range s.drafts {
		now := life(s.present(id).Provenance())
		if in != revision || now.State != material.Draft {
			continue
		}
		after, err := step(&now)
		if err != nil {
			return 0, api.Written{}, err
		}
		n++
		s.curate(id, after)
	}
	if n == 0 {
		return 0, api.Written{}, &domain.Error{Kind: domain.NotFound, Code: "not-found", Msg: "no drafts"}
	}
	done, err := s.commit("record", "import", "changed", by)
	return n, done, err
}
