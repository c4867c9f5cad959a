package api

import (
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
)

// listSources answers GET /v1/sources.
func listSources(x *exchange) error {
	p, err := x.readPage()
	if err != nil {
		return err
	}
	found, next := slice(x.snap.Sources(), p)
	out := wire.SourceList{
		Items:        make([]wire.Source, len(found)),
		NextCursor:   x.next(p, next),
		DataRevision: x.snap.Revision,
		ModelVersion: x.s.ModelVersion,
	}
	for i, s := range found {
		out.Items[i] = sourceToWire(s, x.snap.SourceUses(s.ID))
		out.Items[i].Records = nil
	}
	return x.conditional(&out)
}

// getSource answers GET /v1/sources/{id} with every record that rests on it.
func getSource(x *exchange) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	s, ok := snap.Source(id)
	if !ok {
		return notFound("source", id, "/v1/sources")
	}
	out := sourceToWire(s, snap.SourceUses(s.ID))
	out.DataRevision, out.ModelVersion = s.Revision, x.s.ModelVersion
	return x.conditional(&out)
}

func sourceToWire(s *domain.Source, uses []catalog.SourceUse) wire.Source {
	out := wire.Source{
		ID:       s.ID,
		Author:   s.Author,
		Title:    s.Title,
		Year:     s.Year,
		Place:    s.Place,
		Address:  s.Address,
		Kind:     s.Kind,
		Access:   s.Access,
		Reviewed: s.Reviewed,
		Note:     s.Note,
		Records:  make([]wire.SourceUse, len(uses)),
	}
	for i, use := range uses {
		out.Records[i] = wire.SourceUse{Kind: use.Kind, ID: use.ID, Scope: scopeToWire(use.Scope), Basis: string(use.Basis), Place: use.Place}
		switch use.Kind {
		case "condition":
			out.Counts.Conditions++
		case "physical":
			out.Counts.Physical++
		case "force_data":
			out.Counts.ForceData++
		case "starting_values":
			out.Counts.StartingValues++
		case "life_data":
			out.Counts.LifeData++
		}
	}
	return out
}
