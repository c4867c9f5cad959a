package api

import (
	"context"
	"crypto/rand"
	"math"
	"net/http"
	"strconv"
	"time"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/access"
	"swarf/domain/cut"
)

// Keys keeps who may ask. Errors are domain Errors, as those of Store.
type Keys interface {
	// Ring is all keys as they were last read, nil before they ever were. It must not
	// block.
	Ring() *access.Ring
	// Used notes that a key was used at a time (Unix). It must not block.
	Used(id string, at int64)
	// Refresh reads the keys again.
	Refresh(ctx context.Context) error
	// AddKey keeps a new key.
	AddKey(ctx context.Context, k access.Key, by Author) error
	// ChangeKey lets a function change the secrets of a key or revoke it, and returns it
	// as it is then.
	ChangeKey(ctx context.Context, id string, by Author, change func(*access.Key) error) (access.Key, error)
	// KeyChanges reads what became of a key, oldest first.
	KeyChanges(ctx context.Context, id string) ([]KeyChange, error)
}

// KeyChange is what became of a key: made, rotated or revoked.
type KeyChange struct {
	Action string
	Who    string
	Person string
	At     time.Time
	Reason string
}

// Bounds of a rotation.
const (
	usualOverlap   = 24 * time.Hour
	longestOverlap = 90 * 24 * time.Hour
)

// keyRoutes are the rows of keys.
func keyRoutes() []route {
	return []route{
		{http.MethodGet, "/v1/keys", listKeys, administering, []string{"state", "limit", "cursor"}, tableFormats},
		{http.MethodPost, "/v1/keys", postKey, administering, nil, recordFormats},
		{http.MethodGet, "/v1/keys/{id}", getKey, administering, nil, recordFormats},
		{http.MethodPost, "/v1/keys/{id}/rotation", rotateKey, administering, nil, recordFormats},
		{http.MethodPost, "/v1/keys/{id}/revocation", revokeKey, administering, nil, recordFormats},
	}
}

// listKeys answers GET /v1/keys.
func listKeys(x *exchange) error {
	p, err := x.readPage()
	if err != nil {
		return err
	}
	state := x.query.text("state")
	var faults cut.Faults
	checker{faults: &faults}.word("state", state, "live", "expired", "revoked")
	if err := faults.List.OrNil(); err != nil {
		return err
	}
	var fits []*access.Key
	ring := x.s.Keys.Ring()
	for i := range ring.Keys() {
		if k := &ring.Keys()[i]; state == "" || k.State(x.started.Unix()) == state {
			fits = append(fits, k)
		}
	}
	items, next := slice(fits, p)
	out := wire.KeyList{Items: make([]wire.Key, len(items)), NextCursor: x.next(p, next), DataRevision: x.snap.Revision, ModelVersion: x.s.ModelVersion}
	for i, k := range items {
		out.Items[i] = *x.keyToWire(k)
		out.Items[i].DataRevision, out.Items[i].ModelVersion = 0, ""
	}
	return x.conditional(&out)
}

// keyToWire is a key without its secrets.
func (x *exchange) keyToWire(k *access.Key) *wire.Key {
	at := func(unix int64) string {
		if unix == 0 {
			return ""
		}
		return stampOf(time.Unix(unix, 0))
	}
	out := &wire.Key{ID: k.ID, Name: k.Name, Kind: "key", Scopes: k.Scopes.Names(), State: k.State(x.started.Unix()), Made: at(k.MadeUnix), MadeBy: k.MadeBy,
		Expires: at(k.ExpiresUnix), LastUsed: at(k.UsedUnix), Revoked: at(k.RevokedUnix), RevokedBy: k.RevokedBy, ModelVersion: x.s.ModelVersion}
	if k.View {
		out.Kind = "view"
	}
	for _, s := range k.Secrets {
		out.Secrets = append(out.Secrets, wire.KeySecret{Made: at(s.MadeUnix), Until: at(s.UntilUnix)})
	}
	if x.snap != nil {
		out.DataRevision = x.snap.Revision
	}
	return out
}

// getKey answers GET /v1/keys/{id}: a key and what became of it.
func getKey(x *exchange) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	if _, err := x.now(); err != nil {
		return err
	}
	k, ok := x.s.Keys.Ring().Key(id)
	if !ok {
		return notFound("key", id, "/v1/keys")
	}
	ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
	defer cancel()
	history, err := x.s.Keys.KeyChanges(ctx, id)
	if err != nil {
		return err
	}
	out := x.keyToWire(k)
	for _, h := range history {
		out.History = append(out.History, wire.KeyChange{Action: h.Action, Who: h.Who, Person: h.Person, At: stampOf(h.At), Reason: h.Reason})
	}
	return x.conditional(out)
}

// secret draws a new token for a key. Its text is shown once and kept nowhere.
func secret(k *access.Key) (token string, digest access.Digest) {
	var random [access.SecretBytes]byte
	rand.Read(random[:]) // never fails: it ends the process instead
	return access.NewToken(k.ID, k.View, random)
}

// NewKey gives a key its id and its first secret, and returns the token.
func NewKey(k *access.Key, at time.Time) (token string) {
	var random [access.IDBytes]byte
	rand.Read(random[:])
	k.ID, k.MadeUnix = access.NewID(random), at.Unix()
	token, digest := secret(k)
	k.Secrets = []access.Secret{{Digest: digest, MadeUnix: k.MadeUnix}}
	return token
}

// RotateKey gives a key a new secret beside its present one, and returns the token.
func RotateKey(k *access.Key, at time.Time, overlap time.Duration) (token string, err error) {
	token, digest := secret(k)
	k.Secrets, err = k.Rotate(digest, at.Unix(), int64(overlap.Seconds()))
	return token, err
}

// keyStep makes or changes a key, and returns it as it is then with its new token, if any.
type keyStep func(context.Context, Author) (k *access.Key, token string, err error)

// postKey answers POST /v1/keys: 201 with the key and, this once, its token.
func postKey(x *exchange) error {
	return keyBody(x, func(body *wire.KeyRequest, text checker) keyStep {
		k := &access.Key{Name: body.Name, View: body.Kind == "view"}
		text.word("kind", body.Kind, "key", "view")
		scopes, err := access.ParseScopes(body.Scopes)
		if k.Scopes = scopes; err != nil {
			for _, e := range domain.Faults(err) {
				text.faults.Any(e)
			}
			k.Scopes = access.Viewing // told already
		} else if k.View && len(body.Scopes) == 0 {
			k.Scopes = access.Viewing
		}
		if body.Expires != "" {
			at, err := time.Parse(time.RFC3339, body.Expires)
			if err != nil {
				text.faults.Any(fault(domain.Unreadable, "wrong-type", "expires", quoteClipped(body.Expires)+" is no RFC 3339 time", "send a time such as 2027-03-03T06:00:00Z"))
			} else {
				k.ExpiresUnix = at.Unix()
			}
		}
		for _, e := range domain.Faults(k.Check(x.started.Unix())) {
			text.faults.Any(e)
		}
		return func(ctx context.Context, by Author) (*access.Key, string, error) {
			token := NewKey(k, x.started)
			k.MadeBy = by.Who
			return k, token, x.s.Keys.AddKey(ctx, *k, by)
		}
	}, func(body *wire.KeyRequest) string { return body.Reason }, http.StatusCreated)
}

// rotateKey answers POST /v1/keys/{id}/rotation: the key has a new secret, and the one before
// serves on for the overlap.
func rotateKey(x *exchange) error {
	return keyBody(x, func(body *wire.Rotation, text checker) keyStep {
		overlap := usualOverlap
		if s := body.OverlapSeconds; s != nil {
			if most := longestOverlap.Seconds(); !(*s >= 0 && *s <= most) || *s != math.Trunc(*s) {
				text.faults.Any(fault(domain.Invalid, "value-out-of-range", "overlap_seconds", "overlap_seconds is "+strconv.FormatFloat(*s, 'g', 6, 64)+"; allowed are whole numbers from 0 to "+strconv.FormatFloat(most, 'f', 0, 64), "stay within them"))
			}
			overlap = time.Duration(*s) * time.Second
		}
		return func(ctx context.Context, by Author) (*access.Key, string, error) {
			var token string
			k, err := x.s.Keys.ChangeKey(ctx, x.Param("id"), by, func(k *access.Key) (err error) {
				token, err = RotateKey(k, x.started, overlap)
				return err
			})
			return &k, token, err
		}
	}, func(body *wire.Rotation) string { return body.Reason }, http.StatusOK)
}

// revokeKey answers POST /v1/keys/{id}/revocation. A key that was revoked before stays as it
// is.
func revokeKey(x *exchange) error {
	return keyBody(x, func(_ *wire.Revocation, _ checker) keyStep {
		return func(ctx context.Context, by Author) (*access.Key, string, error) {
			k, err := x.s.Keys.ChangeKey(ctx, x.Param("id"), by, func(k *access.Key) error {
				if k.RevokedUnix == 0 {
					k.RevokedUnix, k.RevokedBy = x.started.Unix(), by.Who
				}
				return nil
			})
			return &k, "", err
		}
	}, func(body *wire.Revocation) string { return body.Reason }, http.StatusOK)
}

// keyBody reads the body of a change of keys, makes it, and answers with the key and with
// its token where there is a new one.
func keyBody[Body any](x *exchange, read func(*Body, checker) keyStep, reason func(*Body) string, status int) error {
	return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
		var body Body
		d := decodeBody(data, &body, wire.DecodeOptions{})
		if !d.readable {
			return d.faults
		}
		text := checker{faults: &cut.Faults{List: d.faults}}
		by := x.signature(text)
		by.Reason = text.text("reason", reason(&body), longestReason)
		do := read(&body, text)
		if err := text.faults.List.OrNil(); err != nil {
			return err
		}
		if _, err := x.now(); err != nil {
			return err
		}
		ctx, cancel := context.WithTimeout(x.Request().Context(), x.s.Limits.StoreTimeout)
		defer cancel()
		k, token, err := do(ctx, by)
		if err != nil {
			return err
		}
		if x.recording == nil && !x.only {
			x.refreshKeys(ctx)
		}
		bare := x.keyToWire(k)
		shown := *bare
		shown.Token = token
		h := x.Response().Header()
		h.Set("Cache-Control", "no-store")
		if status == http.StatusCreated {
			h.Set("Location", "/v1/keys/"+k.ID)
		}
		return x.renderSecret(status, &shown, bare)
	})
}

// refreshKeys lets this replica know of a change of keys at once; the others hear of it.
func (x *exchange) refreshKeys(ctx context.Context) {
	if err := x.s.Keys.Refresh(ctx); err != nil {
		x.cause = err
	}
}
