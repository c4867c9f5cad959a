package api

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"net/url"
	"slices"
	"strconv"

	"swarf/domain"
)

// Sizes of a page.
const (
	defaultLimit = 50
	highestLimit = 500
)

// portion is a stretch of a list.
type portion struct {
	start, limit int
}

// cursor is what an opaque cursor holds: where the next page begins, in which
// revision, and a digest of the filters it belongs to.
type cursor struct {
	Start    int    `json:"s"`
	Revision int64  `json:"r"`
	Filters  string `json:"f"`
}

// filterDigest binds a cursor to the path and the filters of its list. The size
// of a page and the format may change between pages.
func (x *exchange) filterDigest() string {
	names := make([]string, 0, len(x.query))
	for name := range x.query {
		if name != "cursor" && name != "limit" && name != "format" && name != "units" && name != "fields" && !slices.Contains(csvParameters, name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	digest := sha256.New()
	digest.Write([]byte(x.route.path))
	for _, name := range names {
		digest.Write([]byte("\x00" + name + "\x00" + x.query[name]))
	}
	return base64.RawURLEncoding.EncodeToString(digest.Sum(nil)[:9])
}

func (c cursor) String() string {
	text, err := json.Marshal(c)
	if err != nil {
		panic(err) // numbers and text only
	}
	return base64.RawURLEncoding.EncodeToString(text)
}

func invalidCursor(why string) *domain.Error {
	return fault(domain.Unreadable, "cursor-invalid", "cursor", "the cursor "+why, "begin again without a cursor")
}

// readCursor reads the cursor of the request, if there is one.
func (x *exchange) readCursor() (cursor, bool, *domain.Error) {
	text := x.query.text("cursor")
	if text == "" {
		return cursor{}, false, nil
	}
	raw, err := base64.RawURLEncoding.Strict().DecodeString(text)
	var c cursor
	if err != nil || json.Unmarshal(raw, &c) != nil || c.Start < 0 || c.Revision < 1 || c.String() != text {
		return cursor{}, false, invalidCursor("is not one that was given out here")
	}
	if c.Filters != x.filterDigest() {
		return cursor{}, false, invalidCursor("belongs to another list or other filters")
	}
	return c, true, nil
}

// readPage reads limit and cursor and makes the snapshot of the exchange the one
// that the cursor began with, so that a list is read from one revision even while
// others write.
func (x *exchange) readPage() (portion, error) {
	var faults domain.Errors
	limit, bad := x.query.whole("limit", 1, highestLimit, defaultLimit)
	if bad != nil {
		faults = append(faults, bad)
	}
	c, there, bad := x.readCursor()
	if bad != nil {
		faults = append(faults, bad)
	}
	snap, err := x.now()
	if err != nil || len(faults) > 0 {
		return portion{}, combine(faults, err)
	}
	if there && c.Revision != snap.Revision {
		earlier, err := x.s.asOf(x.Request().Context(), strconv.FormatInt(c.Revision, 10), snap)
		if err != nil {
			return portion{}, invalidCursor("belongs to revision " + strconv.FormatInt(c.Revision, 10) + ", which is not at hand any more")
		}
		x.use(earlier)
	}
	return portion{start: c.Start, limit: int(limit)}, nil
}

// slice cuts the page out of a list and says where the next one begins; zero when
// this is the last.
func slice[T any](items []T, p portion) ([]T, int) {
	start := min(p.start, len(items))
	end := min(start+p.limit, len(items))
	if end == len(items) {
		return items[start:end], 0
	}
	return items[start:end], end
}

// next makes the cursor of the next page, nil on the last, and links to the pages around
// this one (RFC 8288).
func (x *exchange) next(p portion, start int) *string {
	if p.start > 0 {
		x.link(x.pageURL("", 0), "first")
		x.link(x.pageURL(x.cursorAt(max(0, p.start-p.limit)), min(p.start, p.limit)), "prev")
	}
	if start == 0 {
		return nil
	}
	text := x.cursorAt(start)
	x.link(x.pageURL(text, 0), "next")
	return &text
}

func (x *exchange) cursorAt(start int) string {
	return cursor{Start: start, Revision: x.snap.Revision, Filters: x.filterDigest()}.String()
}

// pageURL is the URL of the list with another cursor, or none, and another size of the
// page where there is one.
func (x *exchange) pageURL(at string, limit int) string {
	values := make(url.Values, len(x.query)+1)
	for name, value := range x.query {
		values.Set(name, value)
	}
	if values.Del("cursor"); at != "" {
		values.Set("cursor", at)
	}
	if limit > 0 {
		values.Set("limit", strconv.Itoa(limit))
	}
	target := x.Request().URL.EscapedPath()
	if len(values) > 0 {
		target += "?" + values.Encode()
	}
	return target
}
