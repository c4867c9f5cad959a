package wire

// KeyRequest is the body that makes a key.
type KeyRequest struct {
	Name    string   `json:"name,omitempty"`
	Kind    string   `json:"kind,omitempty" enum:"key,view"` // key when left out; view is a token that may stand in an address
	Scopes  []string `json:"scopes,omitempty"`               // read, compute, write, approve, admin; a view token has read and compute when left out
	Expires string   `json:"expires,omitempty"`              // RFC 3339; never when left out
	Reason  string   `json:"reason,omitempty"`
}

// Rotation is the body that gives a key a new secret.
type Rotation struct {
	OverlapSeconds *float64 `json:"overlap_seconds,omitempty"` // how long the secret before still serves; a day when left out, 0 ends it at once
	Reason         string   `json:"reason,omitempty"`
}

// Revocation is the body that ends a key.
type Revocation struct {
	Reason string `json:"reason,omitempty"`
}

// Key is a key, without its secrets but once: when one was just made.
type Key struct {
	ID           string      `json:"id"`
	Name         string      `json:"name"`
	Kind         string      `json:"kind" enum:"key,view"`
	Scopes       []string    `json:"scopes"`
	State        string      `json:"state" enum:"live,expired,revoked"`
	Made         string      `json:"made"`
	MadeBy       string      `json:"made_by"`
	Expires      string      `json:"expires,omitempty"`
	LastUsed     string      `json:"last_used,omitempty"` // to the minute or so
	Revoked      string      `json:"revoked,omitempty"`
	RevokedBy    string      `json:"revoked_by,omitempty"`
	Secrets      []KeySecret `json:"secrets"`
	Token        string      `json:"token,omitempty"` // shown this once, and kept nowhere
	History      []KeyChange `json:"history,omitempty"`
	DataRevision int64       `json:"data_revision,omitempty"`
	ModelVersion string      `json:"model_version,omitempty"`
}

// KeySecret is one secret of a key: when it was made, and when it ends where another took its
// place.
type KeySecret struct {
	Made  string `json:"made"`
	Until string `json:"until,omitempty"`
}

// KeyChange is what became of a key.
type KeyChange struct {
	Action string `json:"action" enum:"made,rotated,revoked"`
	Who    string `json:"who"`
	Person string `json:"person,omitempty"`
	At     string `json:"at"`
	Reason string `json:"reason,omitempty"`
}

// KeyList is a page of keys.
type KeyList struct {
	Items        []Key   `json:"items"`
	NextCursor   *string `json:"next_cursor"`
	DataRevision int64   `json:"data_revision"`
	ModelVersion string  `json:"model_version"`
}
