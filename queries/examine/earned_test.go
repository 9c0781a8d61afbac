package examine_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/examine"
)

// A place earns "fits" by what was judged, by measuring the same, or by somebody's
// word, and by nothing else.
func TestPlaceEarnsItsVerdict(t *testing.T) {
	kind := graph.Kind{ID: "distance-tube", Features: []graph.KindFeature{
		{Name: "bore", Kind: "bore", Informs: []graph.Informing{{Dim: "length", Why: "only tells how far the hole goes"}}},
		{Name: "row", Kind: "row-width"}, {Name: "seat", Kind: "bearing-seat", May: true}}}
	part := func(id, bore, long, width string) graph.Part {
		p := graph.Part{ID: graph.PartID(id), Kind: kind.ID}
		dims := func(pairs ...string) map[string][]graph.Reading {
			all := map[string][]graph.Reading{}
			for i := 0; i < len(pairs); i += 2 {
				if pairs[i+1] != "" {
					all[pairs[i]] = []graph.Reading{{Text: pairs[i+1]}}
				}
			}
			return all
		}
		p.Features = []graph.Feature{{Name: "bore", Kind: "bore", Dims: dims("diameter", bore, "length", long)}}
		if width != "none" {
			p.Features = append(p.Features, graph.Feature{Name: "row", Kind: "row-width", Dims: dims("width", width)})
		}
		return p
	}
	old := part("Tarnholt 1", "17 mm", "40 mm", "40 mm")
	tests := []struct {
		name    string
		new     graph.Part
		old     graph.Part
		judged  string // features and dimensions that a check used
		joined  string // features that a joint of the machine names
		checked bool
		word    examine.Earned
		other   bool // called for the other side
		across  bool // built on the other side
		kind    bool // of another kind
		earned  examine.Earned
		left    string // what decides and was not judged
		differs string
	}{
		{name: "the same under another number", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"), old: old,
			earned: examine.EarnedSame},
		{name: "the same in another unit", new: part("Tarnholt 2", "1.7 cm", "40 mm", "40 mm"), old: old,
			earned: examine.EarnedSame},
		{name: "another width that nothing judged", new: part("Tarnholt 2", "17 mm", "40 mm", "41 mm"), old: old,
			left: "row.width"},
		{name: "another width that a check judged", new: part("Tarnholt 2", "17 mm", "40 mm", "41 mm"), old: old,
			judged: "row.width", checked: true,
			earned: examine.EarnedJudged, differs: "row.width"},
		{name: "another width that only a figure tells", new: part("Tarnholt 2", "17 mm", "40 mm", "41 mm"), old: old,
			judged: "row.width", left: ".",
			differs: "row.width"},
		{name: "a width that nobody recorded", new: part("Tarnholt 2", "17 mm", "40 mm", ""), old: old, left: "row.width"},
		{name: "a width that nobody recorded on either", new: part("Tarnholt 2", "17 mm", "40 mm", ""),
			old: part("Tarnholt 1", "17 mm", "40 mm", ""), left: "row.width"},
		{name: "a feature that nobody recorded", new: part("Tarnholt 2", "17 mm", "40 mm", "none"), old: old, left: "row."},
		{name: "what a joint names, and nobody recorded on either", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"),
			old: old, joined: "seat", left: "seat.diameter seat.depth seat.form"},
		{name: "what a joint names, judged with the other side", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"),
			old: old, joined: "seat", judged: "seat.diameter seat.depth seat.form", checked: true, earned: examine.EarnedJudged},
		{name: "what does not decide", new: part("Tarnholt 2", "17 mm", "50 mm", "40 mm"), old: old,
			earned: examine.EarnedSame},
		{name: "nothing to compare with", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"),
			left: "bore.diameter row.width"},
		{name: "listed, and another width", new: part("Tarnholt 2", "17 mm", "40 mm", "41 mm"), old: old,
			word:   examine.EarnedListed,
			earned: examine.EarnedListed},
		{name: "listed, and nothing recorded", new: graph.Part{ID: "Tarnholt 2"}, word: examine.EarnedListed,
			earned: examine.EarnedListed},
		{name: "the same, called for the other side", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"), old: old,
			other: true, left: "."},
		{name: "listed, called for the other side", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"), old: old,
			other: true, word: examine.EarnedListed, earned: examine.EarnedSame},
		{name: "the same, built on the other side", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"), old: old,
			across: true, left: "."},
		{name: "built on the other side, and what differs was judged", new: part("Tarnholt 2", "17 mm", "40 mm", "41 mm"),
			old: old, across: true, judged: "row.width", checked: true, earned: examine.EarnedJudged, differs: "row.width"},
		{name: "the same, and of another kind", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"), old: old, kind: true,
			left: "."},
		{name: "listed, and of another kind", new: part("Tarnholt 2", "17 mm", "40 mm", "40 mm"), old: old, kind: true,
			word: examine.EarnedListed, earned: examine.EarnedSame},
		{name: "nothing known at all", new: graph.Part{ID: "Tarnholt 2"}, left: "."},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			k := kind
			if test.new.Kind == "" {
				k = graph.Kind{}
			}
			p := examine.Place{New: test.new, Old: test.old, Kind: k, Checked: test.checked, Joined: strings.Fields(test.joined),
				Word: test.word, WordOf: "a list",
				Same: evidence.SameReading, OtherSide: test.other, Across: test.across, OtherKind: test.kind,
				JudgedBy: func(feature, dim string) []string {
					if slices.Contains(strings.Fields(test.judged), feature+"."+dim) {
						return []string{"joint tube-in-hub: fits"}
					}
					return nil
				}}
			earned, differs, left := p.Judge()
			var open, other []string
			for _, n := range left {
				if n.Decides {
					open = append(open, n.Feature+"."+n.Dim)
					if n.WhoCanTell == "" || n.Why == "" {
						t.Errorf("%s.%s: nobody is named who can tell, or no reason: %+v", n.Feature, n.Dim, n)
					}
				}
			}
			for _, d := range differs {
				other = append(other, d.Feature+"."+d.Dim)
			}
			if earned != test.earned || strings.Join(open, " ") != test.left || strings.Join(other, " ") != test.differs {
				t.Errorf("earned %q, left %q, differs %q; want %q, %q, %q", earned, open, other, test.earned, test.left,
					test.differs)
			}
		})
	}
}

// What came over from one machine together is joined as it was there; how many links its
// chain has, and how long its rods are, must suit the distances of this one.
func TestSpansAreNotAsBuiltElsewhere(t *testing.T) {
	part := func(id, kind, dim, text string) graph.Part {
		return graph.Part{ID: graph.PartID(id), Features: []graph.Feature{{Name: "own", Kind: kind,
			Dims: map[string][]graph.Reading{dim: {{Text: text}}}}}}
	}
	for _, tt := range []struct {
		kind, dim, was, now string
		open                bool
	}{
		{"chain", "links", "108", "112", true},
		{"chain", "inner-width", "6.35 mm", "9.53 mm", false},
		{"brake-rod", "length", "400 mm", "430 mm", true},
		{"brake-rod", "pivot", "6 mm", "8 mm", false},
		{"link-rod", "length", "150 mm", "180 mm", true},
		{"rod-end", "reach", "30 mm", "40 mm", true},
		{"rod-end", "depth", "15 mm", "18 mm", false},
	} {
		p := examine.Place{New: part("Tarnholt 2", tt.kind, tt.dim, tt.now), Old: part("Tarnholt 1", tt.kind, tt.dim, tt.was),
			Same: evidence.SameReading, JudgedBy: func(_, _ string) []string { return nil },
			AsBuiltOn: func(string) graph.VariantID { return "fjeld-750/2004/eu" },
			PairedOn:  func(string) graph.VariantID { return "" }}
		_, _, left := p.Judge()
		i := slices.IndexFunc(left, func(n examine.NotJudged) bool { return n.Dim == tt.dim })
		if i < 0 || left[i].Decides != tt.open || strings.Contains(left[i].Why, "as built on") == tt.open {
			t.Errorf("%s of %s: %+v, want open %v", tt.dim, tt.kind, left, tt.open)
		}
	}
}
