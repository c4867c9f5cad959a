package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary Keys of callers
// @Description Who may ask for what, without secrets, which are kept nowhere. Needs a key with the scope admin, as do all routes of keys; `swarf key make` makes the first one.
// @Tags keys
// @Produce json
// @Param state query string false "live, expired or revoked" Enums(live, expired, revoked)
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.KeyList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/keys [get]
func docListKeys() {}

// @Summary Make a key
// @Description The token in the answer is shown this once. The name is whose writes they are in the history, and no other key may ever have it. With kind view it is a token for addresses of callers that cannot set headers: it reads and computes, by GET, as view_token=. A request that is repeated with its Idempotency-Key gets the key again without its token.
// @Tags keys
// @Accept json
// @Produce json
// @Param From header string false "the person who asks, beside the key"
// @Param format query string false "json or text" Enums(json, text)
// @Param body body wire.KeyRequest true "the key"
// @Success 201 {object} wire.Key "the key, with its token"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 409 {object} wire.Problem "the name is taken"
// @Failure 413 {object} wire.Problem "the body is too large"
// @Failure 415 {object} wire.Problem "the body is not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/keys [post]
func docPostKey() {}

// @Summary One key and what became of it
// @Tags keys
// @Produce json
// @Param id path string true "id of the key: the part of it after swarf_"
// @Param format query string false "json or text" Enums(json, text)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.Key "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/keys/{id} [get]
func docGetKey() {}

// @Summary Give a key a new secret
// @Description The new token is shown this once; the one before serves on for overlap_seconds, a day when left out, so that callers change over in their time. At most two serve at a time; an overlap of 0 ends all before at once.
// @Tags keys
// @Accept json
// @Produce json
// @Param id path string true "id of the key"
// @Param From header string false "the person who asks, beside the key"
// @Param format query string false "json or text" Enums(json, text)
// @Param body body wire.Rotation true "how long the secret before serves on"
// @Success 200 {object} wire.Key "the key, with its new token"
// @Failure 400 {object} wire.Problem "cannot be read"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 409 {object} wire.Problem "two secrets serve already, or the key does not serve any more"
// @Failure 413 {object} wire.Problem "the body is too large"
// @Failure 415 {object} wire.Problem "the body is not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/keys/{id}/rotation [post]
func docRotateKey() {}

// @Summary End a key
// @Description It ends on every replica within a second, and for good. A key that was revoked before stays as it is.
// @Tags keys
// @Accept json
// @Produce json
// @Param id path string true "id of the key"
// @Param From header string false "the person who asks, beside the key"
// @Param format query string false "json or text" Enums(json, text)
// @Param body body wire.Revocation true "why"
// @Success 200 {object} wire.Key "the key"
// @Failure 400 {object} wire.Problem "cannot be read"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "the body is too large"
// @Failure 415 {object} wire.Problem "the body is not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/keys/{id}/revocation [post]
func docRevokeKey() {}
