package finding_test

import (
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/material"
)

// certified is work whose hardness comes from somewhere, with a certificate of a type.
func certified(from cut.HardnessFrom, kind string) func(*cut.Cut) {
	return func(c *cut.Cut) {
		strength := 640.0
		c.Stock = cut.Stock{Lot: "A-17", Certificate: &cut.Certificate{Type: kind, Heat: "H45678"}}
		c.Material.Hardness, c.Material.HardnessHBW, c.Material.HardnessFrom = &material.Hardness{Value: 190, Scale: material.HBW}, 190, from
		c.Material.TensileStrengthNPerMM2 = &strength
	}
}

// inCertificate is a certificate with a tensile strength in N/mm² and an elongation in
// percent.
func inCertificate(strength, elongation float64) func(*cut.Cut) {
	return func(c *cut.Cut) {
		c.Stock.Certificate = &cut.Certificate{Type: "3.1", TensileStrengthNPerMM2: n(strength), ElongationPercent: n(elongation)}
	}
}

// What the certificate answers is no longer unchecked, and what it cannot is said.
func TestCertificateAnswersWhatWasUnchecked(t *testing.T) {
	judged := func(change func(*cut.Cut)) (found []domain.Finding, unchecked string) {
		c := formed()
		change(c)
		e := estimate.Of(c)
		found = finding.Judge(e)
		for _, u := range e.Unchecked {
			unchecked += u.Check + ": " + u.Needs + "\n"
		}
		return found, unchecked
	}
	if _, unchecked := judged(func(*cut.Cut) {}); !strings.Contains(unchecked, "elongation: ") {
		t.Errorf("without a certificate the elongation is taken for granted:\n%s", unchecked)
	}
	if found, unchecked := judged(inCertificate(600, 22)); strings.Contains(unchecked, "elongation: ") {
		t.Errorf("the certificate says the elongation:\n%s\n%v", unchecked, found)
	}
	strength := 600.0
	_, unchecked := judged(func(c *cut.Cut) { c.Material.Hardness, c.Material.TensileStrengthNPerMM2 = nil, &strength })
	if !strings.Contains(unchecked, "tensile_strength: a hardness: no table on file") {
		t.Errorf("a tensile strength that says nothing of hardness is passed over:\n%s", unchecked)
	}
}
