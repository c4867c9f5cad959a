package wire

import (
	"bytes"
	"encoding/json"
	"math"
	"net/url"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"swarf/domain/unit"
)

// FuzzDecode holds the decoder against encoding/json: what that cannot read is not
// readable here either, and what passes without a fault can be written and read
// again to the same cut.
func FuzzDecode(f *testing.F) {
	for _, seed := range []string{
		drillBody, `{}`, `{"units":"inch"}`, `[]`, `{"a":`, `{"units":"metric","machine":{"units":"inch","spindle":{"gears":[{"ratings":[{"points":[]}]}]}}}`,
		`{"tool":{"cutting_diameter":-1.5e-3},"units":"inch"}`, `{"ref":"\u0041\ud83d\ude00\"\\"}`, "{\"ref\":\"\xff\"}", `{"x":[[[[{}]]]]}`, `{"confidence":1e400}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		var got Cut
		in := Decode(body, &got, DecodeOptions{})
		valid := json.Valid(trimMark(body)) && utf8.Valid(body)
		if in.Readable && !valid {
			t.Fatalf("read what is not JSON: %q", body)
		}
		if object := bytes.TrimLeft(trimMark(body), " \t\r\n"); valid && !in.Readable && object[0] == '{' {
			if says := in.Faults[0].Message; !strings.Contains(says, tooDeep) && !strings.Contains(says, "surrogate") {
				t.Fatalf("refused good JSON: %q: %s", body, says)
			}
		}
		if len(in.Faults) > 0 {
			return
		}
		if !in.Readable {
			t.Fatalf("not readable, and no fault: %q", body)
		}
		var plain map[string]any
		if err := json.Unmarshal(trimMark(body), &plain); err != nil {
			t.Fatalf("encoding/json: %v for %q", err, body)
		}
		got.Units = in.System.String()
		again, err := AppendJSON(nil, &got, unit.Metric)
		if err != nil {
			t.Fatal(err)
		}
		got.Units = "metric"
		if got.Machine != nil && got.Machine.Inline != nil {
			got.Machine.Inline.Units = "metric"
		}
		var back Cut
		if in := Decode(again, &back, DecodeOptions{}); len(in.Faults) > 0 {
			t.Fatalf("%q became %s: %+v", body, again, in.Faults)
		}
		third, err := AppendJSON(nil, &back, unit.Metric)
		if err != nil || string(third) != string(again) {
			t.Fatalf("%s became %s (%v)", again, third, err)
		}
		if reflect.DeepEqual(got, Cut{}) != reflect.DeepEqual(back, Cut{}) {
			t.Fatalf("%s lost its members", again)
		}
	})
}

// trimMark takes off a byte order mark, which the decoder allows.
func trimMark(body []byte) []byte {
	if len(body) >= 3 && string(body[:3]) == "\ufeff" {
		return body[3:]
	}
	return body
}

// FuzzDecodeQuery: whatever parameters come, what passes without a fault is finite, and is
// the same when it is written as a body and read again.
func FuzzDecodeQuery(f *testing.F) {
	for _, seed := range []string{
		"units=metric&grade=1.4301&cutting_diameter=30", "units=inch&cutting_diameter=.5&corner_radius=0012.", "spindle_speed=NaN", "a=1&a=2", "hardness.value=180&hardness.scale=HBW",
		"units=metric&tool.cutting_diameter=1&DC=1", "machine=vmc-50&units=metric", "=&==", "units=metric&cutting_speed=5e-324", "units=metric&through=yes", "wall.width=1,5",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, query string) {
		values, err := url.ParseQuery(query)
		if err != nil {
			return
		}
		var got Cut
		in := DecodeQuery(values, &got, DecodeOptions{})
		if len(in.Faults) > 0 {
			return
		}
		got.Units = in.System.String()
		if _, err := AppendJSON(nil, &got, unit.Metric); err != nil {
			t.Fatalf("%q passed and cannot be written: %v", query, err)
		}
		got.Units = "metric"
		text, err := AppendJSON(nil, &got, unit.Metric)
		if err != nil {
			t.Fatal(err)
		}
		var back Cut
		if in := Decode(text, &back, DecodeOptions{}); len(in.Faults) > 0 {
			t.Fatalf("%q became %s: %+v", query, text, in.Faults)
		}
		if again, err := AppendJSON(nil, &back, unit.Metric); err != nil || string(again) != string(text) {
			t.Fatalf("%q: %s became %s (%v)", query, text, again, err)
		}
	})
}

// FuzzReadNumber: a number is what a decimal fraction is, and nothing else; it is the same
// as the standard library's.
func FuzzReadNumber(f *testing.F) {
	for _, seed := range []string{"1", "-1.5", "0012.500", ".5", "12.", "+1", "1e3", "NaN", "Inf", "0x1p4", "1_0", "", "-", ".", "1,5", "5e-324", "1e999", "-0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, ok := ReadNumber(text)
		if !ok {
			return
		}
		want, err := strconv.ParseFloat(text, 64)
		if err != nil || got != want || math.IsInf(got, 0) || math.IsNaN(got) {
			t.Fatalf("%q is %v, the library says %v (%v)", text, got, want, err)
		}
		if strings.Trim(text, "0123456789.eE+-") != "" || strings.HasPrefix(text, "+") {
			t.Fatalf("%q passes for a number", text)
		}
	})
}
