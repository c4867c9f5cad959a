package main

// judgement are faults in what is held against what.
var judgement = []mutant{
	{"drop the wear check of the spindle", "domain/finding/spindle.go", "worn := s.demand * j.e.WearRatio", "worn := s.demand", "domain/finding", "TestFindings", nil},
	{"drop the worn edge from limits", "domain/estimate/limits.go", "Worn: demand * e.WearRatio, Allowed: allowed", "Worn: demand, Allowed: allowed", "domain/estimate", "TestEfficiencyAndIdlePowerCount", nil},
	{"ignore what the drive loses", "domain/estimate/limits.go", "rating.MaxTorqueNm()*eta)", "rating.MaxTorqueNm())", "domain/estimate", "TestEfficiencyAndIdlePowerCount", nil},
	{"ignore how long a short-term rating may run", "domain/finding/spindle.go", "d == nil || !load.Rating.ShortTerm() || load.Rating.Allows(*d)", "d == nil || !load.Rating.ShortTerm() || d != nil", "domain/finding", "TestFindings", nil},
	{"take a hold for a yes", "domain/finding.go", "return Conditional\n", "return Yes\n", "domain/finding", "TestReleaseFailsClosed", nil},
	{"release what was not checked", "domain/finding/release.go", "Severity: domain.Hold, Field: u.Check", "Severity: domain.Note, Field: u.Check", "domain/finding", "TestReleaseFailsClosed", nil},
	{"open the window by the sharp edge", "domain/override/search.go", "l.Worn > l.Allowed*(1+1e-9)", "l.Demand > l.Allowed*(1+1e-9)", "domain/override", "TestNothingIsPassedInside", nil},
	{"serve the next best to a record withdrawn for safety", "domain/material/curation.go", "return c != nil && c.State == Withdrawn && c.Safety && c.SupersededBy == \"\"", "return c != nil && c.Safety && false", "domain/catalog", "TestOnlyApprovedRecordsServe", nil},
	{"let the author approve", "domain/material/curation.go", "if strings.EqualFold(strings.TrimSpace(s.Who), strings.TrimSpace(c.Author)) {", "if strings.TrimSpace(s.Who) == \"\" {", "domain/material", "TestAnotherPersonApproves", nil},
	{"put a draft in force before its date", "domain/material/curation.go", "c.InForce = from <= s.At", "c.InForce = true", "domain/material", "TestApprovedFromADate", nil},
	{"let confidence mean nothing", "domain/estimate/limits.go", "distuv.UnitNormal.Quantile(probability) * e.SpreadRatio", "distuv.UnitNormal.Quantile(0.5) * e.SpreadRatio", "api", "TestGoldenAnswers", nil},
}
