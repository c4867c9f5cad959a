package catalog

// keys finds the sorted keys of a catalogue by what they say: a table of places, a
// quarter more than there are keys or above, probed one after another. It is a
// quarter of the size of a map and as quick.
type keys struct {
	sorted []named
	slots  []int32 // where a key's run begins in sorted, plus one; 0 is empty
	single []int32 // each grade by itself
}

func keysOf(sorted []named, grades int) keys {
	size := 16
	for size < len(sorted)*5/4 {
		size *= 2
	}
	k := keys{sorted, make([]int32, size), make([]int32, grades)}
	for i := range k.single {
		k.single[i] = int32(i)
	}
	for i := range sorted {
		if i > 0 && sorted[i].key == sorted[i-1].key {
			continue
		}
		at := hash(sorted[i].key) & (size - 1)
		for k.slots[at] != 0 {
			at = (at + 1) & (size - 1)
		}
		k.slots[at] = int32(i) + 1
	}
	return k
}

// hash is FNV-1a with its high bits folded in.
func hash[T string | []byte](key T) int {
	h := uint64(14695981039346656037)
	for i := range len(key) {
		h = (h ^ uint64(key[i])) * 1099511628211
	}
	return int((h ^ h>>32) & (1<<62 - 1))
}

// run is the place of the first of the sorted keys that say this, -1 without one.
func (k *keys) run(key []byte) int {
	mask := len(k.slots) - 1
	for at := hash(key) & mask; k.slots[at] != 0; at = (at + 1) & mask {
		if i := int(k.slots[at]) - 1; k.sorted[i].key == string(key) {
			return i
		}
	}
	return -1
}

// of returns the grades that bear a key in a spelling, in the order of ids.
func (k *keys) of(key []byte, as spelling) []int32 {
	var found []int32
	for i := k.run(key); i >= 0 && i < len(k.sorted) && k.sorted[i].key == string(key); i++ {
		switch grade := k.sorted[i].grade; {
		case k.sorted[i].as != as:
		case found == nil:
			found = k.single[grade : grade+1 : grade+1]
		case found[len(found)-1] != grade:
			found = append(found, grade)
		}
	}
	return found
}
