package api

import (
	"net/http"
	"strings"

	"swarf/api/picture"
	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/plan"
	"swarf/domain/unit"
)

// pictureNames are what of a cut can be drawn, the first that can be by default.
var pictureNames = []string{"spindle", "revolution", "region", "limits"}

// drawn reports a format that is a picture.
func (f format) drawn() bool { return f == formatSVG || f == formatPNG }

// draw writes a picture.
func (x *exchange) draw(p *picture.Picture) error {
	body := p.PNG
	if x.format == formatSVG {
		body = p.SVG
	}
	return x.send(http.StatusOK, x.format.contentType(), body())
}

// drawReading is draw for what has a tag.
func (x *exchange) drawReading(p *picture.Picture) error {
	body := p.PNG()
	if x.format == formatSVG {
		body = p.SVG()
	}
	tag := etag(x.format.contentType(), body)
	h := x.Response().Header()
	h.Set("ETag", tag)
	h.Set("Cache-Control", "no-cache")
	if notModified(x.Request(), tag) {
		x.Response().WriteHeader(http.StatusNotModified)
		return nil
	}
	return x.send(http.StatusOK, x.format.contentType(), body)
}

// pictureOf draws a computed cut: what the parameter picture names, else the first that
// there is. What cannot be drawn of it is a fault.
func pictureOf(e *estimate.Estimate, name string, system unit.System) (*picture.Picture, error) {
	if e == nil {
		return nil, noPicture("nothing was computed of the cut", "ask for JSON: its findings say why")
	}
	each := map[string]func() *picture.Picture{
		"spindle": func() *picture.Picture {
			if e.Cut.Machine == nil {
				return nil
			}
			return picture.Spindle(e.Cut.Machine, e, system)
		},
		"revolution": func() *picture.Picture { return picture.Revolution(e, system) },
		"region":     func() *picture.Picture { return picture.Region(e, system) },
		"limits": func() *picture.Picture {
			if e.Machine == nil {
				return nil
			}
			return picture.Bars("how far each limit is used", barsOf(e))
		},
	}
	if name != "" {
		if draw, ok := each[name]; !ok {
			return nil, fault(domain.Invalid, "value-out-of-range", "picture", "there is no picture "+quoteClipped(name), "take one of "+strings.Join(pictureNames, ", "))
		} else if p := draw(); p != nil {
			return p, nil
		}
		return nil, noPicture("of this cut there is no picture "+name, "spindle and limits need a machine, revolution a mill whose edges are at its rim, region a feed that is not a pitch")
	}
	for _, name := range pictureNames {
		if p := each[name](); p != nil {
			return p, nil
		}
	}
	return nil, noPicture("there is no picture of this cut", "give it a machine")
}

func noPicture(what, fix string) error {
	return fault(domain.Invalid, "not-acceptable", "picture", what, fix)
}

// barsOf are the limits of a cut.
func barsOf(e *estimate.Estimate) []picture.Bar {
	bars := make([]picture.Bar, len(e.Machine.Limits))
	for i := range bars {
		l := &e.Machine.Limits[i]
		bars[i] = picture.Bar{Name: strings.ReplaceAll(l.Name, "_", " "), Sharp: unit.Some(l.Utilisation), Worn: unit.Some(l.UtilisationWorn)}
	}
	return bars
}

// barsOfPlan are the margins of a plan, the weakest first.
func (p *planning) barsOfPlan(made *plan.Plan) []picture.Bar {
	const most = 60
	var bars []picture.Bar
	for _, m := range made.Margins[:min(most, len(made.Margins))] {
		e := made.Cuts[m.Step].Answer.Estimate
		l, _ := e.Machine.Limit(m.Limit)
		bars = append(bars, picture.Bar{Name: p.text(m.Step) + ": " + strings.ReplaceAll(m.Limit, "_", " "), Sharp: unit.Some(l.Utilisation), Worn: unit.Some(l.UtilisationWorn)})
	}
	return bars
}
