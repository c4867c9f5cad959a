package main

// computation are faults in numbers.
var computation = []mutant{
	{"swap the sign of the chip's exponent", "domain/force/law.go", "math.Pow(thickness, -l.ThicknessExp)", "math.Pow(thickness, l.ThicknessExp)", "domain/force", "TestReference", nil},
	{"take a steeper rake for more force", "domain/force/factor.go", "return 1 - 0.015*min", "return 1 + 0.015*min", "domain/force", "TestFactorsPointTheRightWay", nil},
	{"count the drilled hole as if solid", "domain/force/drilling.go", "(d.DiameterMM*d.DiameterMM - d.StartDiameterMM*d.StartDiameterMM) / 8000", "(d.DiameterMM * d.DiameterMM) / 8000", "domain/force", "TestDrilledRingsAddUp", nil},
	{"halve the drilling torque", "domain/force/drilling.go", "/ 8000", "/ 16000", "domain/force", "TestReference", nil},
	{"forget the helix in the peak", "domain/force/milling.go", "if lag < 1e-6 {", "if lag < 1e6 {", "domain/force", "TestMillingPeakAgreesWithDenseIntegration", nil},
	{"forget idle power at the motor", "domain/force/power.go", "return cutting/d.EfficiencyRatio + d.IdlePowerKW", "return cutting / d.EfficiencyRatio", "domain/force", "TestMotorGivesMoreThanTheCutTakes", nil},
	{"multiply by the efficiency at the motor", "domain/force/power.go", "return cutting/d.EfficiencyRatio + d.IdlePowerKW", "return cutting*d.EfficiencyRatio + d.IdlePowerKW", "domain/force", "TestReference", nil},
	{"take the thread's minor diameter from the screw's root", "domain/thread/profile.go", "internalRatio = 1.0825317547305484", "internalRatio = 1.2268693222946215", "domain/thread", "TestReference", nil},
	{"read horsepower as metric", "domain/unit/quantity.go", "wPerHP     = 550 * 0.3048 * nPerLbf", "wPerHP     = 735.49875", "domain/unit", "TestFactorsAsPublished", nil},
	{"drop the worn edge from loads", "domain/estimate/estimate.go", "return e.Sharp.scaled(e.WearRatio)", "return e.Sharp.scaled(1)", "api", "TestGoldenAnswers", nil},
	{"interpolate power through zero", "domain/machine/curve.go", "return a.PowerKW + (b.PowerKW-a.PowerKW)*(speed-a.SpeedPerMin)/(b.SpeedPerMin-a.SpeedPerMin)", "return a.PowerKW + (b.PowerKW-a.PowerKW)*speed/b.SpeedPerMin", "domain/machine", "TestPowerAlongACurve", nil},
	{"hold full power below the knee", "domain/machine/curve.go", "return min(r.PowerKW, r.TorqueNm*speed/nmPerKWPerMin)", "return r.PowerKW", "domain/machine", "TestPowerAlongACurve", nil},
	{"write five digits of six", "api/wire/number.go", "if digits == 1000000 {", "if digits%10 != 0 {", "api/wire", "TestComputedNumbersRoundExactly", nil},
}
