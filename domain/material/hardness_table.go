package material

// HardnessRow is one line of a published conversion table; absent cells are zero.
type HardnessRow struct {
	HV, HBW, HRC, HRB      float64
	TensileStrengthNPerMM2 float64
	Source                 string // source id
}
