package api_test

import (
	"encoding/json"
	"net/http"
	"reflect"
	"testing"
)

// The same scenarios with the demo machines stored first, as a shop does it: PUT
// each machine, then name it by its id. The answers are those of the inline object,
// digit by digit, but for the revision of the data.
func TestScenariosWithStoredMachines(t *testing.T) {
	inline, stored := embeddedService(t), newShop(t).handler()
	machines := fixtureMachines(t)
	for id, m := range machines {
		body, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		if got := call(t, stored, http.MethodPut, "/v1/machines/"+id, string(body), asJSON, "If-None-Match: *"); got.status != http.StatusCreated {
			t.Fatalf("PUT %s: %d %s", id, got.status, got.body)
		}
	}
	held := 0
	for _, s := range loadScenarios(t) {
		named, changed := byID(s.Request, machines)
		if !changed {
			continue
		}
		held++
		t.Run(s.ID, func(t *testing.T) {
			want, got := ask(t, inline, s.Route, s.Request), ask(t, stored, s.Route, named)
			for _, r := range []*reply{&want, &got} {
				if top, ok := r.doc.(map[string]any); ok {
					delete(top, "data_revision")
					delete(top, "request_id")
				}
			}
			if got.status != want.status || !reflect.DeepEqual(got.doc, want.doc) {
				t.Errorf("%s: stored %d %s\ninline %d %s", s.Title, got.status, got.body, want.status, want.body)
			}
		})
	}
	if held < 15 {
		t.Errorf("only %d scenarios name a machine", held)
	}
}

// byID is a copy of a request that names the fixtures by their ids again.
func byID(request map[string]any, machines map[string]any) (map[string]any, bool) {
	text, _ := json.Marshal(request)
	var named map[string]any
	_ = json.Unmarshal(text, &named)
	changed := false
	for _, c := range append(cutsOf(named), named) {
		m, ok := c["machine"].(map[string]any)
		if id := textOf(m, "id"); ok && machines[id] != nil {
			c["machine"] = id
			changed = true
		}
	}
	return named, changed
}
