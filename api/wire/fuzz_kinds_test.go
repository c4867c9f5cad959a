package wire

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"swarf/domain/unit"
)

// bodies are the requests other than cuts, rows those of tables that are imported.
var (
	bodies = []reflect.Type{
		reflect.TypeFor[Machine](), reflect.TypeFor[ForceRecord](), reflect.TypeFor[StartingRecord](), reflect.TypeFor[LifeRecord](), reflect.TypeFor[Observation](), reflect.TypeFor[PlanRequest](),
		reflect.TypeFor[SpindleCheck](), reflect.TypeFor[CorrectionRequest](), reflect.TypeFor[DiagnosisRequest](), reflect.TypeFor[CalibrationRequest](), reflect.TypeFor[Approval](), reflect.TypeFor[Withdrawal](),
	}
	rowTypes = []reflect.Type{
		reflect.TypeFor[SourceRow](), reflect.TypeFor[MaterialRow](), reflect.TypeFor[DesignationRow](), reflect.TypeFor[ConditionRow](), reflect.TypeFor[PropertyRow](), reflect.TypeFor[ForceRow](),
		reflect.TypeFor[StartingRow](), reflect.TypeFor[LifeRow](), reflect.TypeFor[ToolRow](), reflect.TypeFor[ToolPropertyRow](), reflect.TypeFor[RatingRow](), reflect.TypeFor[HardnessTableRow](), reflect.TypeFor[Machine](),
	}
)

// placed fails where a fault does not say what is wrong, or where it cannot name a field.
func placed(t *testing.T, in Input, what string) {
	t.Helper()
	for _, fault := range in.Faults {
		nameless := fault.Code == "json-invalid" || fault.Code == "unknown-parameter" || fault.Code == "unknown-field" && strings.Contains(fault.Message, `member ""`)
		if fault.Message == "" || fault.Code == "" || in.Readable && fault.Field == "" && !nameless {
			t.Fatalf("%s: a fault without words or place: %+v", what, fault)
		}
	}
}

// writable writes what was read; it fails where a number in it is none.
func writable(t *testing.T, value any, what string) []byte {
	t.Helper()
	text, err := AppendJSON(nil, value, unit.Metric)
	if err != nil || !json.Valid(text) {
		t.Fatalf("%s passed and cannot be written: %v %s", what, err, text)
	}
	return text
}

// FuzzDecodeBodies: each kind of body is read or refused with a place, what passes can be
// written, and written again after it was read it is the same.
func FuzzDecodeBodies(f *testing.F) {
	for i, seed := range []string{
		`{"id":"m","name":"M","units":"inch","process":"milling","spindle":{"max_speed":8000,"efficiency":0.9,"gears":[{"gear":"a","max_speed":8000,"ratings":[{"rating":"S1","power":10,"torque":50}]}]}}`,
		`{"id":"r","scope":{"level":"material","key":"x"},"specific_cutting_force_1_1":2000,"chip_thickness_exponent":0.25,"valid":{"chip_thickness":{"low":0.05,"high":1}}}`,
		`{"id":"r","operations":["turning"],"cutting_speed":{"low":100,"high":200},"units":"metric"}`,
		`{"id":"r","taylor":[1,2]}`,
		`{"units":"metric","cut":{"units":"metric"},"load":{"quantity":"torque","value":5e-324}}`,
		`{"units":"metric","cuts":[{"ref":"a","count":2,"machine":"m"},{}],"machines":["a",{"units":"metric"}],"allowances":{"approach":4}}`,
		`{"units":"metric","cuts":[{},[]],"machine":7,"overrides":[{"code":"x","until":"2026-03-03"}]}`,
		`{"units":"inch","feature":"external","sides_cut":2,"measured":1.0005,"programmed":1,"register":"radius","temperature":68}`,
		`{"units":"metric","reading":{"value":-0}}`, `{"observations":[1,2,3]}`, `{"from":"2026-03-03T12:00:00Z","reason":"why"}`, `{"reason":"\u0000","safety":true}`,
	} {
		f.Add(i, []byte(seed))
	}
	f.Fuzz(func(t *testing.T, kind int, body []byte) {
		of := bodies[uint(kind)%uint(len(bodies))]
		got := reflect.New(of)
		in := Decode(body, got.Interface(), DecodeOptions{Default: "metric"})
		placed(t, in, string(body))
		if len(in.Faults) > 0 {
			return
		}
		if !json.Valid(trimMark(body)) {
			t.Fatalf("%q is no JSON and passes as %s", body, of)
		}
		text := writable(t, metricOf(got), string(body))
		back := reflect.New(of)
		unsaid := func(fault InputFault) bool { return strings.Contains(fault.Message, ` is "", `) } // a word that the type always writes
		if in := Decode(text, back.Interface(), DecodeOptions{Default: "metric"}); !in.Readable || len(slices.DeleteFunc(in.Faults, unsaid)) > 0 {
			t.Fatalf("%q became %s: %+v", body, text, in.Faults)
		}
		if again := writable(t, metricOf(back), string(text)); !bytes.Equal(again, text) {
			t.Fatalf("%s became %s", text, again)
		}
	})
}

// metricOf states metric units wherever units are stated, as they are after reading.
func metricOf(v reflect.Value) any {
	var walk func(reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				if field := v.Type().Field(i); !field.IsExported() {
					continue
				} else if field.Name == "Units" && v.Field(i).Kind() == reflect.String && v.Field(i).Len() > 0 {
					v.Field(i).SetString("metric")
				} else {
					walk(v.Field(i))
				}
			}
		}
	}
	walk(v)
	return v.Interface()
}

// FuzzDecodeRow: a row of any table is read, or has faults that name a column; a number in
// inches is one in metric, or none in either.
func FuzzDecodeRow(f *testing.F) {
	for kind := range rowTypes {
		f.Add(kind, "id", "kc-1", "name", "X")
	}
	f.Add(5, "scope.level", "material", "process", "turning")
	f.Add(5, "specific_cutting_force_1_1", "NaN", "valid.chip_thickness.low", "0,05")
	f.Add(6, "cutting_speed.low", "0x1p4", "operations", "turning;facing")
	f.Add(0, "", "", "nonsense", "=1+1")
	f.Fuzz(func(t *testing.T, kind int, a, x, b, y string) {
		of := rowTypes[uint(kind)%uint(len(rowTypes))]
		columns := ColumnsOf(of)
		read := func(first, second string) Input {
			row := reflect.New(of)
			in := DecodeRow(map[string]string{a: first, b: second}, row.Interface())
			placed(t, in, a+"="+first)
			if len(in.Faults) == 0 {
				writable(t, row.Interface(), a+"="+first+", "+b+"="+second)
			}
			return in
		}
		metric := read(x, y)
		at := slices.IndexFunc(columns, func(c Column) bool { return c.Path == a && a != b && c.Number && c.Quantity != unit.None })
		if at < 0 {
			return
		}
		inch := read(columns[at].Metric(x, unit.Inch), y)
		if v, ok := ReadNumber(x); ok && v != 0 && (v < 1e-9 && v > -1e-9 || v > 1e30 || v < -1e30) {
			return // a number that the other system may not hold
		}
		if (len(metric.Faults) == 0) != (len(inch.Faults) == 0) {
			t.Fatalf("%s=%q: metric %+v, inch %+v", a, x, metric.Faults, inch.Faults)
		}
	})
}

// FuzzCodes: a member by its symbol of ISO 13399 is the member by its name.
func FuzzCodes(f *testing.F) {
	f.Add("DC", "12.5")
	f.Add("ZEFP", "4")
	f.Add("KAPR", "-1")
	f.Add("dc", "NaN")
	f.Fuzz(func(t *testing.T, symbol, number string) {
		if strconv.Quote(symbol) != `"`+symbol+`"` || strings.Trim(number, "0123456789.-eE") != "" {
			return
		}
		var byCode, byName Cut
		coded := Decode([]byte(`{"units":"metric","tool":{"`+symbol+`":`+number+`}}`), &byCode, DecodeOptions{})
		placed(t, coded, symbol)
		if len(coded.Faults) > 0 {
			return
		}
		text := writable(t, &byCode, symbol)
		if named := Decode(text, &byName, DecodeOptions{}); len(named.Faults) > 0 || !bytes.Equal(writable(t, &byName, symbol), text) {
			t.Fatalf("%s=%s is %s, and that %+v", symbol, number, text, named.Faults)
		}
	})
}
