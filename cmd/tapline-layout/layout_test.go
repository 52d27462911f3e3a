package main

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"tapline/cmd/internal/draw/place"
)

func ask(t *testing.T, r *place.Request) *place.Answer {
	t.Helper()
	in, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := run(context.Background(), bytes.NewReader(in), &out); err != nil {
		t.Fatal(err)
	}
	a := &place.Answer{}
	if err := json.Unmarshal(out.Bytes(), a); err != nil {
		t.Fatal(err)
	}
	if err := a.Check(r); err != nil {
		t.Fatal(err)
	}
	return a
}

// Properties of any layout: flow runs to the right, boxes keep their distance,
// routes begin and end at the boxes that they join, parallels included.
func TestLayout(t *testing.T) {
	r := &place.Request{RowGap: 10, ColumnGap: 30,
		Boxes: []place.Box{{Width: 50, Height: 40}, {Width: 30, Height: 80}, {Width: 50, Height: 40}, {Width: 20, Height: 20}},
		Edges: []place.Edge{{From: 0, To: 1}, {From: 0, To: 2}, {From: 1, To: 3}, {From: 2, To: 3}, {From: 2, To: 3}},
	}
	a := ask(t, r)
	const slack, slackAtBox = 0.1, 2 // the library writes inches with five digits, and stops a stroke short of boxes
	for i, e := range r.Edges {
		from, to := a.Centres[e.From], a.Centres[e.To]
		left, right := from.X+r.Boxes[e.From].Width/2, to.X-r.Boxes[e.To].Width/2
		if right-left < r.ColumnGap-slack {
			t.Errorf("edge %d: from %g to %g is less than the gap %g", i, left, right, r.ColumnGap)
		}
		route := a.Routes[i]
		if len(route) < 4 || (len(route)-1)%3 != 0 {
			t.Fatalf("edge %d has %d control points", i, len(route))
		}
		first, last := route[0], route[len(route)-1]
		if d := first.X - left; d < -slackAtBox || d > slackAtBox {
			t.Errorf("edge %d begins at %g, its box ends at %g", i, first.X, left)
		}
		if d := last.X - right; d < -slackAtBox || d > slackAtBox {
			t.Errorf("edge %d ends at %g, its box begins at %g", i, last.X, right)
		}
	}
	gap := a.Centres[1].Y - a.Centres[2].Y
	if gap = max(gap, -gap) - 60; gap < r.RowGap-slack {
		t.Errorf("two boxes of a column are %g apart, want %g", gap, r.RowGap)
	}
}

func TestEmptyGraph(t *testing.T) {
	if a := ask(t, &place.Request{RowGap: 1, ColumnGap: 1}); len(a.Centres)+len(a.Routes) != 0 {
		t.Errorf("%v", a)
	}
}

func TestBadRequests(t *testing.T) {
	for in, want := range map[string]string{
		"":                         "not one graph as JSON",
		"[]":                       "not one graph as JSON",
		`{"row_gap": 1}`:           "column_gap",
		strings.Repeat(" ", 5<<20): "longer than",
		`{"row_gap":1,"column_gap":1,"boxes":[],"edges":[{"from":0,"to":0}]}`: "joins boxes 0 and 0",
	} {
		err := run(context.Background(), strings.NewReader(in), &bytes.Buffer{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40q: %v, want %q", in, err, want)
		}
	}
}

// Whatever the library wrote, reading it ends in places or an error.
func FuzzRead(f *testing.F) {
	f.Add("graph 1 1.8 1.3\nnode b0 0.3 0.9 0.6 0.5 \"\" solid box black lightgrey\nedge b0 b1 1 0.5 0.5 solid black\nstop\n")
	f.Add("node b9")
	f.Add("edge b0 b1 99999999999")
	f.Add("edge b0 b1 4 0 0")
	f.Fuzz(func(t *testing.T, plain string) {
		r := &place.Request{Boxes: make([]place.Box, 2), Edges: []place.Edge{{From: 0, To: 1}}}
		a := &place.Answer{Centres: make([]place.Point, 2), Routes: make([][]place.Point, 1)}
		if read(plain, r, a) == nil && len(a.Routes[0]) > len(plain) {
			t.Errorf("%d points out of %d bytes", len(a.Routes[0]), len(plain))
		}
	})
}
