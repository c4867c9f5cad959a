package unit

import (
	"encoding/json"
	"strconv"
)

// Measure is a metric number together with what it measures; it is how findings
// and faults carry a value or a limit of any kind.
type Measure struct {
	Amount   float64
	Quantity Quantity
}

// Of makes a measure.
func Of(q Quantity, amount float64) *Measure { return &Measure{Amount: amount, Quantity: q} }

// Opt is a number that may be absent: what does not apply, or has no record, is
// left out of an answer, never zero. The zero value is absent.
type Opt struct {
	V  float64
	OK bool
}

// Some is a present number.
func Some(v float64) Opt { return Opt{v, true} }

// IsZero reports absence; encoding/json's omitzero uses it.
func (o Opt) IsZero() bool { return !o.OK }

// Or returns the number, or another when absent.
func (o Opt) Or(other float64) float64 {
	if o.OK {
		return o.V
	}
	return other
}

// MarshalJSON writes the number, or null.
func (o Opt) MarshalJSON() ([]byte, error) {
	if !o.OK {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, o.V, 'g', -1, 64), nil
}

// UnmarshalJSON reads a number, or null.
func (o *Opt) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*o = Opt{}
		return nil
	}
	o.OK = true
	return json.Unmarshal(data, &o.V)
}
