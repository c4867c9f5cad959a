package catalog

import (
	"math"
	"testing"

	"swarf/domain/cut"
	"swarf/domain/material"
)

// What a certificate says of the lot serves where the request says nothing of the work.
func TestResolveWorkByCertificate(t *testing.T) {
	d := sample()
	for i, strength := range []float64{640, 820, 965, 1290, 2180, 0, 0} {
		d.Hardness[i].TensileStrengthNPerMM2 = strength // DIN 50150, as printed
	}
	s := snapshot(t, d)
	hard := func(v float64, scale string) *HardnessQuery { return &HardnessQuery{ptr(v), scale} }
	for _, c := range []struct {
		name        string
		grade       string
		sent        *HardnessQuery
		certificate *CertificateQuery
		hbw         float64
		from        cut.HardnessFrom
		approximate bool
	}{
		{"hardness of the lot", "C45", nil, &CertificateQuery{Hardness: hard(207, "HBW")}, 207, cut.FromCertificate, false},
		{"converted", "C45", nil, &CertificateQuery{Hardness: hard(300, "HV")}, 285, cut.FromCertificate, false},
		{"the bar itself comes first", "C45", hard(190, "HBW"), &CertificateQuery{Hardness: hard(207, "HBW")}, 190, cut.FromRequest, false},
		{"by tensile strength", "C45", nil, &CertificateQuery{TensileStrengthNPerMM2: ptr(965)}, 285, cut.FromTensile, false},
		{"hardness before tensile strength", "C45", nil, &CertificateQuery{hard(200, "HBW"), ptr(965)}, 200, cut.FromCertificate, false},
		{"tensile strength beyond the table", "C45", nil, &CertificateQuery{TensileStrengthNPerMM2: ptr(300)}, 180, cut.FromRequest, false},
		{"tensile strength of austenitic metal", "304", nil, &CertificateQuery{TensileStrengthNPerMM2: ptr(640)}, 180, cut.FromRequest, false},
		{"austenitic plate", "304", nil, &CertificateQuery{Hardness: hard(92, "HRB")}, 1 / (0.0001304 * 38), cut.FromCertificate, false},
		{"austenitic metal in Vickers", "304", hard(200, "HV"), nil, 190, cut.FromRequest, true},
		{"nickel in Rockwell C", "N07718", hard(29.8, "HRC"), nil, 285, cut.FromRequest, true},
		{"aluminium in Vickers", "6061", hard(200, "HV"), nil, 0, cut.FromRequest, false},
	} {
		w, faults := s.ResolveWork(WorkQuery{Grade: c.grade, Hardness: c.sent, Certificate: c.certificate})
		if faults != nil {
			t.Errorf("%s: %v", c.name, faults)
			continue
		}
		if math.Abs(w.HardnessHBW-c.hbw) > 0.001 || w.HardnessFrom != c.from || w.Approximate != c.approximate {
			t.Errorf("%s: %v HBW from %v, approximate %v; want %v, %v, %v", c.name, w.HardnessHBW, w.HardnessFrom, w.Approximate, c.hbw, c.from, c.approximate)
		}
	}
	w, _ := s.ResolveWork(WorkQuery{Grade: "C45", Hardness: hard(190, "HBW"), Certificate: &CertificateQuery{Hardness: hard(300, "HV")}})
	if w.CertifiedHBW != 285 || w.Certified == nil || *w.Hardness != (material.Hardness{Value: 190, Scale: material.HBW}) {
		t.Errorf("the certificate beside the bar: %+v", w)
	}
	_, faults := s.ResolveWork(WorkQuery{Grade: "C45", Hardness: hard(40, ""), Certificate: &CertificateQuery{Hardness: hard(900, "HBW")}})
	if len(faults) != 2 || faults[0].Field != "material.hardness" || faults[1].Field != "stock.certificate.hardness.value" {
		t.Errorf("faults %v", faults)
	}
}
