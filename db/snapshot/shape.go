package snapshot

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"reflect"
)

// shape is that of the data of this program.
var shape = shapeOf(reflect.TypeFor[content]())

// shapeOf is a digest of the names and types of all members: data that was written with
// another shape would be read with members missing, which must never pass for absent.
func shapeOf(t reflect.Type) string {
	digest := sha256.New()
	describe(digest, t, map[reflect.Type]bool{})
	return hex.EncodeToString(digest.Sum(nil)[:12])
}

func describe(to io.Writer, t reflect.Type, seen map[reflect.Type]bool) {
	fmt.Fprintf(to, "%s %s;", t, t.Kind())
	if seen[t] {
		return
	}
	seen[t] = true
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Array:
		describe(to, t.Elem(), seen)
	case reflect.Map:
		describe(to, t.Key(), seen)
		describe(to, t.Elem(), seen)
	case reflect.Struct:
		for i := range t.NumField() {
			fmt.Fprintf(to, "%s:", t.Field(i).Name)
			describe(to, t.Field(i).Type, seen)
		}
	}
}
