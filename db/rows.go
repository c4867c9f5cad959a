package db

import (
	"cmp"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/unit"
)

// rows is the content of the tables, one slice per table.
type rows struct {
	sources      []sourceRow
	materials    []materialRow
	designations []designationRow
	conditions   []conditionRow
	properties   []propertyRow
	force        []forceRow
	starting     []startingRow
	life         []lifeRow
	classes      []classRow
	classProps   []classPropertyRow
	hardness     []hardnessRow
	machines     []machineRow
	lives        []curationRow
	cuts         []cutRow
}

// table ties a table to its slice of rows. The order of tables is that in which
// rows can be added; removals go the other way round.
type table struct {
	name    string
	keys    []string // columns of the key
	columns []string // all that are written; the triggers write revision
	decode  func(*rows, []byte) error
	list    func(*rows) []any
}

var tables = []table{
	tableOf("source", func(r *rows) *[]sourceRow { return &r.sources }, "id"),
	tableOf("material", func(r *rows) *[]materialRow { return &r.materials }, "id"),
	tableOf("designation", func(r *rows) *[]designationRow { return &r.designations }, "material_id", "standard", "value"),
	tableOf("material_condition", func(r *rows) *[]conditionRow { return &r.conditions }, "material_id", "name"),
	tableOf("physical_property", func(r *rows) *[]propertyRow { return &r.properties }, "material_id", "position"),
	tableOf("force_record", func(r *rows) *[]forceRow { return &r.force }, "id"),
	tableOf("starting_record", func(r *rows) *[]startingRow { return &r.starting }, "id"),
	tableOf("life_record", func(r *rows) *[]lifeRow { return &r.life }, "id"),
	tableOf("tool_class", func(r *rows) *[]classRow { return &r.classes }, "id"),
	tableOf("tool_property", func(r *rows) *[]classPropertyRow { return &r.classProps }, "class_id", "name"),
	tableOf("hardness_row", func(r *rows) *[]hardnessRow { return &r.hardness }, "position"),
	tableOf("machine", func(r *rows) *[]machineRow { return &r.machines }, "id"),
	tableOf("curation", func(r *rows) *[]curationRow { return &r.lives }, "record_id"),
	tableOf("stored_cut", func(r *rows) *[]cutRow { return &r.cuts }, "id"),
}

func tableOf[R any](name string, in func(*rows) *[]R, keys ...string) table {
	return table{
		name:    name,
		keys:    keys,
		columns: columnsOf(reflect.TypeFor[R]()),
		decode: func(all *rows, text []byte) error {
			var row R
			if err := json.Unmarshal(text, &row); err != nil {
				return fmt.Errorf("row of %s: %w", name, err)
			}
			*in(all) = append(*in(all), row)
			return nil
		},
		list: func(all *rows) []any {
			out := make([]any, len(*in(all)))
			for i, row := range *in(all) {
				out[i] = row
			}
			return out
		},
	}
}

// columnsOf reads the column names from the members' tags.
func columnsOf(row reflect.Type) []string {
	var columns []string
	for _, member := range reflect.VisibleFields(row) {
		name, _, _ := strings.Cut(member.Tag.Get("json"), ",")
		if name != "" && name != "revision" {
			columns = append(columns, name)
		}
	}
	return columns
}

// tableNamed finds a table.
func tableNamed(name string) (*table, bool) {
	for i := range tables {
		if tables[i].name == name {
			return &tables[i], true
		}
	}
	return nil, false
}

// provenanceRow is the columns that every number carries, but for the record's id.
type provenanceRow struct {
	Basis    domain.Basis `json:"basis"`
	SourceID string       `json:"source_id"`
	Place    string       `json:"place"`
	Note     string       `json:"note"`
}

// span is a range of validity whose quantity its column tells.
func span(quantity unit.Quantity, low, high unit.Opt) domain.Range {
	return domain.Range{Quantity: quantity, Low: low, High: high}
}

// spanned refuses a range in another quantity than its columns hold.
func spanned(what string, r domain.Range, quantity unit.Quantity) error {
	if r.Known() && r.Quantity != quantity {
		return fmt.Errorf("%s: a range of %s where %s belongs", what, r.Quantity.Name(), quantity.Name())
	}
	return nil
}

// present is a number of a record in which zero says that there is none.
func present(v float64) unit.Opt {
	if v == 0 {
		return unit.Opt{}
	}
	return unit.Some(v)
}

// list is a text[] column that is never NULL.
type list []string

// MarshalJSON writes no entries as an empty list.
func (l list) MarshalJSON() ([]byte, error) {
	if l == nil {
		return []byte("[]"), nil
	}
	return json.Marshal([]string(l))
}

// entries gives no entries as nil.
func (l list) entries() []string {
	if len(l) == 0 {
		return nil
	}
	return l
}

// sort puts every slice into the order of the snapshot: by id, and what belongs to
// a grade or class in its own order.
func (r *rows) sort() {
	by(r.sources, func(x sourceRow) (string, int) { return x.ID, 0 })
	by(r.materials, func(x materialRow) (string, int) { return x.ID, 0 })
	by(r.designations, func(x designationRow) (string, int) { return x.MaterialID, x.Position })
	by(r.conditions, func(x conditionRow) (string, int) { return x.MaterialID, x.Position })
	by(r.properties, func(x propertyRow) (string, int) { return x.MaterialID, x.Position })
	by(r.force, func(x forceRow) (string, int) { return x.ID, 0 })
	by(r.starting, func(x startingRow) (string, int) { return x.ID, 0 })
	by(r.life, func(x lifeRow) (string, int) { return x.ID, 0 })
	by(r.classes, func(x classRow) (string, int) { return x.ID, 0 })
	by(r.classProps, func(x classPropertyRow) (string, int) { return x.ClassID, x.Position })
	by(r.hardness, func(x hardnessRow) (string, int) { return "", x.Position })
	by(r.machines, func(x machineRow) (string, int) { return x.ID, 0 })
	by(r.lives, func(x curationRow) (string, int) { return x.RecordID, 0 })
	by(r.cuts, func(x cutRow) (string, int) { return x.ID, 0 })
}

func by[R any](list []R, key func(R) (string, int)) {
	slices.SortFunc(list, func(a, b R) int {
		id, place := key(a)
		otherID, otherPlace := key(b)
		return cmp.Or(strings.Compare(id, otherID), cmp.Compare(place, otherPlace))
	})
}
