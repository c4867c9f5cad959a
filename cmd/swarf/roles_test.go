package main

import (
	"context"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"swarf/db/dbtest"
)

// as is an address with another role.
func as(t *testing.T, address, role string) string {
	t.Helper()
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	q := u.Query()
	if q.Has("user") {
		q.Set("user", role)
		u.RawQuery = q.Encode()
	} else {
		u.User = url.User(role)
	}
	return u.String()
}

// execute runs a text of statements and returns what the server says.
func execute(t *testing.T, address, text string) error {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), address)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	_, err = conn.Exec(t.Context(), text)
	return err
}

// The roles that are shipped are enough to migrate, to load and to serve, and for no more.
func TestRolesAreEnoughAndNoMore(t *testing.T) {
	server := dbtest.NewEmptyServer(t)
	text, err := os.ReadFile(filepath.Join(root, "deploy/database/roles.sql"))
	if err != nil {
		t.Fatal(err)
	}
	grant := func() {
		t.Helper()
		if err := execute(t, server.URL(), string(text)); err != nil {
			t.Fatal(err)
		}
	}
	owner, serve, read := as(t, server.URL(), "swarf_owner"), as(t, server.URL(), "swarf_serve"), as(t, server.URL(), "swarf_read")
	grant()
	if code, out, errs := swarf(t, []string{"DATABASE_URL=" + owner}, "migrate"); code != 0 {
		t.Fatalf("%s%s", out, errs)
	}
	grant() // a second time changes nothing but what migrate made
	s := startService(t, "DATABASE_URL="+loaded(t, serve))
	eventually(t, "the service is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == http.StatusOK })
	const machine = `{"units":"metric","process":"milling","spindle":{"max_speed":6000,"efficiency":0.8,"gears":[{"ratings":[{"rating":"S1","power":9,"torque":60}]}]},"axes":{"max_feed_rate":10000},"coolant":{"deliveries":["external"]},"basis":"demo"}`
	if status, _, body := call(t, http.MethodPut, s.address+"/v1/machines/own", machine, "If-None-Match", "*", "From", "ann"); status != http.StatusCreated {
		t.Errorf("a write: %d %s", status, body)
	}
	items := sweepItems(300)
	j := startJob(t, s.address, items)
	eventually(t, "a job is finished", func() bool { return jobNow(t, s.address, j.ID).State == "finished" })

	for _, c := range []struct{ role, address, statement, what string }{
		{"serve", serve, `DELETE FROM changes`, "permission denied"},
		{"serve", serve, `UPDATE changes SET who = 'nobody'`, "permission denied"},
		{"serve", serve, `TRUNCATE changes`, "permission denied"},
		{"serve", serve, `DELETE FROM data_revision`, "permission denied"},
		{"serve", serve, `DROP TABLE machine`, "must be owner"},
		{"serve", serve, `ALTER TABLE changes DISABLE TRIGGER ALL`, "must be owner"},
		{"serve", serve, `CREATE TABLE more (x int)`, "permission denied"},
		{"serve", serve, `UPDATE schema_migrations SET version = 1`, "permission denied"},
		{"serve", serve, `SET session_replication_role = replica`, "permission denied"},
		{"read", read, `DELETE FROM machine`, "permission denied"},
		{"read", read, `INSERT INTO source (id, title, kind) VALUES ('x', 'x', 'x')`, "permission denied"},
		{"read", read, `SELECT * FROM river.river_job`, "permission denied"},
		{"read", read, `CREATE TABLE more (x int)`, "permission denied"},
		{"read", read, `SELECT count(*) FROM changes`, ""},
		{"owner", owner, `CREATE ROLE another`, "permission denied"},
	} {
		err := execute(t, c.address, c.statement)
		if c.what == "" && err != nil || c.what != "" && (err == nil || !strings.Contains(err.Error(), c.what)) {
			t.Errorf("%s: %s: %v", c.role, c.statement, err)
		}
	}
}
