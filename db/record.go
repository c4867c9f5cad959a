package db

import (
	"fmt"

	"swarf/domain/material"
	"swarf/domain/unit"
)

type scopeRow struct {
	Level string `json:"scope_level"`
	Key   string `json:"scope_key"`
}

type forceRow struct {
	ID string `json:"id"`
	scopeRow
	Condition           string          `json:"condition"`
	Process             string          `json:"process"`
	Method              material.Method `json:"method"`
	Family              string          `json:"family"`
	CuttingForce11      unit.Opt        `json:"specific_cutting_force_1_1_n_per_mm2"`
	ChipThicknessExp    unit.Opt        `json:"chip_thickness_exp"`
	FeedForce11         unit.Opt        `json:"feed_force_1_1_n_per_mm2"`
	FeedForceExp        unit.Opt        `json:"feed_force_exp"`
	PassiveForce11      unit.Opt        `json:"passive_force_1_1_n_per_mm2"`
	PassiveForceExp     unit.Opt        `json:"passive_force_exp"`
	ReferenceRakeDeg    unit.Opt        `json:"reference_rake_deg"`
	EnergyJPerMM3       unit.Opt        `json:"energy_j_per_mm3"`
	EnergyThicknessMM   unit.Opt        `json:"energy_thickness_mm"`
	EnergyThicknessExp  unit.Opt        `json:"energy_thickness_exp"`
	DrillWorkFactor     unit.Opt        `json:"drill_work_factor_ratio"`
	ChipThicknessLowMM  unit.Opt        `json:"valid_chip_thickness_low_mm"`
	ChipThicknessHighMM unit.Opt        `json:"valid_chip_thickness_high_mm"`
	HardnessLow         unit.Opt        `json:"valid_hardness_low_hbw"`
	HardnessHigh        unit.Opt        `json:"valid_hardness_high_hbw"`
	SpeedLow            unit.Opt        `json:"valid_speed_low_m_per_min"`
	SpeedHigh           unit.Opt        `json:"valid_speed_high_m_per_min"`
	SpreadRatio         unit.Opt        `json:"spread_ratio"`
	Rank                int             `json:"rank"`
	provenanceRow
}

type startingRow struct {
	ID string `json:"id"`
	scopeRow
	Condition     string            `json:"condition"`
	Operations    list              `json:"operations"`
	Classes       list              `json:"tool_classes"`
	ToolMaterial  string            `json:"tool_material"`
	Kind          string            `json:"kind"`
	SpeedLow      unit.Opt          `json:"speed_low_m_per_min"`
	SpeedHigh     unit.Opt          `json:"speed_high_m_per_min"`
	FeedKind      material.FeedKind `json:"feed_kind"`
	FeedLowMM     unit.Opt          `json:"feed_low_mm"`
	FeedHighMM    unit.Opt          `json:"feed_high_mm"`
	FeedLowRatio  unit.Opt          `json:"feed_low_diameter_ratio"`
	FeedHighRatio unit.Opt          `json:"feed_high_diameter_ratio"`
	HardnessLow   unit.Opt          `json:"valid_hardness_low_hbw"`
	HardnessHigh  unit.Opt          `json:"valid_hardness_high_hbw"`
	DepthMM       unit.Opt          `json:"depth_mm"`
	Rank          int               `json:"rank"`
	provenanceRow
}

type lifeRow struct {
	ID string `json:"id"`
	scopeRow
	ToolMaterial       string   `json:"tool_material"`
	TaylorExp          unit.Opt `json:"taylor_exp"`
	TaylorSpeedMPerMin unit.Opt `json:"taylor_speed_m_per_min"`
	Process            string   `json:"process"`
	FeedExp            unit.Opt `json:"feed_exp"`
	DepthExp           unit.Opt `json:"depth_exp"`
	ReferenceFeedMM    unit.Opt `json:"reference_feed_mm"`
	ReferenceDepthMM   unit.Opt `json:"reference_depth_mm"`
	Criterion          string   `json:"criterion"`
	provenanceRow
}

// feedQuantity is what a starting feed of this kind is: a length or a ratio.
func feedQuantity(kind material.FeedKind) unit.Quantity {
	if kind == material.DiameterPerTurn || kind == material.DiameterPerTooth {
		return unit.None
	}
	return unit.Length
}

func (r *rows) addForce(f material.Force) error {
	for _, s := range []error{
		spanned("chip thickness", f.ChipThickness, unit.Length),
		spanned("hardness", f.Hardness, unit.None),
		spanned("speed", f.Speed, unit.Speed),
	} {
		if s != nil {
			return fmt.Errorf("force record %s: %w", f.ID, s)
		}
	}
	r.force = append(r.force, forceRow{
		ID: f.ID, scopeRow: scopeRow(f.Scope), Condition: f.Condition, Process: f.Process, Method: f.Method, Family: f.Family,
		CuttingForce11: f.SpecificCuttingForce11NPerMM2, ChipThicknessExp: f.ChipThicknessExp,
		FeedForce11: f.FeedForce11NPerMM2, FeedForceExp: f.FeedForceExp,
		PassiveForce11: f.PassiveForce11NPerMM2, PassiveForceExp: f.PassiveForceExp,
		ReferenceRakeDeg: f.ReferenceRakeDeg,
		EnergyJPerMM3:    f.EnergyJPerMM3, EnergyThicknessMM: f.EnergyThicknessMM, EnergyThicknessExp: f.EnergyThicknessExp,
		DrillWorkFactor:    f.DrillWorkFactor,
		ChipThicknessLowMM: f.ChipThickness.Low, ChipThicknessHighMM: f.ChipThickness.High,
		HardnessLow: f.Hardness.Low, HardnessHigh: f.Hardness.High, SpeedLow: f.Speed.Low, SpeedHigh: f.Speed.High,
		SpreadRatio: f.SpreadRatio, Rank: f.Rank, provenanceRow: provenanceOf(f.Provenance),
	})
	return nil
}

func (x forceRow) record() material.Force {
	return material.Force{
		Provenance: x.provenance(x.ID), Scope: material.Scope(x.scopeRow),
		Condition: x.Condition, Process: x.Process, Method: x.Method, Family: x.Family,
		SpecificCuttingForce11NPerMM2: x.CuttingForce11, ChipThicknessExp: x.ChipThicknessExp,
		FeedForce11NPerMM2: x.FeedForce11, FeedForceExp: x.FeedForceExp,
		PassiveForce11NPerMM2: x.PassiveForce11, PassiveForceExp: x.PassiveForceExp,
		ReferenceRakeDeg: x.ReferenceRakeDeg,
		EnergyJPerMM3:    x.EnergyJPerMM3, EnergyThicknessMM: x.EnergyThicknessMM, EnergyThicknessExp: x.EnergyThicknessExp,
		DrillWorkFactor: x.DrillWorkFactor,
		ChipThickness:   span(unit.Length, x.ChipThicknessLowMM, x.ChipThicknessHighMM),
		Hardness:        span(unit.None, x.HardnessLow, x.HardnessHigh),
		Speed:           span(unit.Speed, x.SpeedLow, x.SpeedHigh),
		SpreadRatio:     x.SpreadRatio, Rank: x.Rank,
	}
}

func (r *rows) addStarting(s material.Starting) error {
	quantity := feedQuantity(s.FeedKind)
	for _, err := range []error{
		spanned("speed", s.Speed, unit.Speed),
		spanned("feed", s.Feed, quantity),
		spanned("hardness", s.Hardness, unit.None),
	} {
		if err != nil {
			return fmt.Errorf("starting record %s: %w", s.ID, err)
		}
	}
	row := startingRow{
		ID: s.ID, scopeRow: scopeRow(s.Scope), Condition: s.Condition, Operations: s.Operations, Classes: s.Classes,
		ToolMaterial: s.ToolMaterial, Kind: s.Kind, SpeedLow: s.Speed.Low, SpeedHigh: s.Speed.High, FeedKind: s.FeedKind,
		HardnessLow: s.Hardness.Low, HardnessHigh: s.Hardness.High, DepthMM: s.DepthMM, Rank: s.Rank,
		provenanceRow: provenanceOf(s.Provenance),
	}
	if quantity == unit.Length {
		row.FeedLowMM, row.FeedHighMM = s.Feed.Low, s.Feed.High
	} else {
		row.FeedLowRatio, row.FeedHighRatio = s.Feed.Low, s.Feed.High
	}
	r.starting = append(r.starting, row)
	return nil
}

func (x startingRow) record() material.Starting {
	feed := span(unit.Length, x.FeedLowMM, x.FeedHighMM)
	if feedQuantity(x.FeedKind) == unit.None {
		feed = span(unit.None, x.FeedLowRatio, x.FeedHighRatio)
	}
	return material.Starting{
		Provenance: x.provenance(x.ID), Scope: material.Scope(x.scopeRow),
		Condition: x.Condition, Operations: x.Operations.entries(), Classes: x.Classes.entries(),
		ToolMaterial: x.ToolMaterial, Kind: x.Kind,
		Speed:    span(unit.Speed, x.SpeedLow, x.SpeedHigh),
		FeedKind: x.FeedKind, Feed: feed,
		Hardness: span(unit.None, x.HardnessLow, x.HardnessHigh),
		DepthMM:  x.DepthMM, Rank: x.Rank,
	}
}

func (r *rows) addLife(l material.Life) {
	r.life = append(r.life, lifeRow{
		ID: l.ID, scopeRow: scopeRow(l.Scope), ToolMaterial: l.ToolMaterial,
		TaylorExp: l.TaylorExp, TaylorSpeedMPerMin: l.TaylorSpeedMPerMin, Criterion: l.Criterion,
		Process: l.Process, FeedExp: l.FeedExp, DepthExp: l.DepthExp, ReferenceFeedMM: l.ReferenceFeedMM, ReferenceDepthMM: l.ReferenceDepthMM,
		provenanceRow: provenanceOf(l.Provenance),
	})
}

func (x lifeRow) record() material.Life {
	return material.Life{
		Provenance: x.provenance(x.ID), Scope: material.Scope(x.scopeRow), ToolMaterial: x.ToolMaterial,
		TaylorExp: x.TaylorExp, TaylorSpeedMPerMin: x.TaylorSpeedMPerMin, Criterion: x.Criterion,
		Process: x.Process, FeedExp: x.FeedExp, DepthExp: x.DepthExp, ReferenceFeedMM: x.ReferenceFeedMM, ReferenceDepthMM: x.ReferenceDepthMM,
	}
}
