package drawing

import (
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
		return examine.End{Position: graph.PositionID("skerry-620:" + position), Feature: "mount", Part: graph.PartID(part),
			Changed: changed}
	}
	caliper := end("front-brake/caliper", "Tarnholt 207.7412", true)
	outcome := func(id string, v graph.Verdict, other examine.End) examine.Outcome {
		return examine.Outcome{What: examine.OfJoint, ID: "skerry-620:" + id, Ends: []examine.End{caliper, other}, After: v,
			Why: "because <of> this & that"}
	}
	return swap.SwapAnswer{On: "skerry-620/2003/eu/late", Verdict: graph.DoesNotFit,
		Swaps:       []swap.SwapLine{{Position: caliper.Position, Now: caliper.Part, NowName: "front caliper"}},
		DoesNotMate: []examine.Outcome{outcome("hose", graph.DoesNotFit, end("front-brake/hose", "Tarnholt 1", false))},
		Unknown:     []examine.Outcome{outcome("disc", graph.Unknown, end("front-brake/disc", "Tarnholt 2", false))},
		WithChanges: []examine.Outcome{outcome("leg", graph.FitsWithChanges, end("fork/leg", "Tarnholt 3", false))},
		Mates:       []examine.Outcome{outcome("pads", graph.Fits, end("front-brake/pads", "Tarnholt 4", false))},
		Get: []swap.Get{{What: swap.GetPart, Position: "skerry-620:front-brake/hose", Part: "Tarnholt 9",
			For: []string{"skerry-620:hose"}},
			{What: "bracket", Position: "skerry-620:fork/leg", Text: "caliper bracket", For: []string{"skerry-620:leg"}}},
		Trails: []swap.Trail{{Ends: swap.EndsMates, Steps: []swap.TrailStep{{Position: caliper.Position},
			{Position: "skerry-620:front-brake/hose"}, {Position: "skerry-620:front-brake/splitter", Part: "Tarnholt 8",
				What: "fits"}}}},
	}
}

func inAll(a swap.SwapAnswer) string { return "In all: " + a.Verdict.String() + "." }

func draw(t *testing.T, a swap.SwapAnswer) string {
	t.Helper()
	return strings.Join(Swap(a, inAll(a)), "\n")
}

// TestPictureSays: every verdict stands there in words, whatever its colour, and
// every part and place is named.
func TestPictureSays(t *testing.T) {
	text := draw(t, pictured())
	for _, want := range []string{"x does not fit", "? unknown", "~ fits with changes", "= fits", "front-brake/caliper",
		"Tarnholt 207.7412",
		"get Tarnholt 9", "make or order caliper bracket", "front-brake/splitter", "because &lt;of&gt; this &amp; that",
		"In all: does not fit."} {
		if !strings.Contains(text, want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	for dec := xml.NewDecoder(strings.NewReader(Swap(pictured(), inAll(pictured()))[0])); ; {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("the picture is not well formed: %v", err)
		}
	}
}

// TestPictureTellsWhatHoldsNoLonger: a word that lapsed is drawn as no verdict, and the
// head says when its verdict is of a machine with all on that there is to get.
func TestPictureTellsWhatHoldsNoLonger(t *testing.T) {
	a := pictured()
	a.Get, a.Mates[0].What, a.Mates[0].Lapsed = nil, examine.OfWord, true
	text := draw(t, a)
	if !strings.Contains(text, "- holds no longer") || strings.Contains(text, "= fits") {
		t.Error("a word that lapsed is drawn as a verdict")
	}
	if strings.Contains(text, "Boxes say") || !strings.Contains(draw(t, pictured()), "Boxes say how it stands before") {
		t.Error("the head does not say whether the boxes tell of before or after")
	}
}

// TestPictureOfPairs: what is ordered for left and right alike stands at either.
func TestPictureOfPairs(t *testing.T) {
	a := pictured()
	a.Get = nil
	for _, side := range []string{"left", "right"} {
		at := graph.PositionID("skerry-620:front-brake/disc-bolt-" + side)
		a.Get = append(a.Get, swap.Get{What: swap.GetBolts, Position: at, Text: "six bolts",
			For: []string{"skerry-620:leg"}})
	}
	if text := draw(t, a); !strings.Contains(text, "disc-bolt-left") || !strings.Contains(text, "disc-bolt-right") {
		t.Error("bolts for the right stand at the left alone")
	}
}

// TestPictureKeepsWhatWasAsked: another part for the place of one that was asked
// for stands beside that one.
func TestPictureKeepsWhatWasAsked(t *testing.T) {
	a := pictured()
	a.Get = append(a.Get, swap.Get{What: swap.GetPart, Position: a.Swaps[0].Position, Part: "Tarnholt 77",
		For: []string{"skerry-620:leg"}})
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

// many is an answer with so many more outcomes that do not fit, each with its own part
// to get.
func many(n int) swap.SwapAnswer {
	a := pictured()
	for i := range n {
		o := a.DoesNotMate[0]
		o.ID = fmt.Sprintf("skerry-620:joint-%d", i)
		o.Ends = []examine.End{o.Ends[0], {Position: graph.PositionID(fmt.Sprintf("skerry-620:place/%d", i))}}
		a.DoesNotMate = append(a.DoesNotMate, o)
	}
	return a
}

// TestPictureLayout: no box lies on another or past the edge, no line runs behind a box
// or crosses another, and what has no room goes on on the next page.
func TestPictureLayout(t *testing.T) {
	apart := pictured()
	apart.Swaps = append(apart.Swaps, swap.SwapLine{Position: "skerry-620:tank/tank", Now: "Tarnholt 5"},
		swap.SwapLine{Position: "skerry-620:seat/seat"})
	for name, a := range map[string]swap.SwapAnswer{"small": pictured(), "big": many(90), "parts that meet nothing": apart,
		"one part": {Swaps: apart.Swaps[1:2]}, "nothing touched": {On: "skerry-620/2003/eu"}} {
		t.Run(name, func(t *testing.T) {
			s := newSketch(a, inAll(a), mostBoxes)
			pages := layOut(s, roomHigh())
			drawn := map[string]bool{}
			for _, page := range pages {
				checkPage(t, page)
				for _, b := range page.boxes {
					drawn[b.key] = true
				}
			}
			for i, b := range s.boxes {
				if !drawn[b.key] && (!b.part || b.changed || len(from(s, i)) > 0) {
					t.Errorf("%q is not drawn", b.head)
				}
			}
			if name == "big" && len(pages) < 2 {
				t.Error("all of it is on one page: the test says nothing")
			}
		})
	}
	if pageScale < legible {
		t.Errorf("a scale of %.2f is too small to read", pageScale)
	}
}

func checkPage(t *testing.T, page laidPage) {
	t.Helper()
	if page.high > roomHigh()+2*boxApart {
		t.Errorf("%d high, where %d are room", page.high, roomHigh())
	}
	for i, p := range page.boxes {
		if p.x < 0 || p.x+p.wide > lanesWide || p.y < 0 {
			t.Errorf("%q is past the edge", p.head)
		}
		for _, q := range page.boxes[:i] {
			if p.x < q.x+q.wide && q.x < p.x+p.wide && p.y < q.y+q.high && q.y < p.y+p.high {
				t.Errorf("%q lies on %q", p.head, q.head)
			}
		}
	}
	for i, a := range page.links {
		for _, b := range page.boxes {
			if meets(a, b.x+1, b.y+1, b.x+b.wide-1, b.y+b.high-1) {
				t.Errorf("a line runs behind %q", b.head)
			}
		}
		for _, c := range page.links[:i] {
			if crosses(a, c) || crosses(c, a) {
				t.Errorf("the lines %v and %v cross", a, c)
			}
		}
	}
}

// meets reports whether a level or upright line touches the inside of a rectangle.
func meets(link []point, x1, y1, x2, y2 int) bool {
	a, b := link[0], link[1]
	return min(a.x, b.x) <= x2 && max(a.x, b.x) >= x1 && min(a.y, b.y) <= y2 && max(a.y, b.y) >= y1
}

// crosses reports whether a level line runs through an upright one and on.
func crosses(level, upright []point) bool {
	a, b := level[0], level[1]
	c, d := upright[0], upright[1]
	return a.y == b.y && c.x == d.x && min(a.x, b.x) < c.x && max(a.x, b.x) > c.x && min(c.y, d.y) < a.y && max(c.y,
		d.y) > a.y
}

// TestPictureSides: left and right stand side by side, and what two changed parts have
// to do with stands once and names the other.
func TestPictureSides(t *testing.T) {
	a := pictured()
	a.Swaps = []swap.SwapLine{{Position: "skerry-620:fork/leg-left", Now: "Tarnholt 1"},
		{Position: "skerry-620:front-wheel/wheel", Now: "Tarnholt 2"},
		{Position: "skerry-620:fork/leg-right", Now: "Tarnholt 3"}}
	both := a.DoesNotMate[0]
	both.Ends = []examine.End{{Position: "skerry-620:fork/leg-left", Changed: true},
		{Position: "skerry-620:fork/leg-right", Changed: true}}
	a.DoesNotMate, a.Unknown, a.WithChanges, a.Mates, a.Get, a.Trails = []examine.Outcome{both}, nil, nil, nil, nil, nil
	boxes := layOut(newSketch(a, inAll(a), mostBoxes), roomHigh())[0].boxes
	at := map[string]placedBox{}
	for _, b := range boxes {
		at[b.head] = b
	}
	left, right := at["fork/leg-left"], at["fork/leg-right"]
	if left.y != right.y || left.x >= right.x {
		t.Errorf("the left leg is at %d,%d, the right one at %d,%d", left.x, left.y, right.x, right.y)
	}
	if text := strings.Join(at["does not fit"].lines, " "); !strings.Contains(text, "with fork/leg-right") {
		t.Errorf("what both legs have to do with says %q", text)
	}
}

// TestPictureCutsNothing: a long word and a long text stand there whole.
func TestPictureCutsNothing(t *testing.T) {
	a := pictured()
	long := strings.Repeat("abcdefghij", 9)
	a.DoesNotMate[0].Why = "first " + strings.Repeat("word ", 40) + long + " last"
	var said strings.Builder
	for _, b := range layOut(newSketch(a, inAll(a), mostBoxes), roomHigh())[0].boxes {
		said.WriteString(strings.Join(b.lines, ""))
	}
	for _, want := range []string{long, "last"} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("the picture cuts %q", want)
		}
	}
}
