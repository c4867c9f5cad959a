package wire

import (
	"reflect"

	"swarf/domain/unit"
)

// enter begins the part of a request for which one statement of units holds. The
// units are looked for first, wherever they stand in the object, so that every
// number is converted once, when it is read.
func (d *decoder) enter(p *plan, top, own bool) {
	outer := d.scope
	d.scope = scope{}
	if p.units >= 0 {
		d.scope.state, d.scope.system = findUnits(d.s, d.at)
	}
	if d.scope.state != unitsAbsent || own {
		return
	}
	if !top {
		d.scope.state, d.scope.system = outer.state, outer.system
		return
	}
	for _, given := range []string{d.opt.Inherit, d.opt.Default} {
		if system, ok := unit.ParseSystem(given); ok {
			d.scope.state, d.scope.system = unitsKnown, system
			return
		}
	}
}

// leave ends it: units that are missing are reported, those taken over are filled
// in, and those that contradict the request around them are refused.
func (d *decoder) leave(p *plan, v reflect.Value, top, own bool, outer scope) {
	inner := d.scope
	const fix = "say metric or inch; nothing is guessed"
	switch {
	case inner.state == unitsAbsent && own:
		d.fault(Unreadable, "units-missing", d.fieldOf("units"), "a machine that is sent inline states its own units", fix)
	case inner.state == unitsAbsent && top && (inner.wanted || d.opt.RequireUnits):
		d.fault(Unreadable, "units-missing", d.fieldOf("units"), "the request does not say in which units its numbers are", fix)
	case inner.state == unitsKnown && p.units >= 0:
		field := p.members[p.units].of(v)
		around, known := unit.ParseSystem(d.opt.Inherit)
		if !top {
			around, known = outer.system, outer.state == unitsKnown && !own
		}
		if field.String() == "" {
			field.SetString(inner.system.String())
		} else if known && around != inner.system {
			d.fault(Invalid, "fields-conflict", d.fieldOf("units"), "units are "+inner.system.String()+" here and "+around.String()+" around it",
				"state them once; the answer has one system")
		}
	}
	if top {
		return
	}
	outer.wanted = outer.wanted || inner.wanted && !own && inner.state == unitsAbsent
	d.scope = outer
}

// findUnits looks in the object that opens at i for its member `units`. It reports
// nothing: what is wrong is found when the object is read.
func findUnits(s string, i int) (unitsState, unit.System) {
	i = blank(s, i+1)
	for i < len(s) && s[i] == '"' {
		inner, _, at, bad := name(s, i)
		if bad != nil {
			return unitsAbsent, unit.Metric
		}
		end, bad := skip(s, at, 1)
		if bad != nil {
			return unitsAbsent, unit.Metric
		}
		if inner == "units" {
			if s[at] == '"' {
				if system, ok := unit.ParseSystem(s[at+1 : end-1]); ok {
					return unitsKnown, system
				}
			}
			return unitsBad, unit.Metric
		}
		var last bool
		if i, last, bad = after(s, end, '}'); bad != nil || last {
			return unitsAbsent, unit.Metric
		}
	}
	return unitsAbsent, unit.Metric
}
