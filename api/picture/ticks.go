package picture

import (
	"math"

	"gonum.org/v1/plot"

	"swarf/api/wire"
)

// ticks are marks at round numbers, written plainly.
type ticks struct{}

// Ticks implements plot.Ticker.
func (ticks) Ticks(low, high float64) []plot.Tick {
	span := high - low
	if !(span > 0) || math.IsInf(span, 0) {
		return []plot.Tick{{Value: low, Label: wire.Short(low)}}
	}
	step := math.Pow(10, math.Floor(math.Log10(span/4)))
	for _, k := range [...]float64{1, 2, 2.5, 5, 10} {
		if span/(step*k) <= 7 {
			step *= k
			break
		}
	}
	var list []plot.Tick
	for v := math.Ceil(low/step-1e-9) * step; v <= high+step*1e-9; v += step {
		list = append(list, plot.Tick{Value: v, Label: wire.Short(v)})
	}
	return list
}

// decades are marks of a logarithmic axis: at 1, 2 and 5 of every power of ten with their
// numbers, at the others without.
type decades struct{}

// Ticks implements plot.Ticker.
func (decades) Ticks(low, high float64) []plot.Tick {
	var list []plot.Tick
	for ten := math.Pow(10, math.Floor(math.Log10(low))); ten <= high; ten *= 10 {
		for k := 1.0; k < 10; k++ {
			if v := k * ten; v >= low*(1-1e-9) && v <= high*(1+1e-9) {
				t := plot.Tick{Value: v}
				if k == 1 || k == 2 || k == 5 {
					t.Label = wire.Short(v)
				}
				list = append(list, t)
			}
		}
	}
	return list
}

// degrees are marks of a full turn.
type degrees struct{}

// Ticks implements plot.Ticker.
func (degrees) Ticks(low, high float64) []plot.Tick {
	var list []plot.Tick
	for v := 0.0; v <= 360; v += 45 {
		list = append(list, plot.Tick{Value: v, Label: wire.Short(v)})
	}
	return list
}

// blank are the marks of degrees without their numbers, for panels above the lowest.
type blank struct{ of plot.Ticker }

// Ticks implements plot.Ticker.
func (b blank) Ticks(low, high float64) []plot.Tick {
	list := b.of.Ticks(low, high)
	for i := range list {
		if list[i].Label != "" {
			list[i].Label = " "
		}
	}
	return list
}
