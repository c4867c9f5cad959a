// Program main asks a server with a client that was generated from the OpenAPI document,
// which stands beside it as client.gen.go when it is compiled.
package main

import (
	"context"
	"fmt"
	"log"
	"os"
)

func ptr[T any](v T) *T { return &v }

func main() {
	log.SetFlags(0)
	c, err := NewClientWithResponses(os.Args[1])
	if err != nil {
		log.Fatal(err)
	}
	ctx := context.Background()
	cut := Cut{
		Units:      ptr(CutUnits("metric")),
		Material:   Material{Grade: ptr("1.4301")},
		Operation:  "drilling",
		Tool:       Tool{Class: "drill-indexable", CuttingDiameter: ptr(30.0), EffectiveEdges: ptr(1.0)},
		Engagement: &Engagement{HoleDepth: ptr(60.0), Through: ptr(true)},
		Parameters: &Parameters{CuttingSpeed: ptr(150.0), FeedPerRevolution: ptr(0.12)},
	}

	estimate, err := c.PostV1EstimatesWithResponse(ctx, nil, cut)
	if err != nil {
		log.Fatal(err)
	}
	if estimate.JSON200 == nil {
		log.Fatalf("estimate: %s", estimate.Body)
	}
	fmt.Println("estimate", estimate.StatusCode(), estimate.JSON200.Verdict, *estimate.JSON200.Parameters.SpindleSpeed, (*estimate.JSON200.UnitOf)["spindle_speed"])

	flat, err := c.GetV1EstimatesWithResponse(ctx, &GetV1EstimatesParams{
		Units: "metric", Grade: ptr("1.4301"), Operation: "drilling", Class: "drill-indexable", CuttingDiameter: ptr(30.0), EffectiveEdges: ptr(1.0),
		HoleDepth: ptr(60.0), Through: ptr(true), CuttingSpeed: ptr(150.0), FeedPerRevolution: ptr(0.12),
	})
	if err != nil {
		log.Fatal(err)
	}
	if flat.JSON200 == nil {
		log.Fatalf("flat: %s", flat.Body)
	}
	fmt.Println("flat", flat.StatusCode(), flat.JSON200.Verdict, *flat.JSON200.Parameters.SpindleSpeed)

	vague := cut
	vague.Material.Grade = ptr("stainless")
	refused, err := c.PostV1RecommendationsWithResponse(ctx, nil, vague)
	if err != nil {
		log.Fatal(err)
	}
	if refused.ApplicationproblemJSON422 == nil {
		log.Fatalf("recommendation: %s", refused.Body)
	}
	fmt.Println("problem", refused.StatusCode(), refused.ApplicationproblemJSON422.Code)

	classes, err := c.GetV1ToolClassesWithResponse(ctx, &GetV1ToolClassesParams{Limit: ptr(int64(3))})
	if err != nil {
		log.Fatal(err)
	}
	if classes.JSON200 == nil {
		log.Fatalf("classes: %s", classes.Body)
	}
	fmt.Println("classes", len(classes.JSON200.Items), "next", classes.JSON200.NextCursor != nil)

	machine := MachineRef{}
	if err := machine.FromMachine(Machine{Units: ptr(MachineUnits("metric")), Process: "milling", Spindle: Spindle{MaxSpeed: 8000, Efficiency: 0.9,
		Gears: []Gear{{MaxSpeed: ptr(8000.0), Ratings: []Rating{{Rating: "S1", Power: ptr(15.0), Torque: ptr(95.0)}}}}}}); err != nil {
		log.Fatal(err)
	}
	check, err := c.PostV1SpindleChecksWithResponse(ctx, nil, SpindleCheck{Units: ptr(SpindleCheckUnits("metric")), Cut: &cut, Machine: &machine})
	if err != nil {
		log.Fatal(err)
	}
	if check.JSON200 == nil {
		log.Fatalf("check: %s", check.Body)
	}
	fmt.Println("check", check.StatusCode(), len(check.JSON200.Results))

	bad := cut
	bad.Operation = "broaching"
	batch, err := c.PostV1EstimatesBatchWithResponse(ctx, nil, CutBatch{Units: "metric", Items: []Cut{cut, bad}})
	if err != nil {
		log.Fatal(err)
	}
	if batch.JSON200 == nil {
		log.Fatalf("batch: %s", batch.Body)
	}
	fmt.Printf("batch %d %d items, %d problem\n", batch.StatusCode(), len(batch.JSON200.Items), batch.JSON200.Counts.Problems)
}
