package catalog

import (
	"fmt"
	"strings"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// HardnessQuery is a hardness as it was sent; nil or empty where something is missing.
type HardnessQuery struct {
	Value *float64
	Scale string
}

// CertificateQuery is what the certificate of a lot says of its metal.
type CertificateQuery struct {
	Hardness               *HardnessQuery
	TensileStrengthNPerMM2 *float64
}

// Where a hardness was sent.
const (
	hardnessField    = "material.hardness"
	certificateField = "stock.certificate.hardness"
)

// readHardness takes the hardness of the work: the one sent for it, else the one of its
// certificate.
func readHardness(w *cut.Work, q WorkQuery) domain.Errors {
	var faults domain.Errors
	read := func(h *HardnessQuery, field string) *material.Hardness {
		if h == nil {
			return nil
		}
		got, err := h.read(field)
		if err != nil {
			faults = append(faults, err)
		}
		return got
	}
	w.Hardness = read(q.Hardness, hardnessField)
	if c := q.Certificate; c != nil {
		w.Certified = read(c.Hardness, certificateField)
		w.TensileStrengthNPerMM2 = c.TensileStrengthNPerMM2
	}
	if w.Hardness == nil && w.Certified != nil {
		w.Hardness, w.HardnessFrom = w.Certified, cut.FromCertificate
	}
	return faults
}

// brinell reads the hardness of the work in HBW, and says how. Where none was sent it
// is read from the certificate's tensile strength, in the metal of the table alone.
func (s *Snapshot) brinell(w *cut.Work) hardness {
	by := material.ConversionOf(w.Group, w.Subgroup)
	if w.Hardness == nil && w.TensileStrengthNPerMM2 != nil && by == material.OfSteel {
		if h, err := s.hardness.OfTensile(*w.TensileStrengthNPerMM2); err == nil {
			w.Hardness, w.HardnessFrom = &h, cut.FromTensile
		}
	}
	if w.Certified != nil {
		w.CertifiedHBW = s.onBrinell(by, *w.Certified).certain()
	}
	if w.Hardness == nil {
		return hardness{}
	}
	h := s.onBrinell(by, *w.Hardness)
	w.Converted = w.Hardness.Scale != material.HBW && h.certain() > 0
	if _, err := material.AusteniticHBW(*w.Hardness); w.Converted && by != material.OfSteel && !(by == material.OfAustenitic && err == nil) {
		w.Approximate = true
	}
	return h
}

// certain is the hardness, zero where it is not known or only that it is more.
func (h hardness) certain() float64 {
	if h.orMore {
		return 0
	}
	return h.hbw
}

// hardest is the largest value each scale can mean: Brinell ends near 650 and old
// tables near 750; Rockwell C is used to 70 and B to 100 (ISO 6508-1), with some room.
// Common practice.
var hardest = map[material.Scale]float64{material.HBW: 750, material.HRC: 72, material.HRB: 120, material.HV: 2000}

// read checks a hardness as it was sent in a field.
func (h *HardnessQuery) read(field string) (*material.Hardness, *domain.Error) {
	const scales = "HBW, HRC, HRB, HV"
	if strings.TrimSpace(h.Scale) == "" {
		if h.Value == nil {
			return nil, &domain.Error{Kind: domain.Unreadable, Field: field, Code: "field-missing",
				Msg: "the hardness has neither value nor scale", Fix: "add both, or leave the hardness out"}
		}
		return nil, &domain.Error{Kind: domain.Unreadable, Field: field, Code: "hardness-scale-missing",
			Msg: fmt.Sprintf("hardness %g of what scale?", *h.Value), Fix: "add the scale: " + scales}
	}
	scale, ok := material.ParseScale(strings.ToUpper(strings.TrimSpace(h.Scale)))
	if !ok {
		return nil, &domain.Error{Kind: domain.Invalid, Field: field + ".scale", Code: "hardness-scale-unknown",
			Msg: "no hardness scale " + quoted(h.Scale), Fix: "one of " + scales}
	}
	if h.Value == nil {
		return nil, &domain.Error{Kind: domain.Unreadable, Field: field + ".value", Code: "field-missing",
			Msg: "the hardness has no value", Fix: "add it"}
	}
	if most := hardest[scale]; !(*h.Value > 0 && *h.Value <= most) {
		return nil, &domain.Error{Kind: domain.Invalid, Field: field + ".value", Code: "value-out-of-range",
			Msg: fmt.Sprintf("hardness {value} %s must lie above 0 and not above {limit} %s", scale, scale),
			Fix: "check value and scale", Value: unit.Of(unit.None, *h.Value), Limit: unit.Of(unit.None, most)}
	}
	return &material.Hardness{Value: *h.Value, Scale: scale}, nil
}
