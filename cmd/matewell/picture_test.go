package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/swap"
)

// pictured is an answer with one outcome of each verdict, a part to get and one
// to make, and a trail.
func pictured() swap.SwapAnswer {
	end := func(position, part string, changed bool) examine.End {
		return examine.End{Position: graph.PositionID("skerry-620:" + position), Feature: "mount", Part: graph.PartID(part), Changed: changed}
	}
	caliper := end("front-brake/caliper", "Tarnholt 207.7412", true)
	outcome := func(id string, v graph.Verdict, other examine.End) examine.Outcome {
		return examine.Outcome{What: examine.OfJoint, ID: "skerry-620:" + id, Ends: []examine.End{caliper, other}, After: v, Why: "because <of> this & that"}
	}
	return swap.SwapAnswer{On: "skerry-620/2003/eu/late", Verdict: graph.DoesNotFit,
		Swaps:       []swap.SwapLine{{Position: caliper.Position, Now: caliper.Part, NowName: "front caliper"}},
		DoesNotMate: []examine.Outcome{outcome("hose", graph.DoesNotFit, end("front-brake/hose", "Tarnholt 1", false))},
		Unknown:     []examine.Outcome{outcome("disc", graph.Unknown, end("front-brake/disc", "Tarnholt 2", false))},
		WithChanges: []examine.Outcome{outcome("leg", graph.FitsWithChanges, end("fork/leg", "Tarnholt 3", false))},
		Mates:       []examine.Outcome{outcome("pads", graph.Fits, end("front-brake/pads", "Tarnholt 4", false))},
		Get: []swap.Get{{What: swap.GetPart, Position: "skerry-620:front-brake/hose", Part: "Tarnholt 9", For: []string{"skerry-620:hose"}},
			{What: "bracket", Position: "skerry-620:fork/leg", Text: "caliper bracket", For: []string{"skerry-620:leg"}}},
		Trails: []swap.Trail{{Ends: swap.EndsMates, Steps: []swap.TrailStep{{Position: caliper.Position},
			{Position: "skerry-620:front-brake/hose"}, {Position: "skerry-620:front-brake/splitter", Part: "Tarnholt 8", What: "fits"}}}},
	}
}

func draw(t *testing.T, a swap.SwapAnswer) string {
	t.Helper()
	var b bytes.Buffer
	s, laid, err := sketchSwap(a)
	if err != nil {
		t.Fatal(err)
	}
	if err := writePicture(&b, s, laid); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestPictureSays: every verdict stands there in words, whatever its colour, and
// every part and place is named.
func TestPictureSays(t *testing.T) {
	text := draw(t, pictured())
	for _, want := range []string{"x does not fit", "? unknown", "~ fits with changes", "= fits", "front-brake/caliper", "Tarnholt 207.7412",
		"get Tarnholt 9", "make or order caliper bracket", "front-brake/splitter", "because &lt;of&gt; this &amp; that", "In all: does not fit."} {
		if !strings.Contains(text, want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	for dec := xml.NewDecoder(strings.NewReader(text)); ; {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("the picture is not well formed: %v", err)
		}
	}
}

// TestPictureKeepsWhatWasAsked: another part for the place of one that was asked
// for stands beside that one.
func TestPictureKeepsWhatWasAsked(t *testing.T) {
	a := pictured()
	a.Get = append(a.Get, swap.Get{What: swap.GetPart, Position: a.Swaps[0].Position, Part: "Tarnholt 77", For: []string{"skerry-620:leg"}})
	text := draw(t, a)
	for _, want := range []string{"Tarnholt 207.7412", "instead get Tarnholt 77"} {
		if !strings.Contains(text, want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
}

// TestPictureRepeats: equal answers give equal pictures.
func TestPictureRepeats(t *testing.T) {
	first := draw(t, pictured())
	for range 10 {
		if draw(t, pictured()) != first {
			t.Fatal("a second picture of the same answer differs")
		}
	}
}

// TestPictureLayout: no box lies on another, lines lead from left to right, and
// a big picture leaves out what fits before it gets too small to read.
func TestPictureLayout(t *testing.T) {
	big := pictured()
	for i := range 40 {
		o := big.DoesNotMate[0]
		o.ID = fmt.Sprintf("skerry-620:joint-%d", i)
		o.Ends = []examine.End{o.Ends[0], {Position: graph.PositionID(fmt.Sprintf("skerry-620:place/%d", i))}}
		o.After = graph.Fits
		big.Mates = append(big.Mates, o)
	}
	apart := pictured()
	apart.Swaps = append(apart.Swaps, swap.SwapLine{Position: "skerry-620:tank/tank", Now: "Tarnholt 5"}, swap.SwapLine{Position: "skerry-620:seat/seat"})
	for name, a := range map[string]swap.SwapAnswer{"small": pictured(), "big": big, "parts that meet nothing": apart,
		"one part": {Swaps: apart.Swaps[1:2]}, "nothing touched": {On: "skerry-620/2003/eu"}} {
		t.Run(name, func(t *testing.T) {
			s := newSketch(a, mostBoxes)
			l, err := s.layOut()
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range l.at {
				for j, q := range l.at[:i] {
					if abs(p.x-q.x) < boxWide && abs(p.y-q.y) < boxHigh {
						t.Errorf("%q lies on %q", s.boxes[i].head, s.boxes[j].head)
					}
				}
			}
			for i, line := range s.lines {
				checkRoute(t, s, l, l.route(line, l.paths[i]))
				if l.at[line[0]].x+boxWide >= l.at[line[1]].x {
					t.Errorf("the line from %q to %q does not lead to the right", s.boxes[line[0]].head, s.boxes[line[1]].head)
				}
			}
			if l.high > 2*(pageLong-2*pageMargin) {
				t.Errorf("%d high: too small to read on one page", l.high)
			}
		})
	}
	if s := newSketch(big, mostBoxes); s.left == 0 {
		t.Error("nothing was left out")
	}
}

func abs(v int) int { return max(v, -v) }

// checkRoute: past a column a line runs level and behind no box of it, and it
// bends only between columns.
func checkRoute(t *testing.T, s *sketch, l laidOut, points []point) {
	t.Helper()
	for i := 1; i < len(points); i++ {
		p, q := points[i-1], points[i]
		for j, box := range l.at {
			low, high := min(p.y, q.y), max(p.y, q.y)
			if q.x > box.x && p.x < box.x+boxWide && high > box.y && low < box.y+boxHigh {
				t.Errorf("a line runs behind %q", s.boxes[j].head)
			}
		}
	}
}

// TestPictureRunsPastColumns: what a trail joins two columns further on is led
// past the boxes between.
func TestPictureRunsPastColumns(t *testing.T) {
	a := pictured()
	for i := range 3 {
		o := a.Unknown[0]
		o.ID = fmt.Sprintf("skerry-620:far-%d", i)
		o.Ends = []examine.End{o.Ends[0], {Position: "skerry-620:front-brake/splitter", Part: "Tarnholt 8"}}
		a.Unknown = append(a.Unknown, o)
	}
	s, l, err := sketchSwap(a)
	if err != nil {
		t.Fatal(err)
	}
	long := 0
	for i, line := range s.lines {
		points := l.route(line, l.paths[i])
		checkRoute(t, s, l, points)
		if len(points) > 2 {
			long++
		}
	}
	if long == 0 {
		t.Fatal("no line runs past a column: the test says nothing")
	}
}

// TestPictureIsLegible: what simply fits goes before the letters get too small,
// and no more of it than the page asks for.
func TestPictureIsLegible(t *testing.T) {
	a := pictured()
	few, laid, err := sketchSwap(a)
	if err != nil || few.left != 0 || laid.sheet().scale < legible {
		t.Errorf("a small picture leaves out %d at scale %.2f (%v)", few.left, laid.sheet().scale, err)
	}
	a.Trails[0].Steps = append(a.Trails[0].Steps, swap.TrailStep{Position: "skerry-620:far/end"}) // makes it wide
	for i := range 14 {
		o := a.Mates[0]
		o.ID = fmt.Sprintf("skerry-620:joint-%d", i)
		o.Ends = []examine.End{o.Ends[0], {Position: graph.PositionID(fmt.Sprintf("skerry-620:place/%d", i))}}
		a.Mates = append(a.Mates, o)
	}
	many, laid, err := sketchSwap(a)
	if err != nil || many.left != len(a.Mates) || laid.sheet().scale < legible {
		t.Errorf("a big picture leaves out %d of %d at scale %.2f (%v)", many.left, len(a.Mates), laid.sheet().scale, err)
	}
}
