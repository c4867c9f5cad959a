package api_test

import (
	"encoding/json"
	"encoding/xml"
	"testing"
)

// Every operation, recommended in every metal, fits the public schemas as an asset and as a
// work master, and its speed and feed stand within the ends that are given with them.
func TestEveryOperationFitsTheSchemas(t *testing.T) {
	h, ends := embeddedService(t), 0
	for _, r := range routings {
		for _, grade := range grades {
			request := map[string]any{"units": "metric", "material": map[string]any{"grade": grade}, "operation": r.operation,
				"tool": json.RawMessage(r.tool), "engagement": json.RawMessage(r.engagement)}
			asset := ask(t, h, "POST /v1/recommendations?format=mtconnect", request)
			if asset.status != 200 {
				t.Errorf("%s in %s: %d %.500s", r.operation, grade, asset.status, asset.body)
				continue
			}
			if err := fitsSchema(t, assetSchema, asset.body); err != nil {
				t.Errorf("%s in %s: %v\n%s", r.operation, grade, err, asset.body)
			}
			var read struct {
				Speed span `xml:"CuttingToolLifeCycle>ProcessSpindleSpeed"`
				Feed  span `xml:"CuttingToolLifeCycle>ProcessFeedRate"`
			}
			if err := xml.Unmarshal(asset.body, &read); err != nil {
				t.Error(err)
			}
			for _, s := range []span{read.Speed, read.Feed} {
				if s.Maximum == 0 { // a pitch leaves the feed no window
					continue
				}
				if ends++; !(s.Minimum > 0 && s.Minimum <= s.Nominal && s.Nominal <= s.Maximum) {
					t.Errorf("%s in %s: %+v", r.operation, grade, s)
				}
			}
			readMaster(t, ask(t, h, "POST /v1/recommendations?format=b2mml", request))
		}
	}
	if ends < len(routings)*len(grades) {
		t.Errorf("only %d windows", ends)
	}
}
