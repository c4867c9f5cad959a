package finding

import (
	"strconv"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/unit"
)

// differRatio is how far two hardnesses of one bar may part before somebody looks:
// tests of one bar part by a few percent, and conversions by some more. Common practice,
// no source.
const differRatio = 1.10

// certificate says how the hardness of the work was come by: from which document, by
// which conversion, and where two of them part.
func (j *judge) certificate() {
	w, d := &j.c.Material, j.c.Stock.Certificate
	if d != nil && w.Hardness != nil && w.HardnessFrom != cut.FromRequest {
		of := "the certificate"
		if j.c.Stock.Lot != "" {
			of += " of lot " + j.c.Stock.Lot
		}
		switch {
		case w.HardnessFrom == cut.FromTensile:
			j.says("certificate-used", domain.Note, "stock.certificate.tensile_strength", unit.SpecificForce, *w.TensileStrengthNPerMM2, *w.TensileStrengthNPerMM2,
				"the tensile strength of {value} in "+of+" is read as "+strconv.FormatFloat(w.HardnessHBW, 'f', 0, 64)+" HBW, the least certain of conversions", "a hardness measured on the bar")
		case d.OfTheLot():
			j.says("certificate-used", domain.Note, "stock.certificate.hardness", unit.None, w.Hardness.Value, w.Hardness.Value,
				"hardness {value} "+string(w.Hardness.Scale)+" is that of "+of, "")
		}
		if !d.OfTheLot() {
			j.tells("certificate-not-of-the-lot", domain.Warning, "stock.certificate.type", "a document of type "+d.Type+" (EN 10204) has no results of this lot: its numbers are those of other products",
				"a certificate of type 3.1 or 3.2, or a hardness measured on the bar in material.hardness")
		}
	}
	if w.HardnessFrom == cut.FromRequest && w.Hardness != nil && w.CertifiedHBW > 0 && w.HardnessHBW > 0 {
		if ratio := w.HardnessHBW / w.CertifiedHBW; over(max(ratio, 1/ratio), differRatio) {
			j.says("certificate-differs", domain.Warning, "material.hardness", unit.None, w.HardnessHBW, w.CertifiedHBW,
				"hardness {value} HBW is not that of the certificate, {limit} HBW", "check that the bar is of this lot")
		}
	}
	j.converted()
}

// converted says by which table a hardness was read in Brinell.
func (j *judge) converted() {
	w := &j.c.Material
	switch {
	case w.Converted && w.Approximate:
		j.says("hardness-converted", domain.Warning, "material.hardness", unit.None, w.Hardness.Value, w.HardnessHBW,
			"{value} "+string(w.Hardness.Scale)+" is taken as {limit} HBW by the table for carbon and low-alloy steel, which is not made for this metal", "a hardness in HBW")
	case w.Converted:
		j.says("hardness-converted", domain.Note, "material.hardness", unit.None, w.Hardness.Value, w.HardnessHBW,
			"{value} "+string(w.Hardness.Scale)+" is taken as {limit} HBW", "")
	case w.Hardness == nil && w.TensileStrengthNPerMM2 != nil:
		j.unchecked("tensile_strength", "a hardness: no table on file reads this tensile strength of this metal as one")
	}
}
