package client_test

import (
	"errors"
	"io"
	"iter"
	"os"
	"strings"
	"testing"

	"swarf/api/client"
	"swarf/api/wire"
)

// drained counts a list and returns what ended it.
func drained[T any](list iter.Seq2[T, error]) (count int, err error) {
	for _, err := range list {
		if err != nil {
			return count, err
		}
		count++
	}
	return count, nil
}

// askReads calls every read. Tags are sent back: the second answer is that nothing changed.
func askReads(t *testing.T, c *client.Client, fine func(string, error)) {
	t.Helper()
	ctx := t.Context()
	var id string
	for m, err := range c.Materials(ctx, "1.4301", "", client.List{}) {
		fine("materials", err)
		id = m.ID
		break
	}
	if grade, err := c.Material(ctx, id, client.Read{Units: "inch"}); err != nil || grade.Tag == "" || grade.Revision != 1 || grade.Value.Units != "inch" {
		t.Errorf("material: %+v %v", grade, err)
	} else if _, err = c.Material(ctx, id, client.Read{Units: "inch", Tag: grade.Tag}); !errors.Is(err, client.ErrUnchanged) {
		t.Errorf("material again: %v", err)
	}
	_, err := c.Spread(ctx, id, client.Read{})
	fine("spread", err)
	class, err := c.ToolClass(ctx, "drill-indexable", client.Read{})
	if fine("tool class", err); err == nil && class.Value.ID != "drill-indexable" {
		t.Errorf("tool class: %+v", class)
	}
	_, err = c.ConvertHardness(ctx, client.Hardness{Grade: id, Value: 180, Scale: "HBW"}, client.Read{})
	fine("hardness", err)
	_, err = c.Sheets(ctx)
	fine("sheets", err)
	_, err = c.Sheet(ctx, "materials")
	fine("sheet", err)
	document, err := os.ReadFile("../../testdata/mtconnect/face-mill.xml")
	fine("asset", err)
	tool, err := c.ToolAsset(ctx, "mill-face", "metric", document)
	if fine("tool asset", err); err == nil && tool.AssetID == "" {
		t.Errorf("tool asset: %+v", tool)
	}
	ready, err := c.Ready(ctx)
	if fine("ready", err); err == nil && ready.Status != "ready" {
		t.Errorf("ready: %+v", ready)
	}
	_, err = c.Version(ctx)
	fine("version", err)
	for what, list := range map[string]func() (int, error){
		"tool classes": func() (int, error) { return drained(c.ToolClasses(ctx, client.List{Page: 3})) },
		"machines":     func() (int, error) { n, err := drained(c.Machines(ctx, client.List{})); return n + 1, err },
		"units":        func() (int, error) { return drained(c.Units(ctx, client.List{Page: 10})) },
		"sources":      func() (int, error) { return drained(c.Sources(ctx, client.List{Page: 500})) },
		"records":      func() (int, error) { return drained(c.Records(ctx, client.Records{Kind: "life"}, client.List{})) },
		"kept cuts":    func() (int, error) { n, err := drained(c.KeptCuts(ctx, client.List{})); return n + 1, err },
	} {
		n, err := list()
		if fine(what, err); n == 0 {
			t.Errorf("%s: none", what)
		}
	}
	var source string
	for s, err := range c.Sources(ctx, client.List{}) {
		fine("sources", err)
		source = s.ID
		break
	}
	_, err = c.Source(ctx, source, client.Read{})
	fine("source", err)
	for r, err := range c.Records(ctx, client.Records{}, client.List{}) {
		fine("records", err)
		_, err = c.Record(ctx, r.ID, client.Read{})
		fine("record", err)
		_, err = c.Impact(ctx, r.ID, client.Read{})
		fine("impact", err)
		break
	}
	for sheet, holds := range map[string]string{"": "1.4301", "materials": "austenitic"} {
		table, err := c.Export(ctx, sheet, client.Lines, client.Read{})
		if fine("export", err); err == nil {
			text, err := io.ReadAll(table)
			table.Close()
			if err != nil || !strings.Contains(string(text), holds) {
				t.Errorf("export %q: %v, %d bytes", sheet, err, len(text))
			}
		}
	}
	for what, err := range map[string]error{
		"machine":  last(c.Machine(ctx, "none", client.Read{})),
		"kept cut": last(c.KeptCut(ctx, "none", client.Read{})),
		"export":   last(c.Export(ctx, "none", client.CSV, client.Read{})),
	} {
		if refusedBy(err) != "not-found" {
			t.Errorf("%s: %v", what, err)
		}
	}
	for what, ask := range map[string]func() (int, error){
		"changes":      func() (int, error) { return drained(c.Changes(ctx, 0)) },
		"observations": func() (int, error) { return drained(c.Observations(ctx, client.Observations{Kind: "load"})) },
	} {
		if _, err := ask(); refusedBy(err) != "storage-not-configured" {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// last is the error of a call.
func last[T any](_ T, err error) error { return err }

// askWrites calls every write; without a database all are refused.
func askWrites(t *testing.T, c *client.Client) {
	t.Helper()
	ctx := t.Context()
	askJobs(t, c)
	machine := *inlineMachine().Inline
	cut := drill()
	observation := wire.Observation{Units: "metric", Kind: "load", Cut: &cut, Load: &wire.LoadReading{Torque: ptr(60.0), Point: "spindle"}}
	why := wire.Approval{Reason: "test"}
	for what, err := range map[string]error{
		"put machine":         last(c.PutMachine(ctx, machine, client.Write{})),
		"delete machine":      c.DeleteMachine(ctx, "vmc-1", client.Write{Tag: `"x"`}),
		"put record":          last(c.PutRecord(ctx, wire.Record{ID: "r-1", Kind: "force", Units: "metric"}, client.Write{})),
		"approve":             last(c.Approve(ctx, "r-1", why, client.Write{})),
		"withdraw":            last(c.Withdraw(ctx, "r-1", wire.Withdrawal{Reason: "test"}, client.Write{})),
		"put kept cut":        last(c.PutKeptCut(ctx, wire.KeptCut{ID: "c-1", Units: "metric", Cut: &cut}, client.Write{})),
		"delete kept cut":     c.DeleteKeptCut(ctx, "c-1", client.Write{Tag: `"x"`}),
		"observe":             last(c.Observe(ctx, observation, client.Write{})),
		"observe all":         last(c.ObserveAll(ctx, "metric", []wire.Observation{observation}, client.Write{})),
		"calibrate":           last(c.Calibrate(ctx, wire.CalibrationRequest{Kind: "force", Record: "r-1", Material: cut.Material, Process: "drilling"}, client.Write{})),
		"approve calibration": last(c.ApproveCalibration(ctx, "r-1", why, client.Write{})),
		"import":              last(c.Import(ctx, "sources", client.CSV, []byte("id,title,kind\r\nx,y,book\r\n"), false, client.Write{})),
		"approve import":      last(c.ApproveImport(ctx, "7", why, client.Write{})),
	} {
		if refusedBy(err) != "storage-not-configured" {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// askJobs calls what computes later, which needs a database too.
func askJobs(t *testing.T, c *client.Client) {
	t.Helper()
	ctx := t.Context()
	if _, err := client.Later(ctx, c, "/v1/estimates", "metric", []wire.Cut{drill()}, client.Compute{}, client.Write{}); !errors.Is(err, client.ErrNotKept) {
		t.Errorf("later: %v", err)
	}
	_, listed := drained(c.Jobs(ctx, client.List{}))
	_, fetched := drained(client.JobResult[wire.Answer](ctx, c, 1))
	for what, err := range map[string]error{
		"job": last(c.Job(ctx, 1)), "cancel": last(c.CancelJob(ctx, 1, client.Write{})), "jobs": listed, "result": fetched,
	} {
		if refusedBy(err) != "storage-not-configured" {
			t.Errorf("%s: %v", what, err)
		}
	}
}
