package main

import (
	"net/http"
	"strings"
	"testing"

	"swarf/db/dbtest"
)

// Over HTTP and with the database: a write that is only checked answers as it would and is
// not there afterwards; sent again it is. QUERY passes the server as POST does.
func TestCheckedWritesAreNotKept(t *testing.T) {
	service := startService(t, "DATABASE_URL="+loaded(t, dbtest.URL(t)))
	eventually(t, "the service is ready", func() bool { status, _ := get(t, service.address+"/readyz"); return status == http.StatusOK })
	at := service.address + "/v1/machines/checked-mill"
	const machine = `{"name":"mill","units":"metric","process":"milling","spindle":{"max_speed":8000,"efficiency":0.85,"gears":[{"gear":"1","ratings":[{"rating":"S1","power":11,"torque":70}]}]},"basis":"demo"}`
	status, header, body := call(t, http.MethodPut, at+"?validate_only=true", machine, "If-None-Match", "*")
	if status != http.StatusOK || header.Get("Validate-Only") != "true" || header.Get("ETag") != "" || !strings.Contains(body, `"id":"checked-mill"`) {
		t.Fatalf("%d %v %s", status, header, body)
	}
	if status, _ := get(t, at); status != http.StatusNotFound {
		t.Errorf("it was kept: %d", status)
	}
	if status, _, body := call(t, http.MethodPut, at, machine, "If-None-Match", "*"); status != http.StatusCreated {
		t.Fatalf("%d %s", status, body)
	}
	if status, header, _ := call(t, http.MethodDelete, at+"?validate_only=true", "", "If-Match", "*"); status != http.StatusNoContent || header.Get("Validate-Only") != "true" {
		t.Errorf("%d %v", status, header)
	}
	if status, _ := get(t, at); status != http.StatusOK {
		t.Errorf("it was removed: %d", status)
	}
	const drill = `{"units":"metric","material":{"grade":"1.4301"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":8},"engagement":{"hole_depth":20,"through":true},"machine":"checked-mill"}`
	status, header, body = call(t, "QUERY", service.address+"/v1/recommendations", drill)
	if status != http.StatusOK || !strings.HasPrefix(header.Get("Content-Location"), "/v1/recommendations?") {
		t.Fatalf("%d %v %.300s", status, header, body)
	}
	if again := mustGet(t, service.address+header.Get("Content-Location")); again != body {
		t.Errorf("by its location:\n%s\nby QUERY:\n%s", again, body)
	}
}
