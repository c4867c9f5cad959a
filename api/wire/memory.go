package wire

import (
	"reflect"
	"unsafe"

	"swarf/domain/unit"
)

// memory is where a value of a known type stands. The encoder reads answers through it,
// field by field at offsets worked out once per type: reflection costs it half its time.
// This file holds every unsafe step; the types are those of the node that goes with it.
type memory struct{ p unsafe.Pointer }

// memoryOf is where a value stands; one that cannot be addressed is copied.
func memoryOf(v reflect.Value) memory {
	if v.CanAddr() {
		return memory{v.Addr().UnsafePointer()}
	}
	copied := reflect.New(v.Type())
	copied.Elem().Set(v)
	return memory{copied.UnsafePointer()}
}

// field is a member of the struct that stands here.
func (a memory) field(m *member) memory { return memory{unsafe.Add(a.p, m.offset)} }

// pointed is what the pointer here points to; its p is nil for nil.
func (a memory) pointed() memory { return memory{*(*unsafe.Pointer)(a.p)} }

func (a memory) isNil() bool { return a.p == nil }

func (a memory) opt() *unit.Opt { return (*unit.Opt)(a.p) }
func (a memory) text() string   { return *(*string)(a.p) }
func (a memory) flag() bool     { return *(*bool)(a.p) }
func (a memory) float() float64 { return *(*float64)(a.p) }
func (a memory) length() int    { return len(*(*[]struct{})(a.p)) }
func (a memory) element(i int, size uintptr) memory {
	first := unsafe.Pointer(unsafe.SliceData(*(*[]struct{})(a.p))) // #nosec G103 -- within the list: the caller counts to length
	return memory{unsafe.Add(first, uintptr(i)*size)}
}

// value is what stands here by reflection, for the kinds that are rare.
func (a memory) value(t reflect.Type) reflect.Value { return reflect.NewAt(t, a.p).Elem() }
