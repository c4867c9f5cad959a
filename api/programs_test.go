package api_test

import (
	"fmt"
	"strings"
	"testing"
)

// Several cuts are a program: what they lean on short-term ratings, by machine.
func TestProgramsOfASpindleCheck(t *testing.T) {
	h := embeddedService(t)
	deep := strings.Replace(fmt.Sprintf(tooMuch[0].cut, 3), `"radial_width":60`, `"radial_width":60,"length":400`, 1)
	light := strings.Replace(fmt.Sprintf(tooMuch[0].cut, 0.5), `"radial_width":60`, `"radial_width":60,"length":4000`, 1)
	got := ask(t, h, "POST /v1/spindle-checks", []byte(`{"units":"metric","cuts":[`+deep+`,`+light+`,`+fmt.Sprintf(tooMuch[0].cut, 1)+`],"machines":["vmc-50","hmc-63"]}`))
	programs := list(got.doc, "programs")
	if got.status != 200 || len(programs) != 2 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	small := programs[0]
	if over, all := number(t, small, "over_continuous"), number(t, small, "cutting"); over <= 0 || over >= all || number(t, small, "unknown") != 1 || member0(small, "allowed") != true || len(list(small, "allowed_by")) == 0 {
		t.Errorf("%v", small)
	}
	if one := ask(t, h, "POST /v1/spindle-checks", []byte(`{"units":"metric","cut":`+deep+`,"machine":"vmc-50"}`)); len(list(one.doc, "programs")) != 0 {
		t.Errorf("one cut is a program: %s", one.body)
	}
}
