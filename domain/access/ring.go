package access

// Ring is all keys at one time, in the order of their ids. It never changes, so that it can
// be asked without the database.
type Ring struct {
	keys []Key
	byID map[string]*Key
}

// NewRing makes a ring of keys in the order of their ids.
func NewRing(keys []Key) *Ring {
	r := &Ring{keys: keys, byID: make(map[string]*Key, len(keys))}
	for i := range keys {
		r.byID[keys[i].ID] = &keys[i]
	}
	return r
}

// Empty reports that no key was ever made.
func (r *Ring) Empty() bool { return len(r.keys) == 0 }

// Keys lists the keys. Nobody may change them.
func (r *Ring) Keys() []Key { return r.keys }

// Key finds a key by its id.
func (r *Ring) Key(id string) (*Key, bool) {
	k, ok := r.byID[id]
	return k, ok
}

// nobody is compared with where no key has the id, so that both take as long.
var nobody = Key{Secrets: []Secret{{}}, RevokedUnix: 1}

// Find is the key that a token is of, when it serves at a time.
func (r *Ring) Find(t Token, atUnix int64) (*Key, bool) {
	k, known := r.byID[t.ID]
	if !known {
		k = &nobody
	}
	return k, k.Fits(t, atUnix)
}
