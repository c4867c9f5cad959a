package client_test

import (
	"context"
	"errors"
	"fmt"
	"log"
	"net/http/httptest"

	"swarf/api/client"
	"swarf/api/wire"
)

// What a 30 mm drill with inserts loads in austenitic stainless steel.
func Example() {
	server := httptest.NewServer(reference()) // swarf serve
	defer server.Close()
	c, err := client.New(server.URL, client.Options{From: "planner@shop.example"})
	if err != nil {
		log.Fatal(err)
	}
	number := func(v float64) *float64 { return &v }
	through := true
	answer, err := c.Estimate(context.Background(), wire.Cut{
		Units:      "metric",
		Material:   &wire.Material{Grade: "1.4301"},
		Operation:  "drilling",
		Tool:       &wire.Tool{Class: "drill-indexable", CuttingDiameter: number(30), EffectiveEdges: number(1)},
		Engagement: &wire.Engagement{HoleDepth: number(60), Through: &through},
		Parameters: &wire.Parameters{CuttingSpeed: number(150), FeedPerRevolution: number(0.12)},
	}, client.Compute{})
	if err != nil {
		log.Fatal(err)
	}
	n := answer.Parameters.SpindleSpeed
	fmt.Println(answer.Verdict, n.V, answer.UnitOf["spindle_speed"])
	// Output: yes 1591.55 /min
}

// A fault of the request says which member, and what to do.
func ExampleProblem() {
	server := httptest.NewServer(reference())
	defer server.Close()
	c, err := client.New(server.URL, client.Options{})
	if err != nil {
		log.Fatal(err)
	}
	cut := drill()
	cut.Material.Grade = "stainless"
	_, err = c.Recommend(context.Background(), cut, client.Compute{})
	var problem *client.Problem
	var lost *client.Unreachable
	switch {
	case errors.As(err, &problem):
		fmt.Println(problem.Status, problem.Code, problem.Faults[0].Field, len(problem.Candidates) > 1)
	case errors.As(err, &lost):
		fmt.Println("ask again later:", lost)
	}
	// Output: 422 material-ambiguous material.grade true
}

// Lists come page by page, as they are read.
func ExampleClient_ToolClasses() {
	server := httptest.NewServer(reference())
	defer server.Close()
	c, err := client.New(server.URL, client.Options{})
	if err != nil {
		log.Fatal(err)
	}
	for class, err := range c.ToolClasses(context.Background(), client.List{Page: 2}) {
		if err != nil {
			log.Fatal(err)
		}
		if class.ID == "drill-indexable" {
			fmt.Println(class.Name)
			break
		}
	}
	// Output: Drill with indexable inserts
}

// A caller who keeps a copy asks whether it is still good.
func ExampleClient_Material() {
	server := httptest.NewServer(reference())
	defer server.Close()
	c, err := client.New(server.URL, client.Options{})
	if err != nil {
		log.Fatal(err)
	}
	ctx := context.Background()
	for grade, err := range c.Materials(ctx, "1.4301", "", client.List{}) {
		if err != nil {
			log.Fatal(err)
		}
		copied, err := c.Material(ctx, grade.ID, client.Read{})
		if err != nil {
			log.Fatal(err)
		}
		_, err = c.Material(ctx, grade.ID, client.Read{Tag: copied.Tag})
		fmt.Println(copied.Value.Group, errors.Is(err, client.ErrUnchanged))
	}
	// Output: M true
}

// Many cuts are asked at once; a bad one fails alone.
func ExampleClient_EstimateAll() {
	server := httptest.NewServer(reference())
	defer server.Close()
	c, err := client.New(server.URL, client.Options{})
	if err != nil {
		log.Fatal(err)
	}
	good, bad := drill(), drill()
	bad.Operation = "broaching"
	batch, err := c.EstimateAll(context.Background(), "metric", []wire.Cut{good, bad}, client.Compute{Fields: []string{"parameters.feed_rate"}})
	if err != nil {
		log.Fatal(err)
	}
	for _, item := range batch.Items {
		if item.Problem != nil {
			fmt.Println(item.Problem.Code)
			continue
		}
		fmt.Println(item.Answer.Parameters.FeedRate.V, batch.UnitOf["feed_rate"])
	}
	// Output:
	// 190.986 mm/min
	// operation-unknown
}
