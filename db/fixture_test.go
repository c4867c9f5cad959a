package db_test

import (
	"context"
	"math"
	"testing"

	"swarf/db"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// Numbers that lose digits wherever a decimal is cut short.
var (
	third   = 1.0 / 3
	tenths  = math.Nextafter(0.3, 1) // 0.1 + 0.2
	tiny    = math.SmallestNonzeroFloat64
	almost1 = math.Nextafter(1, 0)
	large   = 123456789.12345679
	nan     = math.NaN()
)

// fixture is a small catalogue of invented data in which every member is set, in
// the order of a snapshot.
func fixture() catalog.Data {
	yes, no := true, false
	from := func(id string) material.Provenance {
		return material.Provenance{ID: id, Basis: domain.Published, Source: "a-book", Place: "table 1", Note: "invented; \"quoted\" | é"}
	}
	span := func(q unit.Quantity, low, high float64) domain.Range {
		return domain.Range{Quantity: q, Low: unit.Some(low), High: unit.Some(high)}
	}
	return catalog.Data{
		Sources: []domain.Source{
			{ID: "a-book", Author: "Nobody", Title: "A book", Year: "1957", Place: "p. 3", Address: "https://example.org/", Kind: "textbook", Access: "none", Note: "invented"},
			{ID: "common-practice", Title: "Habits", Kind: "common practice"},
		},
		Materials: []material.Material{
			{ID: "a-steel", Name: "A steel", Group: material.P, Subgroup: "carbon", Note: "invented",
				Designations: []material.Designation{{Standard: "UNS", Value: "G99999"}, {Standard: "AISI/SAE", Value: "9999"}, {Standard: "EN number", Value: "1.9999"}},
				Conditions: []material.Condition{
					{Name: "normalised", Hardness: material.HardnessRange{Low: 150, High: 190 + third, Scale: material.HBW}, Provenance: from("c1")},
					{Name: "annealed", Provenance: from("")},
				},
				Physical:    []material.Property{{Name: "density", Quantity: unit.Density, Value: unit.Measure{Amount: 7.85, Quantity: unit.Density}, Provenance: from("d1")}},
				MinimumChip: material.MinimumChip{GroundEdgeMM: unit.Some(tenths / 100), HonedInsertMM: unit.Some(tiny)},
				Cautions:    []string{"work-hardening", "long-chips"}},
			{ID: "b-alloy", Name: "B alloy", Group: material.S, Subgroup: material.Titanium},
		},
		Force: []material.Force{
			{Provenance: from("kc-a-steel"), Scope: material.Scope{Level: "material", Key: "a-steel"}, Condition: "annealed", Process: "turning",
				Method: material.Kienzle, Family: "six-degree-carbide",
				SpecificCuttingForce11NPerMM2: unit.Some(1700 + third), ChipThicknessExp: unit.Some(0.25),
				FeedForce11NPerMM2: unit.Some(large), FeedForceExp: unit.Some(-tenths),
				PassiveForce11NPerMM2: unit.Some(500), PassiveForceExp: unit.Some(0.6), ReferenceRakeDeg: unit.Some(-6),
				ChipThickness: span(unit.Length, 0.05, 2.5), Hardness: span(unit.None, 140, 200), Speed: span(unit.Speed, 60, 300),
				SpreadRatio: unit.Some(0.1), Rank: 2},
			{Provenance: from("kd-s"), Scope: material.Scope{Level: "group", Key: "S"}, Process: "drilling", Method: material.DrillWork,
				DrillWorkFactor: unit.Some(24000), ChipThickness: domain.Range{Quantity: unit.Length}, Speed: domain.Range{Quantity: unit.Speed}},
			{Provenance: from("u-carbon"), Scope: material.Scope{Level: "subgroup", Key: "P/carbon"}, Process: "general", Method: material.UnitPower,
				EnergyJPerMM3: unit.Some(2.73), EnergyThicknessMM: unit.Some(0.2), EnergyThicknessExp: unit.Some(0),
				ChipThickness: domain.Range{Quantity: unit.Length, Low: unit.Some(0)}, Speed: domain.Range{Quantity: unit.Speed}},
		},
		Starting: []material.Starting{
			{Provenance: from("start-drill"), Scope: material.Scope{Level: "material", Key: "a-steel"}, Condition: "annealed",
				Operations: []string{"drilling"}, Classes: []string{"drill-solid"}, ToolMaterial: "HC", Kind: "general",
				Speed: span(unit.Speed, 60, 90), FeedKind: material.DiameterPerTurn, Feed: span(unit.None, 0.01, tenths/10),
				Hardness: span(unit.None, 100, 200), DepthMM: unit.Some(30), Rank: 1},
			{Provenance: from("start-turn"), Scope: material.Scope{Level: "group", Key: "P"}, Operations: []string{"turning", "facing"}, Kind: "rough",
				Speed: span(unit.Speed, 100, 200), FeedKind: material.PerRevolution, Feed: span(unit.Length, 0.2, 0.4)},
		},
		Life: []material.Life{{Provenance: from("life-a"), Scope: material.Scope{Level: "material", Key: "a-steel"}, ToolMaterial: "HC",
			Process: "turning", FeedExp: unit.Some(0.2), DepthExp: unit.Some(third), ReferenceFeedMM: unit.Some(0.3), ReferenceDepthMM: unit.Some(2),
			TaylorExp: unit.Some(almost1 / 4), TaylorSpeedMPerMin: unit.Some(350), Criterion: "VB 0.3"}},
		Classes: []tool.Class{{ID: "drill-solid", Name: "Solid drill", Operations: []string{"drilling", "spot-drilling"}, Edge: tool.Ground, Note: "invented",
			Properties: []tool.Property{
				{Name: "point_angle", Code: "SIG", Quantity: unit.Angle, Default: unit.Some(140), Low: unit.Some(90), High: unit.Some(180)},
				{Name: "axial_rake_angle", Quantity: unit.Angle, Default: unit.Some(-third), Low: unit.Some(-10)},
			}}},
		Machines: []machine.Machine{{ID: "demo-mill", Name: "Demo mill", Process: machine.Milling, Basis: domain.Demo, Note: "invented",
			Spindle: machine.Spindle{MaxSpeedPerMin: 12000, EfficiencyRatio: 0.85, IdlePowerKW: third,
				Gears: []machine.Gear{
					{Name: "low", MaxSpeedPerMin: 3000, Ratings: []machine.Rating{
						{Duty: machine.Continuous, PowerKW: 15, TorqueNm: 95.5},
						{Duty: machine.Duty{Type: "S6", Percent: 40, CycleMinutes: 10}, PowerKW: 20 + tenths, TorqueNm: 130}}},
					{Name: "high", MinSpeedPerMin: 1500, MaxSpeedPerMin: 12000, Ratings: []machine.Rating{
						{Duty: machine.Continuous, Points: []machine.Point{{SpeedPerMin: 1500, PowerKW: 15}, {SpeedPerMin: 12000, PowerKW: 9.9}}}}},
				}},
			Axes: machine.Axes{MaxFeedRateMMPerMin: unit.Some(20000), MaxFeedForceN: unit.Some(8000), AccelerationMPerS2: unit.Some(4.9),
				RapidRateMMPerMin: unit.Some(30000)},
			Coolant:            machine.Coolant{Deliveries: []string{"external", "through-tool"}, ThroughToolPressureBar: unit.Some(20)},
			SynchronousTapping: &yes, ToolChangeSeconds: unit.Some(4.5),
			Meter: &machine.Meter{PercentOf: "S1", Quantity: "power", Point: "motor"},
			WorkHolding: &machine.WorkHolding{Kind: "chuck", MaxSpeedPerMin: unit.Some(4000), JawsCount: unit.Some(3), JawMassKg: unit.Some(0.8),
				JawRadiusMM: unit.Some(60), GripDiameterMM: unit.Some(80), FrictionRatio: unit.Some(0.2), StaticGripN: unit.Some(45000),
				SafetyRatio: unit.Some(2), Catcher: &no},
		}},
		Hardness: []material.HardnessRow{
			{HV: 90, HBW: 86, TensileStrengthNPerMM2: 285, Source: "a-book"},
			{HV: 80, HBW: 76, HRB: 41, HRC: 0.5, Source: "a-book"},
		},
	}
}

// shopMachine is a machine as a caller might store it: the least that is required.
func shopMachine(id string) machine.Machine {
	return machine.Machine{ID: id, Name: "Shop mill", Process: machine.Milling, Basis: domain.Shop,
		Spindle: machine.Spindle{MaxSpeedPerMin: 8000, EfficiencyRatio: 0.9, Gears: []machine.Gear{{Name: "only", MaxSpeedPerMin: 8000,
			Ratings: []machine.Rating{{Duty: machine.Continuous, PowerKW: 11, TorqueNm: 70}}}}}}
}

// stamp sets the revision of everything, as the first load of an empty database does.
func stamp(data catalog.Data, revision int64) catalog.Data {
	data.Revision = revision
	for i := range data.Sources {
		data.Sources[i].Revision = revision
	}
	for i := range data.Materials {
		data.Materials[i].Revision = revision
	}
	for i := range data.Classes {
		data.Classes[i].Revision = revision
	}
	for i := range data.Machines {
		data.Machines[i].Revision = revision
	}
	return data
}

var us = db.LoadOptions{Who: "the tests", Reason: "a check", Demo: true}

func load(t testing.TB, store *db.DB, data catalog.Data, options db.LoadOptions) db.LoadReport {
	t.Helper()
	report, err := store.Load(context.Background(), data, options)
	if err != nil {
		t.Fatal(err)
	}
	return report
}

func snapshot(t testing.TB, store *db.DB) catalog.Data {
	t.Helper()
	data, err := store.Snapshot(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func snapshotAt(t testing.TB, store *db.DB, revision int64) catalog.Data {
	t.Helper()
	data, err := store.SnapshotAt(context.Background(), db.AsOf{Revision: &revision})
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// fault asserts that an error is one of the domain with this kind and code.
func fault(t testing.TB, err error, kind domain.Kind, code string) *domain.Error {
	t.Helper()
	faults := domain.Faults(err)
	if len(faults) != 1 || faults[0].Kind != kind || faults[0].Code != code {
		t.Fatalf("got error %v, want one of kind %d and code %s", err, kind, code)
	}
	return faults[0]
}
