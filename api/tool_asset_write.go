package api

import (
	"strconv"
	"strings"

	"swarf/api/mtconnect"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/recommend"
	"swarf/domain/tool"
)

// assetOf lays a recommendation out as the asset of the tool that it is for: nominal spindle
// speed and feed rate, each with the window in which it may be overridden alone. What speaks
// against the cut stands in the description. The schema wants the device that tells of the
// tool; it is the machine, where the cut names one.
func assetOf(r *recommend.Recommendation, a *wire.Answer) *mtconnect.CuttingTool {
	e := r.Estimate
	t := &e.Cut.Tool
	out := &mtconnect.CuttingTool{AssetID: a.Ref, ToolID: t.Class.ID, DeviceUUID: mtconnect.Unavailable, Description: summary(a)}
	if out.AssetID == "" {
		out.AssetID = t.Class.ID + "." + a.Operation + "." + orElse(a.Material.ID, a.Material.Group)
	}
	if a.Machine != nil && a.Machine.ID != "" {
		out.DeviceUUID = a.Machine.ID
	}
	window := windowOf(e)
	cycle := &out.LifeCycle
	cycle.Status = []string{"UNKNOWN"} // of the tool in hand nothing is known
	cycle.SpindleSpeed = spanOf(e.Motion.SpindleSpeedPerMin, &window.Speed)
	cycle.FeedRate = spanOf(e.Motion.FeedRateMMPerMin/secondsPerMinute, &window.Feed)
	if l := a.ToolLife; l != nil && l.Median.OK {
		limit := l.Median.V
		if l.Low.OK { // what the edge outlives with the probability asked for, not what half of them do
			limit = l.Low.V
		}
		cycle.ToolLife = []mtconnect.Life{{Type: "MINUTES", Direction: "UP", Initial: "0", Limit: wire.Decimal(limit), Value: "0"}}
	}
	assembly, item := measurementsOf(t)
	if len(assembly) > 0 {
		cycle.Measurements = &mtconnect.Measurements{All: assembly}
	}
	cycle.Items = itemsOf(t, item)
	return out
}

func orElse(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// spanOf is a programmed value with the ends of its window.
func spanOf(nominal float64, window *wire.Factors) *mtconnect.Range {
	out := &mtconnect.Range{Nominal: wire.Decimal(nominal), Value: wire.Decimal(nominal)}
	if window.Low.OK && window.High.OK && window.Low.V <= 1 && window.High.V >= 1 {
		const rounding = 5e-6 // of 6 digits: the ends are rounded inwards
		out.Minimum = wire.Decimal(min(nominal, nominal*window.Low.V*(1+rounding)))
		out.Maximum = wire.Decimal(max(nominal, nominal*window.High.V*(1-rounding)))
	}
	return out
}

// measurementsOf are the dimensions of a tool that the schema has elements for: of the
// assembly, and of its cutting items.
func measurementsOf(t *tool.Tool) (assembly, item []mtconnect.Measurement) {
	for _, p := range mtconnect.Properties {
		for _, f := range tool.Fields {
			value := *f.Of(t)
			if f.Name != p.Member || value == nil {
				continue
			}
			m := mtconnect.Measurement{Code: p.Code, Units: p.Units, Nominal: wire.Decimal(*value), Value: wire.Decimal(*value)}
			m.XMLName.Local = p.Element
			if p.Item {
				item = append(item, m)
			} else {
				assembly = append(assembly, m)
			}
		}
	}
	return assembly, item
}

// itemsOf are the edges of a tool, all alike; without a whole number of them there are none.
func itemsOf(t *tool.Tool, measured []mtconnect.Measurement) *mtconnect.Items {
	n := t.EffectiveEdgesCount
	if n == nil || *n < 1 || *n != float64(int(*n)) {
		return nil
	}
	count := strconv.Itoa(int(*n))
	item := mtconnect.Item{Indices: "1", Grade: t.Material}
	if *n > 1 {
		item.Indices = "1-" + count
	}
	if len(measured) > 0 {
		item.Measurements = &mtconnect.Measurements{All: measured}
	}
	return &mtconnect.Items{Count: count, All: []mtconnect.Item{item}}
}

// summary says in words what the parameters are for and what speaks against them.
func summary(a *wire.Answer) string {
	parts := []string{a.Operation + " in " + strings.TrimSpace(orElse(a.Material.Name, "group "+a.Material.Group)+" "+a.Material.Condition) + ", data revision " + strconv.FormatInt(a.DataRevision, 10) +
		", verdict " + a.Verdict + ". Starting values; a skilled person decides, and the limits of machine, tool and clamping come first."}
	for _, f := range a.Findings {
		if f.Severity == domain.Hold.String() || f.Severity == domain.Warning.String() {
			parts = append(parts, strings.TrimSuffix(f.Severity+" "+f.Code+": "+f.Message, ".")+".")
		}
	}
	return strings.Join(parts, " ")
}
