package db

import (
	"slices"
	"testing"
)

// The newest receipts are kept, in their order, and those that were looked for are not
// looked for again.
func TestReceipts(t *testing.T) {
	var r receipts
	for n := range int64(mostReceipts + 7) {
		r.add([]receipt{{kind: "job", number: n}})
	}
	list := r.present()
	if len(list) != mostReceipts || list[0].number != 7 || list[len(list)-1].number != mostReceipts+6 {
		t.Fatalf("%d from %v to %v", len(list), list[0], list[len(list)-1])
	}
	r.add([]receipt{{kind: "observation", number: 3, more: 4}, {kind: "machine", id: "vmc-40", number: 9}})
	r.reckoned(list, 1)
	var names []string
	for _, one := range r.present() {
		names = append(names, one.String())
	}
	if want := []string{"observation/3-7", "machine/vmc-40"}; !slices.Equal(names, want) || r.heldAgainst() != 1 {
		t.Errorf("%v, want %v", names, want)
	}
	r.add([]receipt{{kind: "job", number: 1}})
	if got := r.present(); len(got) != 3 || got[2].String() != "job/1" {
		t.Errorf("%v", got)
	}
}
