package api

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"swarf/api/mtconnect"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// secondsPerMinute is between the feed rate of the standard, in mm/s, and ours.
const secondsPerMinute = 60

// assetReading is an asset on its way into a tool.
type assetReading struct {
	asset   *mtconnect.CuttingTool
	taken   *mtconnect.Taken
	class   *tool.Class
	system  unit.System
	out     *wire.ToolAsset
	assumed []domain.Assumption
	faults  cut.Faults
}

// toBe settles what class the tool is of: an asset does not say.
func (r *assetReading) toBe(snap *catalog.Snapshot, id string) {
	switch class, ok := snap.Class(id); {
	case id == "":
		r.faults.Missing("class", "an asset does not say of which class its tool is")
	case !ok:
		r.faults.Any(classUnknown(snap, "class", id))
	default:
		r.class, r.out.Tool.Class = class, class.ID
	}
}

// read takes the asset over, dimension by dimension.
func (r *assetReading) read() {
	for _, reading := range r.taken.Readings {
		name := reading.Member
		if name == "" {
			name = memberOf[reading.Code]
		}
		if q, known := tool.PropertyQuantity(name); !known {
			r.leave(reading.Element, reading.Value, "it is no property of a tool here")
		} else if unfit := unitUnfit(q, reading.Units); unfit != "" {
			r.leave(reading.Element, reading.Value, unfit)
		} else {
			r.set(name, q, reading.Value, reading.Element)
		}
	}
	if n, why := r.asset.Edges(); n > 0 {
		r.set("effective_edges", unit.None, n, "CuttingItems.count")
		r.assume("effective_edges", unit.None, n, "the cutting items are taken for the edges that cut")
	} else if why != "" {
		r.leave("CuttingItems.count", 0, why)
	}
	r.substrate()
	r.process()
	r.life()
	for _, f := range r.taken.Faults {
		r.faults.Any(fault(domain.Invalid, "value-out-of-range", f.Element, f.Element+" is "+quoteClipped(f.Value)+": "+f.Why, f.Fix))
	}
	for _, l := range r.taken.Left {
		r.out.Unread = append(r.out.Unread, wire.Unread{Element: l.Element, Value: l.Value, Why: l.Why})
	}
	r.out.Assumed = assumedOf(r.assumed, r.system)
}

// memberOf is the tool member of a symbol of ISO 13399.
var memberOf = func() map[string]string {
	names := map[string]string{}
	for _, p := range wire.Properties(reflect.TypeFor[wire.Tool]()) {
		for _, symbol := range p.Codes {
			names[symbol] = p.Name
		}
	}
	return names
}()

// unitUnfit says why a value cannot be of a quantity, empty when it can. Counts have no unit.
func unitUnfit(q unit.Quantity, units string) string {
	word := q.Vocabulary(unit.Metric).MTConnect
	if units == "" || units == word || q == unit.None && units == "COUNT" {
		return ""
	}
	return "it is in " + units + ", not in " + word
}

// set puts a value into the tool, within what the class allows.
func (r *assetReading) set(name string, q unit.Quantity, value float64, element string) {
	least, most := 0.0, 1e6
	if q == unit.Angle {
		least, most = -90, 180
	}
	if r.class != nil {
		if p, ok := r.class.Property(name); ok {
			least, most = p.Low.Or(least), p.High.Or(most)
		}
	}
	if value < least || value > most {
		limit := most
		if value < least {
			limit = least
		}
		r.faults.Range(element, name+" is {value}, its limit is {limit}", unit.Of(q, value), unit.Of(q, limit), "correct the asset, or take another class")
		return
	}
	field := reflect.ValueOf(&r.out.Tool).Elem().FieldByIndex(toolFields[name])
	field.Set(reflect.ValueOf(&value))
	p := wire.PropertyRead{Name: name, Code: codeOf(r.class, name), Element: element, Value: wire.Amount(q.FromMetric(r.system, value))}
	if q != unit.None {
		p.Unit = q.Code(r.system)
	}
	r.out.Properties = append(r.out.Properties, p)
}

// toolFields are the fields of a tool by the names of its numbers.
var toolFields = func() map[string][]int {
	fields := map[string][]int{}
	for _, f := range reflect.VisibleFields(reflect.TypeFor[wire.Tool]()) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		fields[name] = f.Index
	}
	return fields
}()

func (r *assetReading) leave(element string, value float64, why string) {
	r.taken.Left = append(r.taken.Left, mtconnect.Left{Element: element, Value: strconv.FormatFloat(value, 'f', -1, 64), Why: why})
}

func (r *assetReading) assume(name string, q unit.Quantity, value float64, why string) {
	r.assumed = append(r.assumed, domain.Assumption{Field: "tool." + name, Number: unit.Of(q, value), Why: why})
}

// substrate takes the grade of the cutting items where it is a letter code of ISO 513: what a
// maker calls it says nothing here.
func (r *assetReading) substrate() {
	items := r.asset.LifeCycle.Items
	if items == nil {
		return
	}
	for i, item := range items.All {
		switch grade := item.Grade; {
		case grade == "" || grade == r.out.Tool.ToolMaterial:
		case !slices.Contains(tool.Materials, grade):
			r.taken.Left = append(r.taken.Left, mtconnect.Left{Element: index("CuttingItems.CuttingItem", i) + ".grade", Value: grade, Why: "it is no substrate of ISO 513"})
		case r.out.Tool.ToolMaterial != "":
			r.taken.Left = append(r.taken.Left, mtconnect.Left{Element: index("CuttingItems.CuttingItem", i) + ".grade", Value: grade, Why: "another item is of " + r.out.Tool.ToolMaterial})
		default:
			r.out.Tool.ToolMaterial = grade
		}
	}
}

// process reads spindle speed and feed rate. The most that the asset lets the spindle run is
// the most of the tool.
func (r *assetReading) process() {
	cycle := &r.asset.LifeCycle
	speed, feed := r.span("ProcessSpindleSpeed", cycle.SpindleSpeed, 1), r.span("ProcessFeedRate", cycle.FeedRate, secondsPerMinute)
	if speed == nil && feed == nil {
		return
	}
	r.out.Process = &wire.ToolProcess{SpindleSpeed: speed, FeedRate: feed}
	motion := wire.Motion{}
	if speed != nil {
		motion.SpindleSpeed = speed.Nominal
		if most := speed.Maximum; most.OK && most.V > 0 {
			r.set("max_spindle_speed", unit.Rotation, most.V, "ProcessSpindleSpeed.maximum")
			r.assume("max_spindle_speed", unit.Rotation, most.V, "the most that the asset lets the process run")
		}
	}
	if feed != nil {
		motion.FeedRate = feed.Nominal
	}
	if motion.SpindleSpeed.OK || motion.FeedRate.OK {
		r.out.Parameters = &motion
	}
}

// span reads a range; its numbers are multiplied by the factor between its unit and ours.
func (r *assetReading) span(element string, of *mtconnect.Range, factor float64) *wire.ProcessRange {
	if of == nil {
		return nil
	}
	read := func(name, text string) unit.Opt {
		v := r.taken.Number(element+name, text)
		switch {
		case v == nil:
			return unit.Opt{}
		case *v < 0:
			r.taken.Faults = append(r.taken.Faults, mtconnect.Fault{Element: element + name, Value: text, Why: "it is negative", Fix: "send a size without direction"})
			return unit.Opt{}
		}
		return unit.Some(*v * factor)
	}
	out := &wire.ProcessRange{Minimum: read(".minimum", of.Minimum), Nominal: read(".nominal", of.Nominal), Maximum: read(".maximum", of.Maximum), Target: read("", of.Value)}
	if *out == (wire.ProcessRange{}) {
		return nil
	}
	return out
}

// lives are the words of the standard for what a tool life counts.
var lives = map[string]string{"MINUTES": "minutes", "PART_COUNT": "parts", "WEAR": "wear"}

// life reads the tool lives.
func (r *assetReading) life() {
	for i, l := range r.asset.LifeCycle.ToolLife {
		at := index("ToolLife", i)
		read := func(name, text string) unit.Opt {
			if v := r.taken.Number(at+name, text); v != nil {
				return unit.Some(*v)
			}
			return unit.Opt{}
		}
		of, known := lives[l.Type]
		direction := strings.ToLower(l.Direction)
		if !known || direction != "up" && direction != "down" {
			r.taken.Left = append(r.taken.Left, mtconnect.Left{Element: at, Value: l.Type + " " + l.Direction, Why: "the standard counts MINUTES, PART_COUNT or WEAR, UP or DOWN"})
			continue
		}
		r.out.ToolLife = append(r.out.ToolLife, wire.AssetLife{Of: of, Direction: direction, Value: read("", l.Value), Initial: read(".initial", l.Initial), Warning: read(".warning", l.Warning), Limit: read(".limit", l.Limit)})
	}
}
