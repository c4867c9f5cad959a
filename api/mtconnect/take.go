package mtconnect

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Reading is one dimension of a tool as its asset has it. Member is empty for an element that
// the schema does not have; its code may say what it is.
type Reading struct {
	Member  string
	Element string
	Code    string
	Units   string // of the value
	Value   float64
}

// Left is what an asset says and nobody took.
type Left struct{ Element, Value, Why string }

// Fault is what an asset says and cannot mean.
type Fault struct{ Element, Value, Why, Fix string }

// Taken is what was read of an asset.
type Taken struct {
	Readings []Reading
	Left     []Left
	Faults   []Fault
	disputed map[string]bool // of which there are several values
}

// Dimensions reads the measurements of the assembly and of its cutting items. A dimension
// with several values is left, for nobody knows which of them cuts.
func (t *CuttingTool) Dimensions() *Taken {
	taken := &Taken{disputed: map[string]bool{}}
	taken.measured("Measurements", t.LifeCycle.Measurements, false)
	if items := t.LifeCycle.Items; items != nil {
		for i := range items.All {
			taken.measured("CuttingItems.CuttingItem["+strconv.Itoa(i)+"].Measurements", items.All[i].Measurements, true)
		}
	}
	return taken
}

// measured reads a list of measurements.
func (t *Taken) measured(where string, list *Measurements, item bool) {
	if list == nil {
		return
	}
	for i := range list.All {
		m := &list.All[i]
		element := where + "." + m.XMLName.Local
		text := strings.TrimSpace(m.Value)
		if text == "" {
			text = strings.TrimSpace(m.Nominal)
		}
		if text == "" {
			t.left(element, "", "it has neither a value nor a nominal one")
			continue
		}
		value, ok := t.number(element, text)
		if !ok {
			continue
		}
		r := Reading{Element: element, Code: m.Code, Units: m.Units, Value: value}
		if p := propertyOf(m); p != nil {
			if r.Member, r.Code = p.Member, p.Code; r.Units == "" {
				r.Units = p.Units
			}
			if r.Units != p.Units {
				t.Faults = append(t.Faults, Fault{element, m.Units, "the standard measures it in " + p.Units, "convert the value, and state units=\"" + p.Units + "\""})
				continue
			}
			if m.XMLName.Local == leadAngle {
				r.Value, r.Code = 90-value, "KAPR"
			}
		}
		t.add(r, item)
	}
}

// add takes a reading up, unless another says the same or another.
func (t *Taken) add(r Reading, item bool) {
	what := r.Member
	if what == "" {
		what = r.Code
	}
	if t.disputed[what] {
		t.left(r.Element, plain(r.Value), "there are several values")
		return
	}
	at := slices.IndexFunc(t.Readings, func(other Reading) bool {
		return what != "" && (other.Member == what || other.Member == "" && other.Code == what)
	})
	if at < 0 {
		t.Readings = append(t.Readings, r)
		return
	}
	switch other := t.Readings[at]; {
	case other.Value == r.Value:
	case item && !strings.HasPrefix(other.Element, "CuttingItems"):
		t.left(r.Element, plain(r.Value), "the assembly's own is taken, "+plain(other.Value))
	default:
		t.disputed[what] = true
		t.Readings = slices.Delete(t.Readings, at, at+1)
		t.left(other.Element, plain(other.Value), "there are several values; give the one that cuts yourself")
		t.left(r.Element, plain(r.Value), "there are several values")
	}
}

func (t *Taken) left(element, value, why string) {
	t.Left = append(t.Left, Left{element, value, why})
}

// decimal is a number as the schema writes it.
var decimal = regexp.MustCompile(`^[+-]?\d{1,30}(\.\d{1,30})?([Ee][+-]?\d{1,3})?$`)

// number reads a number strictly.
func (t *Taken) number(element, text string) (float64, bool) {
	if decimal.MatchString(text) {
		if v, err := strconv.ParseFloat(text, 64); err == nil {
			return v, true
		}
	}
	t.Faults = append(t.Faults, Fault{element, text, "it is no number", "write digits and a decimal point"})
	return 0, false
}

// Number reads an attribute or the content of an element, nil where it is empty.
func (t *Taken) Number(element, text string) *float64 {
	if text = strings.TrimSpace(text); text == "" || text == Unavailable {
		return nil
	}
	if v, ok := t.number(element, text); ok {
		return &v
	}
	return nil
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Edges is how many cutting items are alike around the tool, which is its number of effective
// edges. Where they stand in rows, one behind the other, it is not known.
func (t *CuttingTool) Edges() (count float64, why string) {
	items := t.LifeCycle.Items
	if items == nil {
		return 0, ""
	}
	n, err := strconv.Atoi(strings.TrimSpace(items.Count))
	switch {
	case err != nil || n < 1:
		return 0, "count is " + strconv.Quote(items.Count)
	case len(items.All) != 1 && len(items.All) != n:
		return 0, "the cutting items come in groups, which may stand one behind the other"
	}
	for i := range items.All {
		if locus := strings.ToUpper(items.All[i].Locus); strings.Contains(locus, "ROW") {
			return 0, "the cutting items stand in rows"
		}
	}
	return float64(n), ""
}
