package api

import (
	"slices"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
)

// listMaterials answers GET /v1/materials: by designation or text, and by group.
func listMaterials(x *exchange) error {
	group, bad := groupParameter(x.query)
	p, err := x.readPage()
	if bad != nil {
		return combine(domain.Errors{bad}, err)
	}
	if err != nil {
		return err
	}
	found, next := slice(x.snap.Search(x.query.text("q"), group), p)
	cursor := x.next(p, next)
	if x.format == formatCSV {
		rows := make([]materialRow, len(found))
		for i, m := range found {
			rows[i] = materialToRow(m)
		}
		return x.conditional(&table[materialRow]{rows, x.snap.Revision, x.s.ModelVersion})
	}
	out := wire.MaterialList{
		Items:        make([]wire.MaterialItem, len(found)),
		NextCursor:   cursor,
		DataRevision: x.snap.Revision,
		ModelVersion: x.s.ModelVersion,
	}
	for i, m := range found {
		out.Items[i] = materialToItem(m)
	}
	return x.conditional(&out)
}

// groupParameter reads the group letter of a search; empty asks for all.
func groupParameter(query parameters) (material.Group, *domain.Error) {
	group := material.Group(query.text("group"))
	if group == "" || slices.Contains(material.Groups, group) {
		return group, nil
	}
	letters := make([]string, len(material.Groups))
	for i, g := range material.Groups {
		letters[i] = string(g)
	}
	return "", fault(domain.Invalid, "value-out-of-range", "group", "group is "+strconv.Quote(clip(string(group))), "send one letter of "+strings.Join(letters, ", "))
}

// getMaterial answers GET /v1/materials/{id}.
func getMaterial(x *exchange) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	m, ok := snap.Material(id)
	if !ok {
		return noMaterial(snap, id)
	}
	out := materialToWire(m, recordsOf(snap, m), x.system)
	out.DataRevision, out.ModelVersion = m.Revision, x.s.ModelVersion
	return x.conditional(out)
}

// noMaterial says that an id does not exist, and which id it is when the caller
// sent a designation.
func noMaterial(snap *catalog.Snapshot, id string) error {
	missing := notFound("material", id, "/v1/materials")
	if m, err := snap.FindGrade(id); err == nil {
		missing.Fix = strconv.Quote(clip(id)) + " is a designation of the material with the id " + m.ID + "; read /v1/materials/" + m.ID
	} else {
		missing.Fix = "search with /v1/materials?q="
	}
	return missing
}

// recordsOf gathers the records that can serve a grade: its own first, then those
// of its subgroup and of its group.
func recordsOf(snap *catalog.Snapshot, m *material.Material) records {
	var out records
	for _, scope := range snap.RecordsFor(m) {
		for i := range scope.Force {
			out.force = append(out.force, &scope.Force[i])
		}
		for i := range scope.Starting {
			out.starting = append(out.starting, &scope.Starting[i])
		}
		for i := range scope.Life {
			out.life = append(out.life, &scope.Life[i])
		}
	}
	return out
}

// materialRow is a grade as a row of a table.
type materialRow struct {
	ID           string `json:"id"`
	Name         string `json:"name"`
	Group        string `json:"group"`
	Subgroup     string `json:"subgroup"`
	Designations string `json:"designations"`
	Conditions   string `json:"conditions"`
}

func materialToRow(m *material.Material) materialRow {
	names := make([]string, len(m.Designations))
	for i, d := range m.Designations {
		names[i] = d.Standard + " " + d.Value
	}
	conditions := make([]string, len(m.Conditions))
	for i := range m.Conditions {
		conditions[i] = m.Conditions[i].Name
	}
	return materialRow{
		ID:           m.ID,
		Name:         m.Name,
		Group:        string(m.Group),
		Subgroup:     m.Subgroup,
		Designations: strings.Join(names, "; "),
		Conditions:   strings.Join(conditions, "; "),
	}
}

// table is a list as CSV has it.
type table[Row any] struct {
	Items        []Row  `json:"items"`
	DataRevision int64  `json:"data_revision"`
	ModelVersion string `json:"model_version"`
}
