package material

// Scale is a hardness scale.
type Scale string

// The scales.
const (
	HBW Scale = "HBW" // Brinell, ISO 6506
	HRC Scale = "HRC" // Rockwell C, ISO 6508
	HRB Scale = "HRB" // Rockwell B, ISO 6508
	HV  Scale = "HV"  // Vickers, ISO 6507
)

// ParseScale reads a scale; HB is accepted for HBW.
func ParseScale(text string) (Scale, bool) {
	switch Scale(text) {
	case HBW, HRC, HRB, HV:
		return Scale(text), true
	}
	if text == "HB" {
		return HBW, true
	}
	return "", false
}

// Hardness is a number with its scale: 40 of nothing means nothing.
type Hardness struct {
	Value float64
	Scale Scale
}
