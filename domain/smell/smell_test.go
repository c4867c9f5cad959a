package smell_test

import (
	"slices"
	"strings"
	"testing"

	"swarf/db/data"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/smell"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// sound is the shipped data, with every slice copied so that faults can be planted.
func sound(t testing.TB) catalog.Data {
	t.Helper()
	d, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestShippedDataDoesNotSmell(t *testing.T) {
	for _, r := range smell.Run(sound(t)) {
		if r.Rows == 0 {
			t.Errorf("%s looked at nothing", r.Name)
		}
		for _, f := range r.Findings {
			if f.Level > smell.Note {
				t.Errorf("%s %s: %s %s: %s", f.Level, f.Check, f.Kind, f.ID, f.Text)
			}
		}
	}
}

// by finds a row of the data.
func by[R any](t *testing.T, rows []R, is func(*R) bool) *R {
	t.Helper()
	for i := range rows {
		if is(&rows[i]) {
			return &rows[i]
		}
	}
	t.Fatal("the row to plant a fault in is gone")
	return nil
}

func grade(t *testing.T, d *catalog.Data, id string) *material.Material {
	t.Helper()
	return by(t, d.Materials, func(m *material.Material) bool { return m.ID == id })
}

func pairOf(t *testing.T, d *catalog.Data, key string) *material.Force {
	t.Helper()
	return by(t, d.Force, func(r *material.Force) bool { return r.Key == key && r.Method == material.Kienzle })
}

func startOf(t *testing.T, d *catalog.Data, is func(*material.Starting) bool) *material.Starting {
	t.Helper()
	return by(t, d.Starting, is)
}

// planted are faults, each made in one row, with the check and the words that tell it.
var planted = []struct {
	name, check string
	level       smell.Level
	says        string
	plant       func(t *testing.T, d *catalog.Data)
}{
	{"lost grade", "references", smell.Error, "no material", func(t *testing.T, d *catalog.Data) { pairOf(t, d, "c45e").Key = "unobtainium" }},
	{"lost condition", "references", smell.Error, "has no condition", func(t *testing.T, d *catalog.Data) { pairOf(t, d, "c45e").Condition = "frozen" }},
	{"id twice", "references", smell.Error, "stands twice", func(t *testing.T, d *catalog.Data) { d.Force[1].ID = d.Force[0].ID }},
	{"lost source", "sources", smell.Error, `no source "lost-book"`, func(t *testing.T, d *catalog.Data) { d.Force[0].Source = "lost-book" }},
	{"no basis", "sources", smell.Error, "says nothing", func(t *testing.T, d *catalog.Data) { d.Life[0].Basis = "" }},
	{"no page", "sources", smell.Error, "published without a page", func(t *testing.T, d *catalog.Data) {
		by(t, d.Force, func(r *material.Force) bool { return r.Basis == domain.Published }).Place = " "
	}},
	{"from memory as published", "sources", smell.Error, "was not seen", func(t *testing.T, d *catalog.Data) {
		r := by(t, d.Force, func(r *material.Force) bool { return r.Source == "general-hb" })
		r.Basis, r.Place = domain.Published, "p. 1"
	}},
	{"habit with a book", "sources", smell.Error, "does not go with source", func(t *testing.T, d *catalog.Data) {
		by(t, d.Starting, func(r *material.Starting) bool { return r.Source == "groover" }).Basis = domain.CommonPractice
	}},
	{"unsourced row of the hardness table", "sources", smell.Error, "no source", func(t *testing.T, d *catalog.Data) { d.Hardness[3].Source = "" }},
	{"past its review", "reviews", smell.Warning, "was to be reviewed by 2025-06-30", func(t *testing.T, d *catalog.Data) {
		d.Force[0].Curation = &material.Curation{State: material.Approved, InForce: true, Author: "a", Approver: "b", ValidFrom: "2024-06-30T08:00:00Z", ReviewBy: "2025-06-30", PastReview: true}
	}},
	{"approved by its author", "reviews", smell.Error, "who wrote it", func(t *testing.T, d *catalog.Data) {
		d.Force[0].Curation = &material.Curation{State: material.Approved, InForce: true, Author: "a", Approver: "A ", ValidFrom: "2024-06-30T08:00:00Z"}
	}},
	{"draft that serves", "reviews", smell.Error, "a draft is in force", func(t *testing.T, d *catalog.Data) {
		d.Life[0].Curation = &material.Curation{State: material.Draft, InForce: true, ValidFrom: "2024-06-30T08:00:00Z"}
	}},
	{"ends before it begins", "reviews", smell.Error, "before it begins", func(t *testing.T, d *catalog.Data) {
		d.Starting[0].Curation = &material.Curation{State: material.Withdrawn, ValidFrom: "2024-06-30T08:00:00Z", ValidTo: "2023-06-30T08:00:00Z"}
	}},
	{"demo among data", "invented", smell.Error, "demo stands outside", func(t *testing.T, d *catalog.Data) { d.Starting[0].Basis = domain.Demo }},
	{"silent demo machine", "invented", smell.Error, "says that it is invented", func(t *testing.T, d *catalog.Data) { d.Machines[0].Note = "a fine machine" }},
	{"number on two grades", "designations", smell.Error, "stands in its standard for", func(t *testing.T, d *catalog.Data) {
		m := grade(t, d, "c60e")
		m.Designations = append(slices.Clone(m.Designations), material.Designation{Standard: "EN number", Value: " 1,4301"})
	}},
	{"word on two grades", "designations", smell.Note, "ambiguous on purpose", func(t *testing.T, d *catalog.Data) {
		m := grade(t, d, "c60e")
		m.Designations = append(slices.Clone(m.Designations), material.Designation{Standard: "common", Value: "inconel-718"})
	}},
	{"empty name", "designations", smell.Error, "neither letter nor digit", func(t *testing.T, d *catalog.Data) {
		m := grade(t, d, "c60e")
		m.Designations = append(slices.Clone(m.Designations), material.Designation{Standard: "common", Value: "--"})
	}},
	{"overlap", "conditions", smell.Error, "overlap", func(t *testing.T, d *catalog.Data) {
		c := grade(t, d, "11smn30").Conditions
		by(t, c, func(c *material.Condition) bool { return c.Name == "as-rolled" }).Hardness.High = 170
	}},
	{"gap", "conditions", smell.Error, "gap between", func(t *testing.T, d *catalog.Data) {
		c := grade(t, d, "11smn30").Conditions
		by(t, c, func(c *material.Condition) bool { return c.Name == "as-rolled" }).Hardness.High = 150
	}},
	{"upside down", "conditions", smell.Error, "low below high", func(t *testing.T, d *catalog.Data) {
		c := &grade(t, d, "c45e").Conditions[0]
		c.Hardness.Low, c.Hardness.High = c.Hardness.High, c.Hardness.Low
	}},
	{"scale slip", "conditions", smell.Error, "is none", func(t *testing.T, d *catalog.Data) { grade(t, d, "c45e").Conditions[0].Hardness.Scale = material.HRC }},
	{"no condition", "conditions", smell.Error, "no condition", func(t *testing.T, d *catalog.Data) { grade(t, d, "c45e").Conditions = nil }},
	{"ferritic in M", "grades", smell.Error, "stands in P", func(t *testing.T, d *catalog.Data) { grade(t, d, "x6cr17").Group = material.M }},
	{"austenitic in P", "grades", smell.Error, "does not go with group", func(t *testing.T, d *catalog.Data) { grade(t, d, "x5crni18-10").Group = material.P }},
	{"titanium that does not burn", "grades", smell.Error, "combustible-fines", func(t *testing.T, d *catalog.Data) { grade(t, d, "ti-6al-4v").Cautions = nil }},
	{"harmless lead", "grades", smell.Error, "hazardous-dust", func(t *testing.T, d *catalog.Data) { grade(t, d, "11smnpb30").Cautions = nil }},
	{"fine magnesium", "grades", smell.Error, "0.05 mm", func(t *testing.T, d *catalog.Data) { grade(t, d, "az91d").MinimumChip.GroundEdgeMM = unit.Some(0.02) }},
	{"density in kg/m3", "physical", smell.Error, "no solid's", func(t *testing.T, d *catalog.Data) {
		by(t, grade(t, d, "c40e").Physical, func(p *material.Property) bool { return p.Name == "density" }).Value.Amount = 7850
	}},
	{"aluminium's density for steel", "physical", smell.Error, "does not go with group", func(t *testing.T, d *catalog.Data) {
		by(t, grade(t, d, "c40e").Physical, func(p *material.Property) bool { return p.Name == "density" }).Value.Amount = 2.7
	}},
	{"property twice", "physical", smell.Error, "twice", func(t *testing.T, d *catalog.Data) {
		m := grade(t, d, "c40e")
		m.Physical = append(slices.Clone(m.Physical), m.Physical[0])
	}},
	{"low above high", "ranges", smell.Error, "is above high", func(t *testing.T, d *catalog.Data) { pairOf(t, d, "c45e").ChipThickness.Low = unit.Some(7) }},
	{"speed above itself", "ranges", smell.Error, "is above high", func(t *testing.T, d *catalog.Data) {
		startOf(t, d, func(r *material.Starting) bool { return r.Speed.Low.OK && r.Speed.High.OK }).Speed.Low = unit.Some(4000)
	}},
	{"negative feed", "ranges", smell.Error, "cannot be", func(t *testing.T, d *catalog.Data) {
		startOf(t, d, func(r *material.Starting) bool { return r.Feed.Low.OK }).Feed.Low = unit.Some(-0.1)
	}},
	{"length as speed", "ranges", smell.Error, "not of", func(t *testing.T, d *catalog.Data) {
		startOf(t, d, func(r *material.Starting) bool { return r.Speed.Known() }).Speed.Quantity = unit.Length
	}},
	{"no range of chips", "validity", smell.Error, "no range of chip thickness", func(t *testing.T, d *catalog.Data) { pairOf(t, d, "c45e").ChipThickness = domain.Range{} }},
	{"half a pair", "validity", smell.Error, "needs kc1.1 and mc", func(t *testing.T, d *catalog.Data) { pairOf(t, d, "c45e").ChipThicknessExp = unit.Opt{} }},
	{"kc in psi", "force-window", smell.Error, "kc1.1", func(t *testing.T, d *catalog.Data) {
		pairOf(t, d, "c45e").SpecificCuttingForce11NPerMM2 = unit.Some(250_000)
	}},
	{"plastic's kc for steel", "force-window", smell.Error, "kc1.1 90 is outside 200", func(t *testing.T, d *catalog.Data) {
		pairOf(t, d, "c45e").SpecificCuttingForce11NPerMM2 = unit.Some(90)
	}},
	{"1 - mc as mc", "force-window", smell.Error, "mc", func(t *testing.T, d *catalog.Data) { pairOf(t, d, "c45e").ChipThicknessExp = unit.Some(0.83) }},
	{"energy in W.s per cm3", "force-window", smell.Error, "energy", func(t *testing.T, d *catalog.Data) {
		by(t, d.Force, func(r *material.Force) bool { return r.Method == material.UnitPower }).EnergyJPerMM3 = unit.Some(2300)
	}},
	{"pair of another metal", "force-neighbours", smell.Warning, "times", func(t *testing.T, d *catalog.Data) {
		r := *pairOf(t, d, "c45e")
		r.ID, r.SpecificCuttingForce11NPerMM2 = "planted", unit.Some(r.SpecificCuttingForce11NPerMM2.V*2.5)
		d.Force = append(d.Force, r)
	}},
	{"copied row", "copied-digits", smell.Warning, "another metal", func(t *testing.T, d *catalog.Data) {
		iron := by(t, d.Force, func(r *material.Force) bool {
			return strings.HasPrefix(r.Key, "en-gjl") && r.Method == material.Kienzle && r.Family != "group-energy"
		})
		r := *iron
		r.ID, r.Key, r.Condition = "planted", "ti-6al-4v", ""
		d.Force = append(d.Force, r)
	}},
	{"feet per minute", "starting-window", smell.Error, "speed", func(t *testing.T, d *catalog.Data) {
		startOf(t, d, func(r *material.Starting) bool { return r.Speed.High.V >= 600 }).Speed.High = unit.Some(6000)
	}},
	{"feed in thousandths", "starting-window", smell.Error, "feed", func(t *testing.T, d *catalog.Data) {
		startOf(t, d, func(r *material.Starting) bool { return r.Feed.High.OK && r.FeedKind == material.PerRevolution }).Feed.High = unit.Some(12)
	}},
	{"class that does not", "starting-window", smell.Error, "does none of", func(t *testing.T, d *catalog.Data) {
		startOf(t, d, func(r *material.Starting) bool { return slices.Equal(r.Operations, []string{"drilling"}) }).Classes = []string{"mill-face"}
	}},
	{"titanium at steel's speed", "starting-safety", smell.Error, "burns a carbide edge in titanium", func(t *testing.T, d *catalog.Data) {
		startOf(t, d, func(r *material.Starting) bool {
			return r.Key == "S/titanium" && r.ToolMaterial == "HC" && r.Speed.High.OK
		}).Speed.High = unit.Some(150)
	}},
	{"nickel at steel's speed", "starting-safety", smell.Error, "burns a carbide edge in nickel", func(t *testing.T, d *catalog.Data) {
		startOf(t, d, func(r *material.Starting) bool {
			return r.Key == "S/nickel" && r.ToolMaterial == "HC" && r.Speed.High.OK
		}).Speed.High = unit.Some(120)
	}},
	{"magnesium dust", "starting-safety", smell.Error, "fine enough to burn", func(t *testing.T, d *catalog.Data) {
		r := startOf(t, d, func(r *material.Starting) bool {
			return r.Key == "N/magnesium" && r.Basis == domain.CommonPractice && r.FeedKind == material.PerTooth && r.Speed.Low.OK
		})
		r.Feed.Low = unit.Some(0.01)
	}},
	{"rubbing in stainless", "starting-safety", smell.Error, "rub", func(t *testing.T, d *catalog.Data) {
		r := startOf(t, d, func(r *material.Starting) bool {
			return strings.HasPrefix(r.Key, "M") && r.Basis == domain.CommonPractice && r.FeedKind == material.PerRevolution && r.Speed.Low.OK
		})
		r.Feed.Low = unit.Some(0.005)
	}},
	{"a band ten times as fast", "starting-neighbours", smell.Warning, "times the speed of", func(t *testing.T, d *catalog.Data) {
		r := startOf(t, d, func(r *material.Starting) bool {
			return r.Source == "fmdb" && r.Hardness.Low.V > 200 && r.Speed.High.OK
		})
		r.Speed.Low, r.Speed.High = unit.Some(r.Speed.Low.V*3), unit.Some(r.Speed.High.V*3)
	}},
	{"longer the faster", "life", smell.Error, "between 0 and 1", func(t *testing.T, d *catalog.Data) { d.Life[0].TaylorExp = unit.Some(-0.25) }},
	{"1/n as n", "life", smell.Error, "between 0 and 1", func(t *testing.T, d *catalog.Data) { d.Life[0].TaylorExp = unit.Some(4) }},
	{"break-in wear", "life", smell.Warning, "break-in", func(t *testing.T, d *catalog.Data) { d.Life[0].TaylorExp = unit.Some(0.8) }},
	{"default outside", "classes", smell.Error, "default", func(t *testing.T, d *catalog.Data) {
		c := by(t, d.Classes, func(c *tool.Class) bool { return c.ID == "drill-twist-hss" })
		c.Properties = slices.Clone(c.Properties)
		by(t, c.Properties, func(p *tool.Property) bool { return p.Name == "point_angle" }).Default = unit.Some(11.8)
	}},
	{"torque that rises", "machines", smell.Error, "torque rises above", func(t *testing.T, d *catalog.Data) {
		r := points(t, d)
		r.Points[1].PowerKW = 3 * r.Points[0].PowerKW * r.Points[1].SpeedPerMin / r.Points[0].SpeedPerMin
	}},
	{"speeds out of order", "machines", smell.Error, "does not rise", func(t *testing.T, d *catalog.Data) {
		r := points(t, d)
		r.Points[1].SpeedPerMin = r.Points[0].SpeedPerMin
	}},
	{"power that caps nothing", "machines", smell.Error, "lies above the torque", func(t *testing.T, d *catalog.Data) { paired(t, d).PowerKW = 4000 }},
	{"torque in N.mm", "machines", smell.Warning, "is never there", func(t *testing.T, d *catalog.Data) {
		g := &d.Machines[0].Spindle.Gears[0]
		g.MinSpeedPerMin = 100
		r := paired(t, d)
		r.TorqueNm *= 1000
	}},
	{"weak short-term rating", "machines", smell.Error, "no more than S1", func(t *testing.T, d *catalog.Data) {
		for i := range d.Machines[0].Spindle.Gears[0].Ratings {
			if r := &d.Machines[0].Spindle.Gears[0].Ratings[i]; r.Duty.ShortTerm() {
				r.PowerKW = 1
			}
		}
	}},
	{"efficiency in percent", "machines", smell.Error, "efficiency", func(t *testing.T, d *catalog.Data) { d.Machines[0].Spindle.EfficiencyRatio = 85 }},
	{"no S1", "machines", smell.Error, "no S1", func(t *testing.T, d *catalog.Data) {
		g := &d.Machines[0].Spindle.Gears[0]
		g.Ratings = slices.DeleteFunc(g.Ratings, func(r machine.Rating) bool { return !r.Duty.ShortTerm() })
	}},
	{"falling column", "hardness-table", smell.Error, "does not rise", func(t *testing.T, d *catalog.Data) { d.Hardness[10].HBW = d.Hardness[9].HBW }},
	{"columns swapped", "hardness-table", smell.Error, "0.95", func(t *testing.T, d *catalog.Data) { r := &d.Hardness[10]; r.HV, r.HBW = r.HBW, r.HV }},
	// One copy of the table prints 1115 N/mm2 for 1155 at HV 360; a smaller slip does not fall.
	{"misprint", "hardness-table", smell.Warning, "breaks the run", func(t *testing.T, d *catalog.Data) {
		by(t, d.Hardness, func(r *material.HardnessRow) bool { return r.HV == 360 }).TensileStrengthNPerMM2 = 1135
	}},
}

// points is a rating by points of some machine.
func points(t *testing.T, d *catalog.Data) *machine.Rating {
	t.Helper()
	for i := range d.Machines {
		for j := range d.Machines[i].Spindle.Gears {
			for k := range d.Machines[i].Spindle.Gears[j].Ratings {
				if r := &d.Machines[i].Spindle.Gears[j].Ratings[k]; len(r.Points) > 1 {
					return r
				}
			}
		}
	}
	t.Fatal("no rating by points")
	return nil
}

// paired is a rating by power and torque.
func paired(t *testing.T, d *catalog.Data) *machine.Rating {
	t.Helper()
	r := &d.Machines[0].Spindle.Gears[0].Ratings[0]
	if len(r.Points) > 0 {
		t.Fatal("the first machine's first rating is by points")
	}
	return r
}

func TestPlantedFaultsAreFound(t *testing.T) {
	before := map[smell.Finding]bool{}
	for _, r := range smell.Run(sound(t)) {
		for _, f := range r.Findings {
			before[f] = true
		}
	}
	proved := map[string]bool{}
	for _, c := range planted {
		t.Run(c.name, func(t *testing.T) {
			d := sound(t)
			c.plant(t, &d)
			proved[c.check] = true
			for _, r := range smell.Run(d) {
				for _, f := range r.Findings {
					if !before[f] && f.Check == c.check && f.Level == c.level && strings.Contains(f.Text, c.says) {
						return
					}
				}
			}
			t.Errorf("%s does not report it as %s with %q", c.check, c.level, c.says)
		})
	}
	for _, c := range smell.Checks {
		if !proved[c.Name] {
			t.Errorf("no planted fault proves %s", c.Name)
		}
		if c.What == "" {
			t.Errorf("%s does not say what it looks for", c.Name)
		}
	}
}

func TestCount(t *testing.T) {
	results := smell.Run(sound(t))
	rows, byLevel := smell.Count(results)
	notes := 0
	for _, r := range results {
		notes += len(r.Findings)
	}
	if rows < 10_000 || byLevel[smell.Note] != notes || byLevel[smell.Error] != 0 {
		t.Errorf("%d rows, %v", rows, byLevel)
	}
}
