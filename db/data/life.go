package data

import (
	"io/fs"

	"swarf/domain"
	"swarf/domain/material"
	"swarf/domain/tool"
)

// loadLife reads the tool-life records, one file per source (life/<source>.csv).
func loadLife() ([]material.Life, error) {
	names, err := fs.Glob(files, "life/*.csv")
	if err != nil {
		return nil, err
	}
	var records []material.Life
	for _, name := range names {
		found, err := readLife(name)
		if err != nil {
			return nil, err
		}
		records = append(records, found...)
	}
	return records, nil
}

// readLife reads one file. n is a pure number between 0 and 1, C the cutting speed
// of one minute of life, at the reference feed and depth where the law has exponents for
// them; a source that gives n alone leaves C empty.
func readLife(name string) ([]material.Life, error) {
	t, err := ReadTable(files, name, "id", "level", "key", "process", "tool_material", "taylor_exp", "taylor_speed_m_per_min",
		"feed_exp", "depth_exp", "reference_feed_mm", "reference_depth_mm", "criterion", "basis", "source", "place", "note")
	if err != nil {
		return nil, err
	}
	records := make([]material.Life, 0, len(t.Rows))
	for _, r := range t.Rows {
		record := material.Life{
			Provenance:         provenance(r),
			Scope:              material.Scope{Level: r.OneOf("level", scopeLevels...), Key: r.Need("key")},
			ToolMaterial:       r.OneOf("tool_material", tool.Materials...),
			TaylorExp:          r.Opt("taylor_exp"),
			TaylorSpeedMPerMin: r.Opt("taylor_speed_m_per_min"),
			Process:            r.OneOf("process", "turning", "milling", "drilling", "general"),
			FeedExp:            r.Opt("feed_exp"),
			DepthExp:           r.Opt("depth_exp"),
			ReferenceFeedMM:    r.Opt("reference_feed_mm"),
			ReferenceDepthMM:   r.Opt("reference_depth_mm"),
			Criterion:          r.Text("criterion"),
		}
		ownSource(r, name)
		if record.Basis == domain.CommonPractice {
			r.Fail("basis", "tool life is measured, not a habit")
		}
		if n := record.TaylorExp; !n.OK || n.V <= 0 || n.V >= 1 {
			r.Fail("taylor_exp", "must lie between 0 and 1")
		}
		if record.FeedExp.OK && !record.ReferenceFeedMM.OK || record.DepthExp.OK && !record.ReferenceDepthMM.OK {
			r.Fail("reference_feed_mm", "an exponent needs the feed or depth at which C holds")
		}
		if c := record.TaylorSpeedMPerMin; c.OK && c.V <= 0 {
			r.Fail("taylor_speed_m_per_min", "must be above 0")
		}
		records = append(records, record)
	}
	return records, t.Err()
}
