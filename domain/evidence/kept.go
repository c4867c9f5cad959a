package evidence

// Kept is one observation as it is kept: what it is about, what it says, and the document
// that was sent.
type Kept struct {
	ID                                                  int64
	At, Received, Who                                   string
	Kind                                                string // load, edge, surface
	SetAside                                            bool
	Doubts                                              []Doubt
	Material, Process, ToolMaterial, Machine, Lot, Edge string
	Record                                              string // that served when it came
	Seen                                                *Seen
	Ended                                               *Ended
	Document                                            []byte
}

// State is accepted or set-aside.
func (k *Kept) State() string {
	if k.SetAside {
		return "set-aside"
	}
	return "accepted"
}

// ForcePoint is an accepted load of some metal on some machine.
type ForcePoint struct {
	Material, Machine, Lot, Edge      string
	ForceExp, ThicknessExp, WearRatio float64
}

// LifePoint is an accepted edge.
type LifePoint struct {
	Ended
	Lot, Machine string
}
