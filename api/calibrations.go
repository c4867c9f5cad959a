package api

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/calibrate"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/evidence"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// mostEvidence is how many readings of a metal a fit takes, the newest; as many of other
// metals beside them.
const mostEvidence = 100_000

// shopSource is the source of what was measured here.
const shopSource = "shop"

// calibration is a fit under way.
type calibration struct {
	x          *exchange
	snap       *catalog.Snapshot
	req        *wire.CalibrationRequest
	work       *cut.Work
	confidence float64
	out        *wire.Calibration
}

// postCalibration answers POST /v1/calibrations: it fits a record to what was observed and
// writes it as a draft, which serves nobody until another person approves it.
func postCalibration(x *exchange) error {
	if x.s.Store == nil {
		return noStore("there are no observations to fit to")
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
		var body wire.CalibrationRequest
		d := decodeBody(data, &body, wire.DecodeOptions{})
		if !d.readable {
			return d.faults
		}
		faults := &cut.Faults{List: d.faults}
		k := calibrationOf(x, snap, &body, faults)
		if err := faults.List.OrNil(); err != nil {
			return err
		}
		ctx, cancel := context.WithTimeout(x.Request().Context(), batchTimeout)
		defer cancel()
		fit := k.force
		if body.Kind == "life" {
			fit = k.life
		}
		draft, err := fit(ctx)
		if errors.Is(err, calibrate.ErrTooLittle) {
			return fault(domain.Invalid, "evidence-missing", "material", "no accepted observation of this metal and process decides anything", "/v1/observations lists what there is and why it was set aside")
		}
		if err != nil {
			return err
		}
		return k.propose(ctx, draft)
	})
}

func calibrationOf(x *exchange, snap *catalog.Snapshot, req *wire.CalibrationRequest, faults *cut.Faults) *calibration {
	k := &calibration{x: x, snap: snap, req: req, confidence: 0.9}
	check := checker{faults: faults}
	if req.Kind == "" {
		faults.Missing("kind", "say force or life")
	}
	if !plainRecordID.MatchString(req.Record) {
		faults.Any(fault(domain.Invalid, "value-out-of-range", "record", strconv.Quote(clip(req.Record))+" is no id of a record", "name the draft to write, such as kc-1.4301-turning-2026"))
	}
	operation := map[string]string{"turning": "turning", "milling": "side-milling", "drilling": "drilling"}[req.Process]
	if operation == "" {
		faults.Missing("process", "say turning, milling or drilling")
		return k
	}
	if req.Kind == "life" && req.ToolMaterial == "" {
		faults.Missing("tool_material", "an edge lasts by its material: HSS, HW, HC …")
	}
	if p := req.Confidence; p != nil {
		k.confidence, _ = check.read("confidence", p, bound{unit.None, 0.99, false})
	}
	c := &cut.Cut{}
	c.Operation, _ = cut.Find(operation)
	c.Tool.Material = req.ToolMaterial
	if req.Material == nil {
		faults.Missing("material", "the metal to fit")
		return k
	}
	materialFromWire(snap, &wire.Cut{Material: req.Material}, c, faults)
	if len(faults.List) == 0 && c.Material.Grade == nil {
		faults.Missing("material.grade", "evidence is of a grade")
	}
	k.work = &c.Material
	k.out = &wire.Calibration{Record: req.Record, Kind: req.Kind, Units: unit.Metric.String(), Confidence: k.confidence, Meters: []wire.Meters{}, Notes: []string{}}
	return k
}

// force fits kc1.1, and mc where the chips allow.
func (k *calibration) force(ctx context.Context) (*catalog.Record, error) {
	points, err := k.x.s.Store.ForcePoints(ctx, k.work.Grade.ID, k.req.Process, mostEvidence)
	if err != nil {
		return nil, err
	}
	metals := []string{k.work.Grade.ID + "|" + k.req.Process}
	priors := []calibrate.Prior{k.prior(k.work.Force)}
	var machines, lots, edges []string
	place := func(list *[]string, name string) int {
		i := slices.Index(*list, name)
		if i < 0 {
			i, *list = len(*list), append(*list, name)
		}
		return i
	}
	fitted := make([]calibrate.Point, 0, len(points))
	for _, p := range points {
		metal := slices.Index(metals, p.Material)
		if metal < 0 {
			id, process, _ := strings.Cut(p.Material, "|")
			grade, ok := k.snap.Material(id)
			if !ok {
				continue
			}
			metal, metals = len(metals), append(metals, p.Material)
			priors = append(priors, k.prior(k.snap.ChooseForce(catalog.ForceQuery{Grade: grade, Process: process})))
		}
		if metal == 0 {
			k.out.Sample.Readings++
			place(&lots, p.Lot)
			if p.Edge != "" {
				place(&edges, p.Edge)
			}
		} else {
			k.out.Sample.Others++
		}
		fitted = append(fitted, calibrate.Point{ForceExp: p.ForceExp, ThicknessExp: p.ThicknessExp, WearRatio: p.WearRatio, Machine: place(&machines, p.Machine), Metal: metal})
	}
	f, err := calibrate.Force(fitted, priors, calibrate.Basis{CommonExp: evidence.CommonExp, Confidence: k.confidence})
	if err != nil {
		return nil, err
	}
	k.tellForce(&f, machines, lots, edges)
	record := &catalog.Record{ID: k.req.Record}
	low, high := thicknessSpan(fitted)
	record.Force = &material.Force{Provenance: k.provenance(len(fitted)), Scope: material.Scope{Level: "material", Key: k.work.Grade.ID}, Condition: conditionName(k.work), Process: k.req.Process,
		Method: material.Kienzle, SpecificCuttingForce11NPerMM2: unit.Some(digits(f.ForceNPerMM2, 4)), ChipThicknessExp: unit.Some(digits(f.ThicknessExp, 3)),
		SpreadRatio:   unit.Some(digits(math.Hypot(f.SpreadRatio, f.NoiseRatio/2), 2)),
		ChipThickness: domain.Range{Quantity: unit.Length, Low: unit.Some(digits(low, 3)), High: unit.Some(digits(high, 3))}}
	record.Force.Curation = k.curation("force", lots, k.work.Force.Served)
	return record, nil
}

// tellForce lays a force fit out.
func (k *calibration) tellForce(f *calibrate.Fit, machines, lots, edges []string) {
	o := k.out
	o.Force11 = &wire.Fitted{Value: unit.Some(f.ForceNPerMM2), Low: unit.Some(f.ForceLowNPerMM2), High: unit.Some(f.ForceHighNPerMM2)}
	o.ThicknessExp = &wire.Fitted{Value: unit.Some(f.ThicknessExp), Low: unit.Some(f.ThicknessLowExp), High: unit.Some(f.ThicknessHighExp), Fixed: !f.ExpFitted}
	o.Spread, o.Noise, o.WearFactor = unit.Some(f.SpreadRatio), unit.Some(f.NoiseRatio), unit.Some(f.WearFactor)
	o.Sample.Lots, o.Sample.Edges, o.Sample.Machines = len(lots), len(edges), len(machines)
	for i, m := range machines {
		o.Meters = append(o.Meters, wire.Meters{Machine: m, Reads: unit.Some(math.Exp(f.MeterExp[i]))})
	}
	note := func(when bool, text string) {
		if when {
			o.Notes = append(o.Notes, text)
		}
	}
	note(!f.ExpFitted, "the chips were less than a factor of two apart: the exponent is the record's, only kc1.1 was fitted")
	note(len(machines) == 1, "one meter alone sees only the metal with the meter: a reference cut in known metal, or a second machine, tells them apart")
	note(len(lots) < 2, "one lot only")
	note(f.Count < 5, "fewer than five cuts")
	note(len(edges) < 2, "fewer than two edges were named")
}

// prior is what the served record says, or next to nothing without one.
func (k *calibration) prior(choice cut.ForceChoice) calibrate.Prior {
	r := choice.Served
	if r == nil || r.Method != material.Kienzle {
		return calibrate.Prior{ForceExp: math.Log(1800), SpreadRatio: 0.6, ThicknessExp: evidence.CommonExp}
	}
	spread := r.SpreadRatio.Or(r.Basis.SpreadRatio())
	if choice.FallBack != "" {
		spread = domain.CommonPractice.SpreadRatio()
	}
	return calibrate.Prior{ForceExp: math.Log(r.SpecificCuttingForce11NPerMM2.V), SpreadRatio: spread, ThicknessExp: r.ChipThicknessExp.V}
}

// life fits n and C.
func (k *calibration) life(ctx context.Context) (*catalog.Record, error) {
	points, err := k.x.s.Store.LifePoints(ctx, k.work.Grade.ID, k.req.Process, k.req.ToolMaterial, mostEvidence)
	if err != nil {
		return nil, err
	}
	var prior calibrate.LifePrior
	if r := k.work.Life.Served; r != nil {
		prior = calibrate.LifePrior{LifeExp: r.TaylorExp.V, LifeSpreadRatio: 0.25, OneMinuteSpeedMPerMin: r.TaylorSpeedMPerMin.V, SpeedSpreadRatio: 2 * r.Basis.SpreadRatio()}
	} else {
		prior = calibrate.LifePrior{LifeExp: 0.25, LifeSpreadRatio: 0.5}
		k.out.Notes = append(k.out.Notes, "no record to begin from: n is believed to be about 0.25, C is left to the edges")
	}
	edges := make([]calibrate.Edge, len(points))
	var lots []string
	feeds, depths := 0.0, 0.0
	for i, p := range points {
		edges[i] = calibrate.Edge{SpeedMPerMin: p.SpeedMPerMin, Minutes: p.Minutes, Failed: p.Failed}
		if !slices.Contains(lots, p.Lot) {
			lots = append(lots, p.Lot)
		}
		feeds, depths = feeds+math.Log(p.FeedMM)/float64(len(points)), depths+math.Log(p.DepthMM)/float64(len(points))
	}
	f, err := calibrate.Life(edges, prior, k.confidence)
	if err != nil {
		return nil, err
	}
	o := k.out
	o.LifeExp = &wire.Fitted{Value: unit.Some(f.LifeExp), Low: unit.Some(f.LifeLowExp), High: unit.Some(f.LifeHighExp)}
	o.LifeSpeed = &wire.Fitted{Value: unit.Some(f.OneMinuteSpeedMPerMin), Low: unit.Some(f.SpeedLowMPerMin), High: unit.Some(f.SpeedHighMPerMin)}
	o.Noise = unit.Some(f.ScatterRatio)
	o.Sample = wire.Sample{Readings: f.Count, Ended: f.FailedCount, Edges: f.Count, Lots: len(lots)}
	if f.FailedCount < f.Count {
		o.Notes = append(o.Notes, fmt.Sprintf("%d edges were changed before their end: they count as having lasted at least so long", f.Count-f.FailedCount))
	}
	record := &catalog.Record{ID: k.req.Record}
	record.Life = &material.Life{Provenance: k.provenance(f.Count), Scope: material.Scope{Level: "material", Key: k.work.Grade.ID}, Process: k.req.Process, ToolMaterial: k.req.ToolMaterial,
		TaylorExp: unit.Some(digits(f.LifeExp, 3)), TaylorSpeedMPerMin: unit.Some(digits(f.OneMinuteSpeedMPerMin, 4)),
		ReferenceFeedMM: unit.Some(digits(math.Exp(feeds), 3)), ReferenceDepthMM: unit.Some(digits(math.Exp(depths), 3)), Criterion: "as the shop changes edges"}
	record.Life.Curation = k.curation("life", lots, nil)
	if r := k.work.Life.Served; r != nil {
		o.Prior = r.ID
	}
	return record, nil
}

func (k *calibration) provenance(readings int) material.Provenance {
	return material.Provenance{ID: k.req.Record, Basis: domain.Shop, Source: shopSource, Place: strconv.Itoa(readings) + " observations", Note: "fitted to the shop's own observations"}
}

func (k *calibration) curation(kind string, lots []string, served *material.Force) *material.Curation {
	by := k.x.signature(checker{faults: &cut.Faults{}})
	c := &material.Curation{Kind: kind, State: material.Draft, Author: by.Who, Reason: "fitted to observations", Lots: len(lots)}
	if served != nil {
		k.out.Prior = served.ID
		if served.Curation != nil { // a shop's own record gives way to its successor
			c.Supersedes = served.ID
		}
	}
	return c
}

// propose writes the draft and tells what it would change.
func (k *calibration) propose(ctx context.Context, draft *catalog.Record) error {
	life := draft.Provenance().Curation
	by := k.x.signature(checker{faults: &cut.Faults{}})
	by.Reason = life.Reason
	done, err := k.x.s.Store.PutRecord(ctx, *draft, by, func(*catalog.Record) error { return nil })
	if err != nil {
		return err
	}
	k.x.settled(ctx, done.Revision)
	data := k.snap.Data()
	data.Force = slices.DeleteFunc(slices.Clone(data.Force), func(f material.Force) bool { return f.ID == draft.ID })
	data.Life = slices.DeleteFunc(slices.Clone(data.Life), func(l material.Life) bool { return l.ID == draft.ID })
	data = (&Import{Records: []catalog.Record{*done.Record}}).On(data)
	data.Revision = done.Revision
	snap, err := catalog.New(data)
	if err != nil {
		return err
	}
	if k.out.Impact, err = impactOf(k.x.s, snap, done.Record); err != nil {
		return err
	}
	k.x.Response().Header().Set("Location", "/v1/records/"+draft.ID)
	return k.x.render(http.StatusCreated, k.out)
}

// thicknessSpan is the range of chips that a fit rests on.
func thicknessSpan(points []calibrate.Point) (low, high float64) {
	low, high = math.Inf(1), 0
	for _, p := range points {
		if p.Metal == 0 {
			low, high = min(low, math.Exp(p.ThicknessExp)), max(high, math.Exp(p.ThicknessExp))
		}
	}
	return low, high
}

func conditionName(w *cut.Work) string {
	if w.Condition == nil {
		return ""
	}
	return w.Condition.Name
}

// digits rounds a fitted number to what its interval can carry.
func digits(v float64, significant int) float64 {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', significant, 64), 64)
	if err != nil {
		return v
	}
	return rounded
}
