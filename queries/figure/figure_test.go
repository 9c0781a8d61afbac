package figure_test

import (
	"math"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/figure"
	"matewell/queries/mating"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

func figuresOf(t *testing.T, on string, swaps ...swap.Replacement) figure.Figures {
	t.Helper()
	r := readertest.New(demotest.Facts(t))
	q := swap.SwapQuestion{On: on, Swaps: swaps}
	a, err := swap.Swap(t.Context(), r, q)
	if err != nil {
		t.Fatal(err)
	}
	f, err := figure.ForSwap(t.Context(), r, q, a)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func near(a, b float64) bool { return math.Abs(a-b) < 0.01 }

// The points of a panel of other years lie over those of the frame as the data has
// them: two meet, one is 15 mm further back and 8 mm higher, one has nothing opposite;
// all of the old panel's meet.
func TestPanel(t *testing.T) {
	f := figuresOf(t, "skerry-620/2002/eu", swap.Replacement{Position: "bodywork/side-panel-left",
		Part: "Tarnholt 302.4026/sl"})
	if len(f.Panels) != 1 {
		t.Fatalf("%d panels, want 1", len(f.Panels))
	}
	p := f.Panels[0]
	met, off, alone := 0, 0, 0
	for i, j := range p.New.Of {
		switch {
		case j < 0:
			alone++
		case p.New.Off[i] != "":
			off++
			a, b := p.New.A[i], p.New.B[j]
			if x, y := a.X-p.New.Dx-b.X, a.Y-p.New.Dy-b.Y; !near(x, -15) || !near(y, 8) {
				t.Errorf("%s is %.1f,%.1f off, want -15,8", a.Place, x, y)
			}
		default:
			met++
		}
	}
	if met != 2 || off != 1 || alone != 1 {
		t.Errorf("%d meet, %d are off, %d have nothing opposite; want 2, 1, 1", met, off, alone)
	}
	for i, j := range p.Old.Of {
		if j < 0 || p.Old.Off[i] != "" {
			t.Errorf("the old panel's %s does not meet", p.Old.A[i].Place)
		}
	}
	if p.New.Right != "further forward" || p.New.Up != "higher" {
		t.Errorf("seen %q to the right and %q up", p.New.Right, p.New.Up)
	}
}

// Longer legs move the ends of lines further apart, at most by what they are longer: 752 mm
// against 738 mm. None comes nearer.
func TestLine(t *testing.T) {
	f := figuresOf(t, "skerry-620/2002/eu", swap.Replacement{Position: "fork/leg-left", Part: "Tarnholt 203.4009"})
	for _, l := range f.Lines {
		if l.At.Local() != "front-brake/hose-left" {
			continue
		}
		for _, n := range l.Now.Needs {
			if !near(n.High-n.Built, 14) || !near(n.Built, n.Low) {
				t.Errorf("%s-%s: %.1f, from %.1f to %.1f", n.Lock, n.Fork, n.Built, n.Low, n.High)
			}
		}
		for i, n := range l.Was.Needs {
			if n.High != n.Built || n.Built != l.Now.Needs[i].Built {
				t.Errorf("before, %s-%s is %.1f to %.1f", n.Lock, n.Fork, n.Low, n.High)
			}
		}
		return
	}
	t.Fatal("the hose is not drawn")
}

// Wider legs leave the row of the wheel short.
func TestRow(t *testing.T) {
	f := figuresOf(t, "skerry-620/2002/eu", swap.Replacement{Position: "fork/leg-left", Part: "Tarnholt 203.4009"})
	for _, row := range f.Rows {
		if row.Stack != "skerry-620:front-axle" {
			continue
		}
		sum := func(row []mating.RowWidth) (s float64) {
			for _, w := range row {
				s += w.Width
			}
			return s
		}
		if !mating.RowFills(sum(row.Was), row.WasGap) || mating.RowFills(sum(row.Now), row.NowGap) ||
			!near(row.NowGap-row.WasGap, 6) {
			t.Errorf("before %.1f in %.1f, after %.1f in %.1f", sum(row.Was), row.WasGap, sum(row.Now), row.NowGap)
		}
		return
	}
	t.Fatal("the row is not drawn")
}

// What nobody measured is not drawn: a part without points gives no panel.
func TestNothingToDraw(t *testing.T) {
	f := figuresOf(t, "skerry-620/2003/eu/late", swap.Replacement{Position: "electrics/regulator",
		Part: "Tarnholt 401.4015"})
	if !f.IsEmpty() {
		t.Errorf("%d panels, %d lines, %d rows", len(f.Panels), len(f.Lines), len(f.Rows))
	}
	if _, ok := mating.OverlayOf(mating.Side{Feature: graph.Feature{Kind: "points"}}, mating.Side{}); ok {
		t.Error("points that nobody recorded are laid over one another")
	}
}

// Each point of a panel says what it has, what is opposite, and what holds it: a bolt
// of the thread there, the grommets of its side; nothing where there is nothing
// opposite. A mudguard takes the collars of the side that its bolts are on.
func TestPointByPoint(t *testing.T) {
	f := figuresOf(t, "skerry-620/2002/eu", swap.Replacement{Position: "bodywork/side-panel-left",
		Part: "Tarnholt 302.4026/sl"}, swap.Replacement{Position: "bodywork/front-mudguard", Part: "Tarnholt 302.4011/sl"})
	want := map[string]struct {
		meets string
		off   bool
		takes []string
	}{
		"bodywork/side-panel-left front": {"M6x1 insert", false, []string{"bodywork/side-panel-bolt-left"}},
		"bodywork/side-panel-left upper": {"8 mm grommet", false, []string{"bodywork/side-panel-grommet-left"}},
		"bodywork/side-panel-left lower": {"8 mm grommet", true, []string{"bodywork/side-panel-grommet-left"}},
		"bodywork/side-panel-left rear":  {"", false, nil},
		"bodywork/front-mudguard mount-left": {"holes", false,
			[]string{"bodywork/front-mudguard-bolt-left", "bodywork/front-mudguard-collar-left"}},
		"bodywork/front-mudguard mount-right": {"holes", false,
			[]string{"bodywork/front-mudguard-bolt-right", "bodywork/front-mudguard-collar-right"}},
	}
	for _, p := range f.Points {
		w, known := want[p.At.Local()+" "+p.Point]
		if !known {
			t.Errorf("a point %s of %s", p.Point, p.At)
			continue
		}
		delete(want, p.At.Local()+" "+p.Point)
		var takes []string
		for _, piece := range p.Takes {
			takes = append(takes, piece.Position.Local())
		}
		if p.Meets != w.meets || (p.Off != "") != w.off || !slices.Equal(takes, w.takes) {
			t.Errorf("%s of %s: meets %q, off %q, takes %v", p.Point, p.At, p.Meets, p.Off, takes)
		}
	}
	for name := range want {
		t.Errorf("no point %s", name)
	}
}

// The wheel of other years between the legs: with its spacers as they are the row is too
// wide, and with those that the answer orders it fills the gap.
func TestRowWithAllThatIsToGet(t *testing.T) {
	f := figuresOf(t, "skerry-620/2003/eu/late", swap.Replacement{Position: "front-wheel/wheel",
		Part: "Tarnholt 205.4003/si"})
	at := slices.IndexFunc(f.Rows, func(r figure.Row) bool { return r.Stack == "skerry-620:front-axle-late" })
	if at < 0 {
		t.Fatal("the row along the axle is not drawn")
	}
	row := f.Rows[at]
	total := func(all []mating.RowWidth) (sum float64) {
		for _, w := range all {
			sum += w.Width
		}
		return sum
	}
	if mating.RowFills(total(row.Now), row.NowGap) || len(row.Then) == 0 ||
		!mating.RowFills(total(row.Then), row.ThenGap) {
		t.Errorf("row %v in %.1f mm, then %v in %.1f mm", row.Now, row.NowGap, row.Then, row.ThenGap)
	}
	plain := figuresOf(t, "skerry-620/2003/eu/late", swap.Replacement{Position: "front-wheel/spacer-left",
		Part: "Tarnholt 205.4025"})
	for _, row := range plain.Rows {
		if len(row.Then) > 0 {
			t.Errorf("%s: another row is told of where nothing is to be got: %v, then %v", row.Stack, row.Now, row.Then)
		}
	}
}
