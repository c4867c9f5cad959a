package api

import (
	"iter"
	"slices"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// machineSheets are the tables of machines and of the ratings of their gears.
func machineSheets() []catalogSheet {
	return []catalogSheet{
		sheetOf("machines", "machines: drive, axes, coolant, meter, how the work is held", "id process spindle.max_speed spindle.efficiency", ties[wire.Machine]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.Machine] {
				return each(snap.Machines(), machineRow)
			},
			find: func(snap *catalog.Snapshot, r *wire.Machine) *wire.Machine {
				return found(snap.Machine, r.ID, machineRow)
			},
			key: func(r *wire.Machine) string { return r.ID }, take: (*importer).machine,
		}),
		sheetOf("ratings", "ratings of the gears of a machine: power and torque, or points", "machine gear rating", ties[wire.RatingRow]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.RatingRow] {
				return parts(snap.Machines(), ratingRows)
			},
			find: func(snap *catalog.Snapshot, r *wire.RatingRow) *wire.RatingRow {
				m, ok := snap.Machine(r.Machine)
				if !ok {
					return nil
				}
				rows := ratingRows(m)
				if i := slices.IndexFunc(rows, func(o wire.RatingRow) bool { return sameRating(&o, r) }); i >= 0 {
					return &rows[i]
				}
				return nil
			},
			key:  func(r *wire.RatingRow) string { return r.Machine + "|" + r.Gear + "|" + r.Rating },
			take: (*importer).rating,
		}),
	}
}

func sameRating(a, b *wire.RatingRow) bool { return a.Gear == b.Gear && a.Rating == b.Rating }

func machineRow(m *machine.Machine) *wire.Machine {
	out := machineToWire(m, unit.Metric)
	return &out
}

// ratingRows are the ratings of a machine, gear by gear.
func ratingRows(m *machine.Machine) []wire.RatingRow {
	var rows []wire.RatingRow
	for _, g := range machineRow(m).Spindle.Gears {
		for _, r := range g.Ratings {
			rows = append(rows, wire.RatingRow{Machine: m.ID, Gear: g.Gear, MinSpeed: g.MinSpeed, MaxSpeed: g.MaxSpeed, Rating: r.Rating, Power: r.Power, Torque: r.Torque, Points: pointsText(r.Points), Duty: r.Duty})
		}
	}
	return rows
}

// pointsText writes a curve as speed:power pairs, in 1/min and kW.
func pointsText(list []wire.Point) string {
	pairs := make([]string, len(list))
	for i, p := range list {
		pairs[i] = strconv.FormatFloat(*p.Speed, 'f', -1, 64) + ":" + strconv.FormatFloat(*p.Power, 'f', -1, 64)
	}
	return strings.Join(pairs, "; ")
}

// readPoints is the way back.
func readPoints(text string) ([]wire.Point, *domain.Error) {
	var list []wire.Point
	for pair := range strings.SplitSeq(text, ";") {
		speed, power, ok := strings.Cut(strings.TrimSpace(pair), ":")
		n, whole := wire.ReadNumber(strings.TrimSpace(speed))
		p, right := wire.ReadNumber(strings.TrimSpace(power))
		if !ok || !whole || !right {
			return nil, fault(domain.Unreadable, "wrong-type", "points", quoteClipped(pair)+" is no point", "write speed in 1/min and power in kW, such as 700:22; 6000:22")
		}
		list = append(list, wire.Point{Speed: &n, Power: &p})
	}
	return list, nil
}

// drive is a machine that may be changed: one taken up before, a copy of the one on
// record, or a new one.
func (im *importer) drive(id string) (m *wire.Machine, known bool) {
	if m := im.machines.byID[id]; m != nil {
		return m, true
	}
	if m, ok := im.snap.Machine(id); ok {
		return machineRow(m), true
	}
	return &wire.Machine{ID: id, Units: unit.Metric.String(), Spindle: &wire.Spindle{}}, false
}

// machine takes up a machine; its gears stay.
func (im *importer) machine(r *wire.Machine, l *line) {
	old, _ := im.drive(r.ID)
	if r.Spindle != nil {
		r.Spindle.Gears = old.Spindle.Gears
	}
	r.Units = unit.Metric.String()
	im.machines.put(r.ID, r)
	im.lines[r.ID] = l.row.Line
}

// rating takes up a rating of a gear, in its place when it is there.
func (im *importer) rating(r *wire.RatingRow, l *line) {
	m, known := im.drive(r.Machine)
	if !known {
		l.fault(fault(domain.Invalid, "machine-unknown", "machine", "there is no machine "+quoteClipped(r.Machine), "add it to the sheet machines first"))
		return
	}
	rating := wire.Rating{Rating: r.Rating, Power: r.Power, Torque: r.Torque, Duty: r.Duty}
	if r.Points != "" {
		var bad *domain.Error
		if rating.Points, bad = readPoints(r.Points); bad != nil {
			l.fault(bad)
			return
		}
	}
	c := l.checker()
	c.rating(&rating, "")
	for _, e := range c.faults.List {
		e.Field = strings.TrimPrefix(e.Field, ".")
	}
	l.end(c, func() {
		gears := m.Spindle.Gears
		i := slices.IndexFunc(gears, func(g wire.Gear) bool { return g.Gear == r.Gear })
		if i < 0 {
			i, gears = len(gears), append(slices.Clip(gears), wire.Gear{Gear: r.Gear})
		}
		g := &gears[i]
		g.MinSpeed, g.MaxSpeed = r.MinSpeed, r.MaxSpeed
		g.Ratings = slices.Clone(g.Ratings)
		place(&g.Ratings, rating, func(o *wire.Rating) bool { return o.Rating == r.Rating })
		m.Spindle.Gears = gears
		im.machines.put(r.Machine, m)
		if im.lines[r.Machine] == 0 {
			im.lines[r.Machine] = l.row.Line
		}
	})
}
