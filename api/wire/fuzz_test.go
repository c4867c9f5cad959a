package wire

import (
	"bytes"
	"encoding/json"
	"reflect"
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
