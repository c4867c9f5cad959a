package api_test

import (
	"math"
)

// readThread reads the members of threads: nominal and hole diameter, pitch, depth on
// radius, passes of a turned thread, threads in the lead of a tap.
func (c *oracleCut) readThread(r *reader, tool, engagement map[string]any) {
	c.pitch = r.given(engagement, "pitch", "length", 0)
	switch c.operation {
	case "thread-turning":
		c.d = r.given(engagement, "work_diameter", "length", math.NaN())
		c.deep = r.given(engagement, "thread_depth", "length", math.NaN())
		c.passes = r.given(engagement, "passes", "", math.NaN())
	case "tapping", "thread-forming":
		c.d = r.given(engagement, "nominal_diameter", "length", math.NaN())
		c.d0 = r.given(engagement, "hole_diameter", "length", math.NaN())
		c.deep = (c.d - c.d0) / 2
		c.lead = r.given(tool, "chamfer_threads", "", 2.5)
	default:
		c.pitch = 0 // of another kind
	}
}

// groove is the area of a thread's groove cut so deep: a trapezoid on P/8, 30° a side.
func (c oracleCut) groove(deep float64) float64 {
	return deep * (2*c.pitch/8 + 2*deep*math.Tan(math.Pi/6)) / 2
}

// threadLoads are the loads of a turned, tapped or formed thread.
func (c oracleCut) threadLoads() map[string]expected {
	out := map[string]expected{
		"parameters.spindle_speed": {1000 * c.vc / (math.Pi * c.d), "/min"},
		"parameters.feed_rate":     {c.n * c.f, "mm/min"},
	}
	var torque float64
	if c.operation == "thread-turning" {
		area, h := 0.0, 0.0
		for i := 1.0; i <= c.passes; i++ {
			deep := c.deep * math.Sqrt(i/c.passes)
			if pass := c.groove(deep) - c.groove(c.deep*math.Sqrt((i-1)/c.passes)); pass > area {
				area, h = pass, pass/(c.pitch/8+2*deep/math.Cos(math.Pi/6))
			}
		}
		force := c.kc(h) * area
		torque = force * c.d / 2000
		out["loads.cutting_force"] = expected{force, "N"}
		out["loads.removal_rate"] = expected{c.vc * area, "cm3/min"}
	} else {
		friction := 1.65
		if c.operation == "thread-forming" {
			friction *= 2
		} else {
			out["loads.removal_rate"] = expected{math.Pi * (c.d + c.d0) / 2 * c.groove(c.deep) * c.n / 1000, "cm3/min"}
			out["chip.thickness_max"] = expected{c.deep / (c.z * c.lead), "mm"}
		}
		torque = c.kc(c.deep/(c.z*c.lead)) * c.groove(c.deep) * (c.d + c.d0) / 4000 * friction
		out["thread.percent"] = expected{100 * (c.d - c.d0) / (5 * math.Sqrt(3) / 8 * c.pitch), "1"}
		if c.operation == "thread-forming" {
			out["thread.percent"] = expected{(c.d - c.d0) / (0.0068 * c.pitch), "1"}
		}
	}
	out["loads.torque"] = expected{torque, "N.m"}
	out["loads.cutting_power"] = expected{torque * c.n * math.Pi / 30 / 1000, "kW"}
	return out
}
