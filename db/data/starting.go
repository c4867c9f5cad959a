package data

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// scopeLevels are the levels a record may be about.
var scopeLevels = []string{"material", "subgroup", "group"}

// feedKinds are what a starting feed may count.
var feedKinds = []string{
	string(material.PerRevolution), string(material.PerTooth),
	string(material.DiameterPerTurn), string(material.DiameterPerTooth), "",
}

// startingColumns are the columns of every file of starting values.
var startingColumns = []string{
	"id", "level", "keys", "condition", "operations", "classes", "tool_material", "kind",
	"speed_low_m_per_min", "speed_high_m_per_min", "feed_kind", "feed_low_mm", "feed_high_mm",
	"feed_low_ratio", "feed_high_ratio", "hardness_low_hbw", "hardness_high_hbw", "depth_mm", "rank",
	"basis", "source", "place", "note",
}

// loadStarting reads the starting-value records, one file per source
// (starting/<source>.csv).
//
// What the records mean: speed and feed are the ranges in which a cut is begun. A
// source that gives a speed and no feed (or the other way round) leaves the rest
// absent; such records have rank 50 and more, so that complete ones come first.
// Where a handbook gives one speed and feed per depth of cut, low and high are equal
// and DepthMM says the depth; the record of the middle depth has the lowest rank.
// Speeds of drills other than high-speed steel are for coolant through the tool, of
// mills for half immersion: adjustments for coolant, width and full slots come on top.
func loadStarting() ([]material.Starting, error) {
	names, err := fs.Glob(files, "starting/*.csv")
	if err != nil {
		return nil, err
	}
	var records []material.Starting
	for _, name := range names {
		found, err := readStarting(name)
		if err != nil {
			return nil, err
		}
		records = append(records, found...)
	}
	return records, nil
}

// readStarting reads one file. A row whose keys cell lists several grades, subgroups
// or groups becomes a record for each, with the key added to its id.
func readStarting(name string) ([]material.Starting, error) {
	t, err := ReadTable(files, name, startingColumns...)
	if err != nil {
		return nil, err
	}
	var records []material.Starting
	for _, r := range t.Rows {
		record := material.Starting{
			Provenance:   provenance(r),
			Condition:    r.Text("condition"),
			Operations:   r.List("operations"),
			Classes:      r.List("classes"),
			ToolMaterial: r.OneOf("tool_material", append([]string{""}, tool.Materials...)...),
			Kind:         r.OneOf("kind", "rough", "finish", "general"),
			Speed:        r.Interval(unit.Speed, "speed_low_m_per_min", "speed_high_m_per_min"),
			FeedKind:     material.FeedKind(r.OneOf("feed_kind", feedKinds...)),
			Hardness:     r.Interval(unit.None, "hardness_low_hbw", "hardness_high_hbw"),
			DepthMM:      r.Opt("depth_mm"),
			Rank:         r.Count("rank"),
		}
		record.Feed = feedOf(r, record.FeedKind)
		checkStarting(r, &record)
		ownSource(r, name)
		level, keys := r.OneOf("level", scopeLevels...), r.List("keys")
		if len(keys) == 0 {
			r.Fail("keys", "a record is about something")
		}
		for _, key := range keys {
			scoped := record
			scoped.Scope = material.Scope{Level: level, Key: key}
			if len(keys) > 1 {
				scoped.ID = keyedID(scoped.ID, key)
			}
			records = append(records, scoped)
		}
	}
	return records, t.Err()
}

// feedOf reads the feed from the pair of columns that its kind belongs to; the other
// pair must be empty.
func feedOf(r *Row, kind material.FeedKind) domain.Range {
	length := r.Interval(unit.Length, "feed_low_mm", "feed_high_mm")
	ratio := r.Interval(unit.None, "feed_low_ratio", "feed_high_ratio")
	feed, other := length, ratio
	if kind == material.DiameterPerTurn || kind == material.DiameterPerTooth {
		feed, other = ratio, length
	}
	if other.Known() || feed.Known() != (kind != "") {
		r.Fail("feed_kind", "%q does not go with the feed columns that are filled", kind)
	}
	return feed
}

// checkStarting refuses what no source can mean.
func checkStarting(r *Row, record *material.Starting) {
	if len(record.Operations) == 0 {
		r.Fail("operations", "a record serves at least one operation")
	}
	for _, operation := range record.Operations {
		if !cut.Known(operation) {
			r.Fail("operations", "%q is no operation", operation)
		}
	}
	if !record.Speed.Known() && !record.Feed.Known() {
		r.Fail("speed_low_m_per_min", "neither speed nor feed")
	}
	if record.Rank < 50 && (!closed(record.Speed) || (!closed(record.Feed) && !threads(record.Operations))) {
		r.Fail("rank", "a record without both ends of speed and feed has rank 50 or more")
	}
	for _, span := range []domain.Range{record.Speed, record.Feed, record.Hardness} {
		if span.Known() && (!span.Low.OK || span.Low.V <= 0) && (!span.High.OK || span.High.V <= 0) {
			r.Fail("id", "a range must be above zero")
		}
	}
}

// closed reports a range with both its ends.
func closed(span domain.Range) bool { return span.Low.OK && span.High.OK }

// threads reports operations whose feed is the pitch.
func threads(operations []string) bool {
	return slices.Contains(operations, "tapping") || slices.Contains(operations, "thread-forming")
}

// ownSource checks that a row stands in the file of its source.
func ownSource(r *Row, name string) {
	if own := strings.TrimSuffix(path.Base(name), ".csv"); r.Text("source") != own {
		r.Fail("source", "%q stands in the file of %s", r.Text("source"), own)
	}
}
