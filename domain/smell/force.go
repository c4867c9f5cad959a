package smell

import (
	"fmt"
	"math"
	"slices"

	"swarf/domain/material"
	"swarf/domain/unit"
)

// window is a number that lies between two others. The windows of this file are
// common practice, no source.
type window struct{ low, high float64 }

func (b *book) inside(id, what string, v unit.Opt, w window) {
	b.failIf(v.OK && !(v.V >= w.low && v.V <= w.high), "force", id, "%s %v is outside %v to %v", what, v.V, w.low, w.high)
}

// forceWindow finds numbers that no metal has.
func forceWindow(b *book) {
	for i := range b.Force {
		r := &b.Force[i]
		b.row()
		kc := window{200, 6000}
		if b.group(r.Scope) == material.O {
			kc.low = 50
		}
		b.inside(r.ID, "kc1.1", r.SpecificCuttingForce11NPerMM2, kc)
		b.inside(r.ID, "mc", r.ChipThicknessExp, window{0.05, 0.45})
		b.inside(r.ID, "energy", r.EnergyJPerMM3, window{0.2, 10})
		b.inside(r.ID, "Kd", r.DrillWorkFactor, window{3000, 45000})
		b.inside(r.ID, "1 - mf", r.FeedForceExp, window{0.3, 1.1})
		b.inside(r.ID, "1 - mp", r.PassiveForceExp, window{0.3, 1.1})
		b.inside(r.ID, "spread", r.SpreadRatio, window{0.03, 0.6})
		b.inside(r.ID, "reference rake", r.ReferenceRakeDeg, window{-15, 30})
		b.inside(r.ID, "hardness HBW", r.Hardness.High, window{10, 700})
		b.inside(r.ID, "chip thickness", r.ChipThickness.High, window{0.01, 5})
	}
}

// forceNeighbours compares pairs for one grade in one condition where both hold.
func forceNeighbours(b *book) {
	type place struct {
		material.Scope
		condition string
	}
	at := map[place][]*material.Force{}
	for i := range b.Force {
		r := &b.Force[i]
		if r.Method != material.Kienzle || r.Level != "material" {
			continue
		}
		b.row()
		p := place{r.Scope, r.Condition}
		for _, other := range at[p] {
			low, high := max(r.ChipThickness.Low.V, other.ChipThickness.Low.V), min(r.ChipThickness.High.V, other.ChipThickness.High.V)
			if low > high || low <= 0 {
				continue
			}
			h := math.Sqrt(low * high)
			if ratio := kcAt(r, h) / kcAt(other, h); ratio > 2 || ratio < 0.5 {
				b.found(Warning, "force", r.ID, "%.2f times %s at h = %.2f mm", ratio, other.ID, h)
			}
		}
		at[p] = append(at[p], r)
	}
}

func kcAt(r *material.Force, h float64) float64 {
	return r.SpecificCuttingForce11NPerMM2.V * math.Pow(h, -r.ChipThicknessExp.V)
}

// printedTwice are pairs that tables really print for unlike metals; the notes of the
// records say so where it matters.
var printedTwice = []string{"1780/0.17", "1820/0.26", "2260/0.3", "640/0.25", "2350/0.21", "830/0.23", "780/0.23"}

// copiedDigits finds the same pair in materials of unlike groups: a copied row. Steel
// and the same steel hardened are one metal; values of groups are round and shared.
func copiedDigits(b *book) {
	seen := map[string]*material.Force{}
	for i := range b.Force {
		r := &b.Force[i]
		if r.Method != material.Kienzle || r.Source == "common-practice" || r.Family == "group-energy" {
			continue
		}
		b.row()
		pair := fmt.Sprintf("%v/%v", r.SpecificCuttingForce11NPerMM2.V, r.ChipThicknessExp.V)
		first := seen[pair]
		if first == nil {
			seen[pair] = r
			continue
		}
		if kinds := string(b.group(first.Scope) + b.group(r.Scope)); kinds[:len(kinds)/2] == kinds[len(kinds)/2:] || slices.Contains([]string{"PH", "HP"}, kinds) || slices.Contains(printedTwice, pair) {
			continue
		}
		b.found(Warning, "force", r.ID, "%s stands at %s too, another metal", pair, first.ID)
	}
}
