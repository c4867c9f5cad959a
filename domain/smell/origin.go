package smell

import (
	"slices"
	"strconv"
	"strings"

	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
)

// references holds the data against itself as a snapshot does.
func references(b *book) {
	b.now.Rows = len(b.Sources) + len(b.Materials) + len(b.Force) + len(b.Starting) + len(b.Life) + len(b.Classes) + len(b.Machines)
	_, err := catalog.New(*b.Data)
	if err == nil {
		return
	}
	faults := []error{err}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		faults = many.Unwrap()
	}
	for _, fault := range faults {
		if text := fault.Error(); !strings.Contains(text, "stands in its standard for") { // designations tells this
			b.found(Error, "", "", "%s", text)
		}
	}
}

// known are the bases that a number may have.
var known = []domain.Basis{domain.Published, domain.Recalled, domain.CommonPractice, domain.Shop, domain.Derived, domain.Demo}

// sources checks what stands behind each number.
func sources(b *book) {
	access := map[string]string{}
	for i := range b.Sources {
		access[b.Sources[i].ID] = b.Sources[i].Access
	}
	b.provenances(func(kind string, p *material.Provenance) {
		b.row()
		how, there := access[p.Source]
		b.failIf(p.ID == "", kind, p.ID, "no id")
		b.failIf(!there, kind, p.ID, "no source %q", p.Source)
		b.failIf(!slices.Contains(known, p.Basis), kind, p.ID, "basis %q says nothing", p.Basis)
		if p.Basis == domain.Published {
			b.failIf(strings.TrimSpace(p.Place) == "", kind, p.ID, "published without a page, table or equation of %s", p.Source)
			b.failIf(there && !strings.Contains(how, "seen"), kind, p.ID, "published, but %s was not seen: %s", p.Source, how)
		}
		habit := p.Source == "common-practice"
		b.failIf(habit != (p.Basis == domain.CommonPractice) && p.Basis != domain.Shop, kind, p.ID, "basis %s does not go with source %s", p.Basis, p.Source)
	})
	for i := range b.Hardness {
		b.row()
		_, there := access[b.Hardness[i].Source]
		b.failIf(!there, "hardness", rowID(i), "no source %q", b.Hardness[i].Source)
	}
}

// reviews checks the lives of records that people wrote: who approved them, from when to
// when they hold, and whether somebody has looked at them since.
func reviews(b *book) {
	b.provenances(func(kind string, p *material.Provenance) {
		b.row()
		c := p.Curation
		if c == nil {
			return
		}
		fail := func(bad bool, format string, args ...any) { b.failIf(bad, kind, p.ID, format, args...) }
		if c.InForce && c.PastReview {
			b.found(Warning, kind, p.ID, "was to be reviewed by %s", c.ReviewBy)
		}
		fail(c.State == material.Approved && strings.EqualFold(strings.TrimSpace(c.Approver), strings.TrimSpace(c.Author)), "approved by %q, who wrote it", c.Approver)
		fail(c.State == material.Draft && c.InForce, "a draft is in force")
		fail(c.InForce && c.ValidFrom == "", "in force without a date")
		fail(c.ValidTo != "" && c.ValidTo < c.ValidFrom, "ends on %s before it begins on %s", c.ValidTo, c.ValidFrom)
	})
}

// invented finds demo rows among reference data, and machines of the demonstration
// that do not say so.
func invented(b *book) {
	b.provenances(func(kind string, p *material.Provenance) {
		b.row()
		b.failIf(p.Basis == domain.Demo || p.Basis == domain.Request, kind, p.ID, "%s stands outside the demonstration", p.Basis)
	})
	for i := range b.Machines {
		m := &b.Machines[i]
		b.row()
		b.failIf(m.Basis == domain.Demo && !strings.Contains(m.Note, "invented"), "machine", m.ID, "a machine of the demonstration says that it is invented")
	}
}

// rowID is the id of a row that has a position alone.
func rowID(i int) string { return "row " + strconv.Itoa(i+1) }
