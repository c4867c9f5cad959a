package main

import (
	"errors"
	"math"
	"testing"

	"swarf/api/client"
	"swarf/api/wire"
	"swarf/db/dbtest"
)

// What a client writes is there when it reads, under the conditions that it states, and a
// batch that is computed later is answered in the order of its items.
func TestClientWithADatabase(t *testing.T) {
	s := startService(t, "DATABASE_URL="+loaded(t, dbtest.URL(t)))
	eventually(t, "the service is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == 200 })
	ctx := t.Context()
	c, err := client.New(s.address, client.Options{From: "planner@shop.example"})
	if err != nil {
		t.Fatal(err)
	}
	number := func(v float64) *float64 { return &v }
	machine := wire.Machine{ID: "test-1", Name: "Ours", Units: "inch", Process: "milling", Spindle: &wire.Spindle{MaxSpeed: number(8000), Efficiency: number(0.9),
		Gears: []wire.Gear{{MaxSpeed: number(8000), Ratings: []wire.Rating{{Rating: "S1", Power: number(20), Torque: number(70)}}}}}}
	made, err := c.PutMachine(ctx, machine, client.Write{Reason: "bought"})
	if err != nil || made.Tag == "" || made.Value.UnitOf["power"] != "[HP]" {
		t.Fatalf("%+v %v", made, err)
	}
	refused := func(err error, code string) {
		t.Helper()
		var p *client.Problem
		if !errors.As(err, &p) || p.Code != code {
			t.Errorf("%v, want %s", err, code)
		}
	}
	_, err = c.PutMachine(ctx, machine, client.Write{})
	refused(err, "precondition-failed")
	next := made.Value
	next.Note = "serviced"
	newer, err := c.PutMachine(ctx, next, client.Write{Tag: made.Tag})
	if err != nil {
		t.Fatal(err)
	}
	_, err = c.PutMachine(ctx, next, client.Write{Tag: made.Tag})
	refused(err, "precondition-failed")
	read, err := c.Machine(ctx, "test-1", client.Read{Units: "inch"})
	if err != nil || read.Value.Note != "serviced" || math.Abs(*read.Value.Spindle.Gears[0].Ratings[0].Power/20-1) > 1e-9 || read.Tag != newer.Tag {
		t.Errorf("%+v, tag %s before; %v", read, newer.Tag, err)
	}
	if err := c.DeleteMachine(ctx, "test-1", client.Write{Tag: newer.Tag}); err != nil {
		t.Error(err)
	}
	_, err = c.Machine(ctx, "test-1", client.Read{})
	refused(err, "not-found")

	through := true
	good := wire.Cut{Material: &wire.Material{Grade: "1.4301"}, Operation: "drilling", Tool: &wire.Tool{Class: "drill-indexable", CuttingDiameter: number(30)},
		Engagement: &wire.Engagement{HoleDepth: number(60), Through: &through}, Parameters: &wire.Parameters{CuttingSpeed: number(150), FeedPerRevolution: number(0.12)}}
	bad := good
	bad.Operation = "broaching"
	job, err := client.Later(ctx, c, "/v1/estimates", "metric", []wire.Cut{good, bad, good}, client.Compute{}, client.Write{})
	if err != nil || job.Items != 3 {
		t.Fatalf("%+v %v", job, err)
	}
	eventually(t, "the job is finished", func() bool {
		now, err := c.Job(ctx, job.ID)
		return err == nil && now.State == "finished"
	})
	var answers []client.Item[wire.Answer]
	for item, err := range client.JobResult[wire.Answer](ctx, c, job.ID) {
		if err != nil {
			t.Fatal(err)
		}
		answers = append(answers, item)
	}
	if len(answers) != 3 || answers[0].Answer == nil || answers[1].Problem == nil || answers[1].Problem.Code != "operation-unknown" || answers[2].Answer.Parameters.SpindleSpeed.V != 1591.55 {
		t.Errorf("%+v", answers)
	}
}
