package finding

import (
	"slices"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// brass is the subgroup in which positive drills pull themselves in. Common practice.
const brass = "brass"

// material judges what the metal itself asks: fire, dust, condition, hardness.
func (j *judge) material() {
	w, coolant := &j.c.Material, &j.c.Coolant
	fines := w.Combustible()
	dust := false
	if w.Grade != nil {
		fines = fines || slices.Contains(w.Grade.Cautions, "combustible-fines")
		dust = slices.Contains(w.Grade.Cautions, "hazardous-dust")
	}
	if w.Magnesium() && coolant.SiteProcedure == "" {
		watery := coolant.Fluid == "water-miscible" && coolant.Delivery != "none"
		unnamed := coolant.Fluid == "" && coolant.Wet()
		if watery || unnamed {
			j.tells("combustible-metal-coolant", domain.Refusal, "coolant.fluid",
				"magnesium with a water-miscible or unnamed coolant gives off hydrogen and can ignite", "dry or neat oil, by the site's written procedure named in coolant.site_procedure")
		}
	}
	if fines {
		j.tells("combustible-fines", domain.Warning, "material", "fine chips of this metal burn",
			"take chips away often, keep a class D extinguisher at hand, never water on a metal fire; local rules come first")
	}
	if dust {
		j.tells("hazardous-dust", domain.Warning, "material", "dust of this metal harms health", "the named control of the site: extraction, wet cutting or breathing protection")
	}
	if w.Group == material.O {
		j.tells("heat-in-plastic", domain.Warning, "material", "heat stays in a plastic part, which softens, grows and springs back; its dust, and the fumes of an overheated one, harm health",
			"sharp edges, air at the cut, chips away before they wind up; extraction; never let fluoropolymers or polyvinyl chloride scorch; measure when cool")
	}
	dry := coolant.Delivery == "none" || coolant.Delivery == "air"
	if w.Group == material.S && j.c.Operation.Family == cut.HoleFamily && dry {
		j.tells("dry-drilling-heat-resistant", domain.Hold, "coolant.delivery", "drilled dry, the heat stays in the edge", "coolant at the edge")
	}
	if w.Grade == nil && (w.Group == material.N || w.Group == material.S) {
		j.unchecked("combustible", "the grade: group "+string(w.Group)+" holds metals whose fines burn")
	}
	if rake, ok := given(j.c.Tool.RakeAngleDeg); ok && rake > 0 && w.Subgroup == brass && j.c.Operation.Name == "drilling" {
		j.says("drill-grabs", domain.Warning, "tool.rake_angle", unit.Angle, rake, 0,
			"in brass a drill with a rake of {value} pulls itself in", "a drill whose lips are ground flat, to a rake of {limit}; a feed that is driven, never by hand")
	}
	if j.c.Unattended && (fines || w.WorkHardens()) {
		j.tells("unattended-not-advised", domain.Warning, "unattended", "burning fines or long chips need somebody near", "attend the cut")
	}
	j.condition()
	j.certificate()
}

// condition judges which state of the grade was named and whether the hardness fits.
func (j *judge) condition() {
	w := &j.c.Material
	if w.Grade == nil {
		j.tells("group-record-used", domain.Hold, "material.group", "the answer is for a whole group, good for what-if only", "name the grade")
		return
	}
	if w.Condition == nil {
		return
	}
	if !w.ConditionGiven {
		j.tells("condition-assumed", domain.Warning, "material.condition", "no condition given; "+w.Condition.Name+" is assumed", "take it from the certificate")
	}
	if w.Hardness == nil {
		return
	}
	low, high, value := w.ConditionLowHBW, w.ConditionHighHBW, w.HardnessHBW
	if r := w.Condition.Hardness; r.Scale == w.Hardness.Scale {
		low, high, value = r.Low, r.High, w.Hardness.Value
	}
	if value == 0 || high == 0 {
		needs := "a hardness on the scale of the condition"
		if value == 0 && high > 0 {
			needs += ", " + string(w.Condition.Hardness.Scale) + ": no table on file reads " + string(w.Hardness.Scale) + " of this metal so far"
		}
		j.unchecked("hardness", needs)
		return
	}
	limit := high
	if value < low {
		limit = low
	}
	if value < low || value > high {
		j.says("hardness-outside-condition", domain.Hold, "material.hardness", unit.None, value, limit,
			"hardness {value} is outside what "+w.Condition.Name+" has, which ends at {limit}", "check the bar, or name another condition")
	}
}
