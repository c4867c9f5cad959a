package api

import (
	"crypto/sha256"
	"encoding/base64"
	"net/http"
	"strings"

	"swarf/domain"
)

// etag is the strong tag of a representation (RFC 9110, 8.8.3): a digest of its
// media type and its bytes, so that JSON and CSV of one record differ.
func etag(contentType string, body []byte) string {
	digest := sha256.New()
	digest.Write([]byte(contentType))
	digest.Write([]byte{0})
	digest.Write(body)
	return `"` + base64.RawURLEncoding.EncodeToString(digest.Sum(nil)[:15]) + `"`
}

// tagListed reports whether a list of entity tags, as If-Match and If-None-Match
// carry it, holds a tag. Weak comparison looks past W/; strong never matches a
// weak tag.
func tagListed(header, tag string, weak bool) bool {
	for entry := range strings.SplitSeq(header, ",") {
		entry = strings.TrimSpace(entry)
		if weak {
			entry = strings.TrimPrefix(entry, "W/")
		}
		if entry == tag {
			return true
		}
	}
	return false
}

// notModified reports whether a read may be answered with 304.
func notModified(r *http.Request, tag string) bool {
	header := r.Header.Get("If-None-Match")
	return header != "" && (strings.TrimSpace(header) == "*" || tagListed(header, tag, true))
}

// precondition is what a write says about the state it changes.
type precondition struct {
	match  string // If-Match, empty when absent
	create bool   // If-None-Match: *
}

// readPrecondition reads the condition of a write. One without any is refused,
// since it could undo somebody else's change unseen.
func readPrecondition(r *http.Request, mayCreate bool) (precondition, error) {
	p := precondition{match: strings.Join(r.Header.Values("If-Match"), ",")}
	if none := strings.TrimSpace(r.Header.Get("If-None-Match")); none != "" && mayCreate {
		if none != "*" {
			return p, fault(domain.Invalid, "precondition-required", "If-None-Match",
				"a write takes If-None-Match only as *, to create", "send If-None-Match: * to create, If-Match with the tag of the last JSON answer to replace")
		}
		p.create = true
	}
	if p.match == "" && !p.create {
		fix := "send If-Match with the ETag of the last JSON answer"
		if mayCreate {
			fix += " to replace, or If-None-Match: * to create"
		}
		return p, fault(domain.Invalid, "precondition-required", "If-Match", "a write must say which state it changes", fix)
	}
	return p, nil
}

// holds checks the condition against the present record: whether it exists and
// the tags of its JSON representations.
func (p precondition) holds(exists bool, tags []string) error {
	if p.create && exists {
		return fault(domain.Conflict, "precondition-failed", "If-None-Match", "the record exists already",
			"read it and send its tag in If-Match to replace it")
	}
	if p.match == "" {
		return nil
	}
	if !exists {
		return fault(domain.Conflict, "precondition-failed", "If-Match", "there is no such record to change",
			"send If-None-Match: * to create it")
	}
	if strings.TrimSpace(p.match) == "*" {
		return nil
	}
	for _, tag := range tags {
		if tagListed(p.match, tag, false) {
			return nil
		}
	}
	return fault(domain.Conflict, "precondition-failed", "If-Match", "the record has changed since the tag was given",
		"read it again and send the new tag")
}
