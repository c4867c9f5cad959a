package finding_test

import (
	"testing"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// trigger is a finding, a change that raises it and a near one that does not.
type trigger struct {
	code     string
	severity domain.Severity
	sample   func() *cut.Cut
	raise    func(*cut.Cut)
	spare    func(*cut.Cut)
}

func triggers() []trigger {
	mill := demandNm(millingCut)
	// one gear with S1 and S6, so that torque alone decides
	plain := func(torque float64) *machine.Machine {
		m := spindle(500, torque/0.9, 20000)
		m.Spindle.Gears = m.Spindle.Gears[1:]
		return m
	}
	continuous := func(torque float64) *machine.Machine {
		m := plain(torque)
		m.Spindle.Gears[0].Ratings = m.Spindle.Gears[0].Ratings[:1]
		return m
	}
	short := machine.Duty{Type: "S6", Percent: 40, CycleMinutes: 10}
	as := func(*cut.Cut) {} // the sample as it is
	hardness := func(v float64) func(*cut.Cut) {
		return func(c *cut.Cut) {
			stainless(c)
			c.Material.Hardness = &material.Hardness{Value: v, Scale: material.HBW}
			c.Material.HardnessHBW = v
		}
	}
	through := func(c *cut.Cut) { c.Coolant.Delivery = "through-tool" }
	slope := func(deg float64) func(*cut.Cut) { return func(c *cut.Cut) { c.Engagement.FaceSlopeDeg = n(deg) } }
	return []trigger{
		{"spindle-torque-exceeded", domain.Refusal, millingCut, on(plain(mill / 1.4)), on(plain(mill * 1.4))},
		{"spindle-torque-exceeded", domain.Refusal, millingCut, on(plain(mill * 0.95)), on(plain(mill * 1.01))}, // worn over the short-term rating
		{"spindle-torque-short-term", domain.Hold, millingCut, on(plain(mill * 1.1)), on(plain(mill * 1.31))},
		{"spindle-torque-short-term", domain.Hold, millingCut, on(continuous(mill * 1.1)), both(on(plain(mill*1.1)), func(c *cut.Cut) {
			c.Rating, c.Duty = short, &machine.Use{CuttingMinutes: 3, CycleMinutes: 10}
		})},
		{"spindle-duty-exceeded", domain.Hold, millingCut,
			both(on(plain(mill*1.1)), func(c *cut.Cut) {
				c.Rating, c.Duty = short, &machine.Use{CuttingMinutes: 6, CycleMinutes: 10}
			}),
			both(on(plain(mill*1.1)), func(c *cut.Cut) {
				c.Rating, c.Duty = short, &machine.Use{CuttingMinutes: 4, CycleMinutes: 10}
			})},
		{"spindle-power-exceeded", domain.Refusal, millingCut, on(spindle(0.9, 1000, 20000)), on(spindle(20, 1000, 20000))},
		{"spindle-power-short-term", domain.Hold, drillingCut,
			on(plainPower(estimate.Of(drillingCut()).Sharp.PowerKW * 1.1)), on(plainPower(estimate.Of(drillingCut()).Sharp.PowerKW * 1.31))},
		{"spindle-margin-thin", domain.Warning, millingCut, on(plain(mill * 1.3 / 0.9)), on(plain(mill * 1.3 / 0.84))},
		{"torque-peak-high", domain.Warning, millingCut,
			both(on(plain(mill*1.4)), func(c *cut.Cut) { c.Tool.FluteHelixAngleDeg = n(0) }), on(plain(mill * 30))},
		{"spindle-speed-exceeded", domain.Refusal, millingCut, on(spindle(50, 500, 3000)), on(spindle(50, 500, 3300))},
		{"spindle-speed-not-in-gear", domain.Hold, millingCut,
			on(spindle(50, 500, 20000), func(m *machine.Machine) {
				m.Spindle.Gears[0].MaxSpeedPerMin = 1000
				m.Spindle.Gears[1].MinSpeedPerMin = 5000
			}), on(spindle(50, 500, 20000))},
		{"tool-speed-exceeded", domain.Refusal, millingCut, func(c *cut.Cut) { c.Tool.MaxSpindleSpeedPerMin = n(3000) }, func(c *cut.Cut) { c.Tool.MaxSpindleSpeedPerMin = n(3200) }},
		{"chuck-speed-exceeded", domain.Refusal, turningCut,
			both(on(spindle(50, 500, 20000), lathe), func(c *cut.Cut) { c.WorkHolding = &machine.WorkHolding{MaxSpeedPerMin: unit.Some(590)} }),
			both(on(spindle(50, 500, 20000), lathe), func(c *cut.Cut) { c.WorkHolding = &machine.WorkHolding{MaxSpeedPerMin: unit.Some(600)} })},
		{"feed-rate-exceeded", domain.Refusal, millingCut,
			on(spindle(50, 500, 20000), func(m *machine.Machine) { m.Axes.MaxFeedRateMMPerMin = unit.Some(760) }),
			on(spindle(50, 500, 20000), func(m *machine.Machine) { m.Axes.MaxFeedRateMMPerMin = unit.Some(770) })},
		{"feed-force-exceeded", domain.Refusal, drillingCut,
			on(spindle(50, 500, 20000), func(m *machine.Machine) { m.Axes.MaxFeedForceN = unit.Some(1000) }), on(spindle(50, 500, 20000))},
		{"coolant-not-on-machine", domain.Hold, drillingCut,
			both(on(spindle(50, 500, 20000), func(m *machine.Machine) { m.Coolant.Deliveries = []string{"external"} }), through),
			both(on(spindle(50, 500, 20000), func(m *machine.Machine) { m.Coolant.Deliveries = []string{"external", "through-tool"} }), through)},
		{"process-not-on-machine", domain.Refusal, turningCut, on(spindle(50, 500, 20000)), on(spindle(50, 500, 20000), lathe)},
		{"depth-beyond-usable-length", domain.Refusal, drillingCut, func(c *cut.Cut) { c.Engagement.HoleDepthMM = n(60.1) }, func(c *cut.Cut) { c.Engagement.HoleDepthMM = n(60) }},
		{"depth-of-cut-beyond-edge", domain.Refusal, millingCut, func(c *cut.Cut) { c.Tool.MaxDepthOfCutMM = n(9.9) }, func(c *cut.Cut) { c.Tool.MaxDepthOfCutMM = n(10) }},
		{"ramp-angle-exceeded", domain.Refusal, millingCut,
			func(c *cut.Cut) { c.Engagement.RampAngleDeg, c.Tool.MaxRampAngleDeg = n(5), n(4) }, func(c *cut.Cut) { c.Engagement.RampAngleDeg, c.Tool.MaxRampAngleDeg = n(4), n(4) }},
		{"tool-material-unfit", domain.Refusal, millingCut, func(c *cut.Cut) { c.Tool.Material = "DP" }, both(magnesium, func(c *cut.Cut) { c.Tool.Material = "DP" })},
		{"tool-material-unfit", domain.Refusal, drillingCut,
			func(c *cut.Cut) { c.Tool.Material, c.Material.HardnessHBW = "HSS", 450 }, func(c *cut.Cut) { c.Tool.Material, c.Material.HardnessHBW = "HSS", 400 }},
		{"tool-material-unfit", domain.Refusal, millingCut,
			func(c *cut.Cut) {
				c.Tool.Material, c.Material.Group, c.Material.Subgroup = "CA", material.S, material.Titanium
			},
			func(c *cut.Cut) {
				c.Tool.Material, c.Material.Group, c.Material.Subgroup = "CA", material.S, material.Nickel
			}},
		{"overhang-beyond-practice", domain.Hold, millingCut, func(c *cut.Cut) { c.Tool.ProtrudingLengthMM = n(72.1) }, func(c *cut.Cut) { c.Tool.ProtrudingLengthMM = n(72) }},
		{"overhang-beyond-practice", domain.Hold, drillingCut, both(boring(11.6), bar("steel", 40.1)), both(boring(11.6), bar("steel", 40))},
		{"overhang-beyond-practice", domain.Hold, drillingCut, both(boring(11.6), bar("carbide", 60.1)), both(boring(11.6), bar("carbide", 60))},
		{"overhang-beyond-practice", domain.Hold, turningCut, both(boredInside, bar("damped", 100.1)), both(boredInside, bar("damped", 100))},
		{"overhang-beyond-practice", domain.Hold, millingCut, both(ball(20), func(c *cut.Cut) { c.Tool.ProtrudingLengthMM = n(60.1) }), both(ball(20), func(c *cut.Cut) { c.Tool.ProtrudingLengthMM = n(60) })},
		{"drill-may-buckle", domain.Hold, drillingCut, gunDrill(461), gunDrill(460)},
		{"tool-pull-out-risk", domain.Warning, millingCut, func(c *cut.Cut) { c.Engagement.AxialDepthMM = n(18.1) }, func(c *cut.Cut) {
			locked := true
			c.Engagement.AxialDepthMM, c.Tool.SecureHolder = n(18.1), &locked
		}},
		{"runout-high", domain.Warning, millingCut, func(c *cut.Cut) { c.Tool.RunoutMM = n(0.019) }, func(c *cut.Cut) { c.Tool.RunoutMM = n(0.018) }},
		{"chip-too-thin", domain.Warning, millingCut, func(c *cut.Cut) { c.Parameters.FeedPerToothMM = n(0.02) }, as},
		{"chip-too-thin", domain.Hold, millingCut, both(stainless, func(c *cut.Cut) { c.Parameters.FeedPerToothMM = n(0.02) }), stainless},
		{"chip-thickness-outside-record", domain.Warning, turningCut, func(c *cut.Cut) { c.Parameters.FeedPerRevolutionMM = n(3) }, as},
		{"chip-break-window-missed", domain.Warning, turningCut, func(c *cut.Cut) { c.Engagement.DepthOfCutMM = n(0.5) }, as},
		{"chip-break-window-missed", domain.Warning, turningCut, func(c *cut.Cut) { c.Parameters.FeedPerRevolutionMM = n(0.15) }, as},
		{"cut-inside-hardened-layer", domain.Hold, turningCut, both(stainless, func(c *cut.Cut) { c.Engagement.DepthOfCutMM = n(0.09) }), func(c *cut.Cut) { c.Engagement.DepthOfCutMM = n(0.09) }},
		{"cut-inside-hardened-layer", domain.Warning, turningCut, both(stainless, func(c *cut.Cut) { c.Engagement.DepthOfCutMM = n(0.12) }), both(stainless, func(c *cut.Cut) { c.Engagement.DepthOfCutMM = n(0.15) })},
		{"dwell-hardens", domain.Warning, turningCut, both(stainless, func(c *cut.Cut) { c.Engagement.DwellTurns = n(1) }), func(c *cut.Cut) { c.Engagement.DwellTurns = n(1) }},
		{"full-slot-deep", domain.Warning, millingCut, func(c *cut.Cut) { c.Engagement.RadialWidthMM, c.Engagement.AxialDepthMM = n(12), n(12.1) }, func(c *cut.Cut) { c.Engagement.RadialWidthMM, c.Engagement.AxialDepthMM = n(12), n(12) }},
		{"intermittent-cut", domain.Warning, millingCut, func(c *cut.Cut) { c.Tool.EffectiveEdgesCount = n(3) }, func(c *cut.Cut) { c.Engagement.RadialWidthMM = n(6) }},
		{"coolant-below-practice", domain.Hold, drillingCut, func(c *cut.Cut) { c.Coolant.Delivery, c.Engagement.HoleDepthMM = "external", n(60.1) }, func(c *cut.Cut) { c.Coolant.Delivery, c.Engagement.HoleDepthMM = "external", n(60) }},
		{"pecks-planned", domain.Note, drillingCut, func(c *cut.Cut) { c.Coolant.Delivery, c.Engagement.HoleDepthMM = "external", n(40) }, func(c *cut.Cut) { c.Coolant.Delivery, c.Engagement.HoleDepthMM = "external", n(36) }},
		{"pecks-harm-edge", domain.Warning, drillingCut, both(stainless, func(c *cut.Cut) { c.Engagement.Retract = "chip-break" }), func(c *cut.Cut) { c.Engagement.Retract = "chip-break" }},
		{"entry-slope-beyond-practice", domain.Hold, drillingCut, slope(8.1), slope(8)},
		{"entry-slope-beyond-practice", domain.Hold, drillingCut, both(indexable, slope(3.1)), both(indexable, slope(3))},
		{"entry-slope-too-steep", domain.Refusal, drillingCut, slope(45.1), slope(45)},
		{"spot-harms-drill", domain.Hold, drillingCut, func(c *cut.Cut) { c.Engagement.SpotAngleDeg = n(90) }, func(c *cut.Cut) { c.Engagement.SpotAngleDeg = n(140) }},
		{"exit-slug", domain.Warning, drillingCut, indexable, as},
		{"reaming-stock-thin", domain.Warning, drillingCut, reaming(11.91), reaming(11.9)},
		{"cut-inside-hardened-layer", domain.Hold, drillingCut, both(stainless, boring(11.81)), both(stainless, boring(11.6))},
		{"depth-beyond-usable-length", domain.Refusal, turningCut, grooving("grooving", 10.1), grooving("grooving", 10)},
		{"groove-diameter-out-of-range", domain.Refusal, turningCut, faceGroove(79), faceGroove(80)},
		{"part-uncaught", domain.Warning, turningCut, grooving("parting", 40), both(grooving("parting", 40), func(c *cut.Cut) {
			yes := true
			c.WorkHolding = &machine.WorkHolding{Catcher: &yes}
		})},
		{"speed-limit-bites", domain.Note, turningCut, both(facing, on(spindle(50, 500, 3000), lathe)), on(spindle(50, 500, 3000), lathe)},
		{"thread-mill-too-large", domain.Hold, millingCut, threadMill(17.1), threadMill(17.2)},
		{"ramp-angle-exceeded", domain.Refusal, millingCut, bore(5, 1.9), bore(5, 2.1)}, // arctan(5/(π·45)) is 2.03°
		{"not-centre-cutting", domain.Refusal, millingCut, plunge(6.1), plunge(6)},
		{"tip-in-cut", domain.Warning, millingCut, ball(16.2), ball(16.3)}, // arccos(0.96) is 16.26°
		{"tip-in-cut", domain.Warning, millingCut, chamfer(5.9), chamfer(5.7)},
		{"corner-engagement-high", domain.Warning, millingCut, corner(8), corner(30)},
		{"arc-feed-may-double", domain.Note, millingCut, corner(30), both(corner(30), func(c *cut.Cut) { no := false; c.Control.CorrectsArcs = &no })},
		{"feed-rate-exceeded", domain.Refusal, millingCut, rotary(760), rotary(770)},
		{"thread-percent-base", domain.Note, tapped, as, func(c *cut.Cut) { *c = *millingCut() }},
		{"thread-minor-outside-limits", domain.Warning, tapped, hole(8.37), hole(8.38)}, // 6H: 8.376 to 8.676
		{"thread-minor-outside-limits", domain.Warning, tapped, hole(8.68), hole(8.67)},
		{"tap-bottoms", domain.Refusal, tapped, func(c *cut.Cut) { c.Engagement.ThreadDepthMM = n(21.3) }, func(c *cut.Cut) { c.Engagement.ThreadDepthMM = n(21.25) }},
		{"pitch-mismatch", domain.Refusal, tapped, func(c *cut.Cut) { c.Parameters.FeedPerRevolutionMM = n(1.25) }, func(c *cut.Cut) { c.Parameters.FeedPerRevolutionMM = n(1.5) }},
		{"pitch-mismatch", domain.Refusal, turnedThread, func(c *cut.Cut) { c.Parameters.FeedPerRevolutionMM = n(1.5) }, as},
		{"thread-hand-mismatch", domain.Refusal, tapped, func(c *cut.Cut) { c.Engagement.Hand, c.Tool.Hand = "left", "right" }, func(c *cut.Cut) { c.Engagement.Hand, c.Tool.Hand = "left", "left" }},
		{"tapping-not-synchronised", domain.Refusal, tapped, on(spindle(20, 100, 6000), inStep(false)), on(spindle(20, 100, 6000))},
		{"tapping-not-synchronised", domain.Hold, tapped, on(spindle(20, 100, 6000)), on(spindle(20, 100, 6000), inStep(true))},
		{"tap-torque-high", domain.Hold, tapped, func(c *cut.Cut) { c.Tool.MaxTorqueNm = n(demandNm(tapped) * 1.3 / 0.81) }, func(c *cut.Cut) { c.Tool.MaxTorqueNm = n(demandNm(tapped) * 1.3 / 0.79) }},
		{"form-tap-unfit", domain.Hold, formed, func(c *cut.Cut) { c.Material.Group = material.K }, as},
		{"form-tap-unfit", domain.Hold, formed, func(c *cut.Cut) { c.Material.HardnessHBW = 356 }, func(c *cut.Cut) { c.Material.HardnessHBW = 355 }},
		{"chip-too-thin", domain.Hold, turnedThread, both(stainless, passes(19)), both(stainless, passes(18))}, // 1.84·(1 − √(18/19)) is 0.049
		{"tool-deflection-high", domain.Hold, millingCut, stuckOut(35), stuckOut(30)},
		{"tool-deflection-high", domain.Warning, millingCut, stuckOut(30), stuckOut(25)},
		{"wall-deflection-high", domain.Hold, millingCut, wall(12), wall(6)},
		{"wall-deflection-high", domain.Hold, millingCut, func(c *cut.Cut) { c.Wall = &cut.Wall{HeightMM: n(31), ThicknessMM: n(1)} }, func(c *cut.Cut) { c.Wall = &cut.Wall{HeightMM: n(30), ThicknessMM: n(1)} }},
		{"thin-wall", domain.Note, millingCut, func(c *cut.Cut) { c.Wall = &cut.Wall{HeightMM: n(16), ThicknessMM: n(1)} }, func(c *cut.Cut) { c.Wall = &cut.Wall{HeightMM: n(15), ThicknessMM: n(1)} }},
		{"grip-insufficient", domain.Refusal, turningCut, gripped(20000), gripped(22000)},
		{"grip-insufficient", domain.Refusal, turningCut, both(gripped(22000), facing, chuck(3000)), both(gripped(22000), facing, chuck(1000))},
		{"grip-insufficient", domain.Refusal, turningCut, both(gripped(22000), func(c *cut.Cut) { c.WorkHolding.JawMassKg = unit.Some(20) }), gripped(22000)},
		{"holes-overlap", domain.Hold, drillingCut, chain(12), chain(12.1)},
		{"web-thin", domain.Warning, drillingCut, chain(12.4), chain(12.5)},
		{"stacked-work", domain.Refusal, drillingCut, both(indexable, func(c *cut.Cut) { yes := true; c.Engagement.Stacked = &yes }), func(c *cut.Cut) { yes := true; c.Engagement.Stacked = &yes }},
		{"combustible-metal-coolant", domain.Refusal, turningCut, magnesium, both(magnesium, func(c *cut.Cut) { c.Coolant.SiteProcedure = "WI-12" })},
		{"combustible-metal-coolant", domain.Refusal, turningCut, both(magnesium, func(c *cut.Cut) { c.Coolant = cut.Coolant{Delivery: "minimum-quantity", Fluid: "water-miscible"} }), both(magnesium, func(c *cut.Cut) { c.Coolant = cut.Coolant{Delivery: "external", Fluid: "neat-oil"} })},
		{"combustible-fines", domain.Warning, turningCut, magnesium, stainless},
		{"heat-in-plastic", domain.Warning, turningCut, func(c *cut.Cut) { c.Material.Group = material.O }, as},
		{"hazardous-dust", domain.Warning, turningCut, func(c *cut.Cut) { c.Material.Grade = &material.Material{Cautions: []string{"hazardous-dust"}} }, stainless},
		{"dry-drilling-heat-resistant", domain.Hold, drillingCut, func(c *cut.Cut) { c.Material.Group, c.Coolant.Delivery = material.S, "none" }, func(c *cut.Cut) { c.Material.Group = material.S }},
		{"unattended-not-advised", domain.Warning, turningCut, both(stainless, func(c *cut.Cut) { c.Unattended = true }), func(c *cut.Cut) { c.Unattended = true }},
		{"unattended-not-advised", domain.Warning, turningCut, both(nickel, func(c *cut.Cut) { c.Unattended = true }), nickel},
		{"drill-grabs", domain.Warning, drillingCut, brassDrill(1), brassDrill(0)},
		{"group-record-used", domain.Hold, turningCut, func(c *cut.Cut) { c.Material.Grade = nil }, as},
		{"condition-assumed", domain.Warning, turningCut, both(stainless, func(c *cut.Cut) { c.Material.ConditionGiven = false }), stainless},
		{"hardness-outside-condition", domain.Hold, turningCut, hardness(216), hardness(215)},
		{"hardness-converted", domain.Note, turningCut, both(hardness(200), func(c *cut.Cut) { c.Material.Converted = true }), hardness(200)},
		{"hardness-converted", domain.Warning, turningCut, both(hardness(200), func(c *cut.Cut) { c.Material.Converted, c.Material.Approximate = true, true }),
			both(hardness(200), func(c *cut.Cut) { c.Material.Converted = true })},
		{"certificate-used", domain.Note, turningCut, certified(cut.FromCertificate, "3.1"), certified(cut.FromRequest, "3.1")},
		{"certificate-used", domain.Note, formed, certified(cut.FromTensile, "3.1"), inCertificate(600, 20)},
		{"certificate-not-of-the-lot", domain.Warning, turningCut, certified(cut.FromCertificate, "2.2"), certified(cut.FromCertificate, "3.2")},
		{"certificate-differs", domain.Warning, turningCut, both(hardness(200), func(c *cut.Cut) { c.Material.CertifiedHBW = 181 }),
			both(hardness(200), func(c *cut.Cut) { c.Material.CertifiedHBW = 182 })},
		{"form-tap-unfit", domain.Hold, formed, inCertificate(1201, 20), inCertificate(1199, 20)},
		{"form-tap-unfit", domain.Hold, formed, inCertificate(600, 9.9), inCertificate(600, 10)},
		{"outside-record-range", domain.Hold, turningCut,
			both(hardness(300), func(c *cut.Cut) {
				c.Material.Force.Served.Hardness = domain.Range{Low: unit.Some(150), High: unit.Some(200)}
			}),
			both(hardness(200), func(c *cut.Cut) {
				c.Material.Force.Served.Hardness = domain.Range{Low: unit.Some(150), High: unit.Some(200)}
			})},
		{"far-outside-record-range", domain.Refusal, turningCut, both(hardness(500), func(c *cut.Cut) {
			far := *c.Material.Force.Served
			far.Hardness = domain.Range{Low: unit.Some(150), High: unit.Some(200)}
			c.Material.Force = cut.ForceChoice{Far: &far}
		}), func(c *cut.Cut) { c.Material.Force = cut.ForceChoice{} }},
		{"sensitive-default", domain.Warning, drillingCut, both(indexable, assumed("tool.effective_edges")), indexable},
		{"sensitive-default", domain.Warning, millingCut, both(on(spindle(20, 100, 6000)), assumed("tool.flute_helix_angle")), assumed("tool.flute_helix_angle")},
		{"sources-disagree", domain.Warning, turningCut, func(c *cut.Cut) { c.Material.Force.Competing = append(c.Material.Force.Competing, rival(1.3)) }, func(c *cut.Cut) { c.Material.Force.Competing = append(c.Material.Force.Competing, rival(1.2)) }},
		{"record-withdrawn", domain.Refusal, turningCut, unsafeForce(true), unsafeForce(false)},
		{"record-withdrawn", domain.Refusal, turningCut, unsafeStart(true), unsafeStart(false)},
		{"record-past-review", domain.Warning, turningCut, curated(material.Curation{PastReview: true, ReviewBy: "2025-01-31"}), curated(material.Curation{ReviewBy: "2035-01-31"})},
		{"record-drifts", domain.Warning, turningCut, curated(material.Curation{DriftRatio: 1.2}), curated(material.Curation{})},
		{"single-lot-evidence", domain.Warning, turningCut, curated(material.Curation{Lots: 1}), curated(material.Curation{Lots: 2})},
		{"no-approved-record", domain.Note, turningCut, as, func(c *cut.Cut) { c.Material.Force.Served.Basis = domain.Shop }},
		{"no-data", domain.Hold, turningCut, func(c *cut.Cut) { c.Material.Force = cut.ForceChoice{} }, as},
		{"force-data-from-request", domain.Note, turningCut, func(c *cut.Cut) { c.Force = &cut.ForceData{SpecificEnergyJPerMM3: n(2)} }, as},
		{"speed-outside-practice", domain.Warning, turningCut, starting(160, 200), starting(140, 200)},
		{"unit-slip-suspected", domain.Warning, turningCut, starting(10, 49), starting(10, 51)},
		{"clamping-unknown", domain.Hold, millingCut, func(c *cut.Cut) { c.Engagement.AxialDepthMM = n(60) }, both(func(c *cut.Cut) { c.Engagement.AxialDepthMM = n(60) }, func(c *cut.Cut) { c.WorkHolding = &machine.WorkHolding{Kind: "vice"} })},
		{"clamping-unknown", domain.Hold, turningCut, on(spindle(50, 500, 1100), lathe), on(spindle(50, 500, 1300), lathe)},
	}
}

// Each finding is raised by its cause, and silent just short of it.
func TestFindings(t *testing.T) {
	for _, x := range triggers() {
		has := func(change func(*cut.Cut)) bool {
			c := x.sample()
			change(c)
			for _, f := range finding.Judge(estimate.Of(c)) {
				if f.Code == x.code && f.Severity == x.severity {
					if f.Message == "" {
						t.Errorf("%s says nothing", x.code)
					}
					return true
				}
			}
			return false
		}
		if !has(x.raise) {
			t.Errorf("%s (%s) is not raised", x.code, x.severity)
		}
		if has(x.spare) {
			t.Errorf("%s (%s) is raised where nothing is wrong", x.code, x.severity)
		}
	}
}

// A release fails closed: what was not checked is held.
func TestReleaseFailsClosed(t *testing.T) {
	e := estimate.Of(turningCut())
	findings := finding.Judge(e)
	if got := domain.VerdictOf(findings); got != domain.Yes {
		t.Fatalf("what-if says %s", got)
	}
	closed := finding.Closed(findings, e)
	if got := domain.VerdictOf(closed); got != domain.Conditional {
		t.Errorf("release says %s with %d things unchecked", got, len(e.Unchecked))
	}
	for _, f := range closed[len(findings):] {
		if f.Code != "not-checked" || f.Severity != domain.Hold {
			t.Errorf("%s is a %s", f.Field, f.Severity)
		}
	}
	if len(closed) != len(findings)+len(e.Unchecked) {
		t.Errorf("%d findings of %d and %d unchecked", len(closed), len(findings), len(e.Unchecked))
	}
}
