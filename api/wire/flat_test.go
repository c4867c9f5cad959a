package wire

import (
	"reflect"
	"testing"

	"swarf/domain/unit"
)

func TestFlatMembers(t *testing.T) {
	list := FlatMembers(reflect.TypeFor[Cut]())
	if len(list) != len(FlatNames(reflect.TypeFor[Cut]())) {
		t.Errorf("%d members, %d names", len(list), len(FlatNames(reflect.TypeFor[Cut]())))
	}
	by := map[string]FlatMember{}
	for _, f := range list {
		by[f.Name] = f
	}
	if f := by["cutting_diameter"]; f.Path != "tool.cutting_diameter" || f.Parent() != "tool" || !f.Number || f.Quantity != unit.Length {
		t.Errorf("%+v", f)
	}
	if f := by["hardness.scale"]; f.Path != "material.hardness.scale" || f.Parent() != "material.hardness" || f.Words == nil || f.Number {
		t.Errorf("%+v", f)
	}
	if f := by["through"]; !f.Truth {
		t.Errorf("%+v", f)
	}
	if f := by["units"]; f.Parent() != "" || len(f.Words) != 2 {
		t.Errorf("%+v", f)
	}
	if list[0].Name != "units" {
		t.Errorf("the order is not that of the request: %s first", list[0].Name)
	}
	by = map[string]FlatMember{}
	for _, f := range FlatMembers(reflect.TypeFor[SpindleCheck]()) {
		by[f.Name] = f
	}
	if f := by["machines"]; !f.List {
		t.Errorf("%+v", f)
	}
}
