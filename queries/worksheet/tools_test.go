package worksheet

import (
	"strings"
	"testing"

	"matewell/graph"
	"matewell/testdata/published"
)

// A socket head takes the key that ISO 4762 gives its thread.
func TestHexKeyAsPublished(t *testing.T) {
	checked := 0
	for _, row := range published.Rows(t, "across_flats.csv") {
		if row["standard"] != "ISO 4762 socket key" {
			continue
		}
		checked++
		if got, want := hexKey("socket cap", row["thread"]), row["mm"]+" mm"; got != want {
			t.Errorf("key for %s is %q, want %q", row["thread"], got, want)
		}
	}
	if checked == 0 {
		t.Fatal("no row in the table")
	}
}

// The tool is that of the form of the head, by what is recorded of it; without a size
// it is named and not guessed at.
func TestToolFor(t *testing.T) {
	bolt := func(kind string, dims map[string]string) graph.Part {
		f := graph.Feature{Name: "thread", Kind: kind, Dims: map[string][]graph.Reading{}}
		for name, text := range dims {
			f.Dims[name] = []graph.Reading{{Text: text}}
		}
		return graph.Part{Features: []graph.Feature{f}}
	}
	tests := []struct {
		name string
		part graph.Part
		want string
	}{
		{"hexagon", bolt("male-thread", map[string]string{"thread": "M8x1.25", "head": "hexagon flange",
			"across-flats": "10 mm"}), "spanner or socket 10 mm"},
		{"socket cap", bolt("male-thread", map[string]string{"thread": "M6x1", "head": "socket cap"}), "hexagon key 5 mm"},
		{"socket cap with its size", bolt("male-thread", map[string]string{"thread": "M6x1", "head": "socket cap",
			"across-flats": "4 mm"}), "hexagon key 4 mm"},
		{"button", bolt("male-thread", map[string]string{"thread": "M6x1", "head": "button"}), "hexagon key 4 mm"},
		{"countersunk, size unknown", bolt("male-thread", map[string]string{"thread": "M6x1", "head": "countersunk socket"}),
			"hexagon key for M6 countersunk socket"},
		{"cross-head", bolt("male-thread", map[string]string{"thread": "M4x0.7", "head": "cross-head"}),
			"cross-head screwdriver for M4"},
		{"nut", bolt("female-thread", map[string]string{"thread": "M10x1.25", "across-flats": "14 mm"}),
			"spanner or socket 14 mm"},
		{"tapped hole", bolt("female-thread", map[string]string{"thread": "M10x1.25"}), ""},
		{"hexagon, size unknown", bolt("male-thread", map[string]string{"thread": "M8x1.25", "head": "hexagon"}), ""},
		{"no fastener", graph.Part{}, ""},
	}
	for _, tt := range tests {
		if got := toolFor(tt.part); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// The wrench must reach from the least torque to the greatest; without a torque none
// is named.
func TestTorqueWrench(t *testing.T) {
	joint := func(torque string) Joint { return Joint{Torque: torque} }
	for want, joints := range map[string][]Joint{
		"":                                {joint(""), joint("see the manual")},
		"torque wrench for 20 N m":        {joint("20 N m"), joint("")},
		"torque wrench for 5.9 to 35 N m": {joint("5.9-7.8 N m"), joint("35 N m")},
	} {
		got := torqueWrench(joints)
		if strings.ReplaceAll(got, " N m to", " to") != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What proves a variant is its frame number, and where it does not, that is said.
func TestProof(t *testing.T) {
	v := graph.Variant{ID: "m/2003/eu"}
	v.Frames.Prefix, v.Frames.From, v.Frames.To, v.Frames.Width = "TK6A-", 10601, 12480, 6
	tests := []struct{ frame, want string }{
		{"TK6A-011377", "lies within TK6A-010601 to TK6A-012480"},
		{"TK6A-012481", "does NOT lie within"},
		{"", "not proved yet"},
	}
	for _, tt := range tests {
		if got := strings.Join(Proof(v, tt.frame), " "); !strings.Contains(got, tt.want) {
			t.Errorf("frame %q: %q, want %q in it", tt.frame, got, tt.want)
		}
	}
	got := strings.Join(anyOf([]graph.Variant{v, {ID: "m/2003/uk"}}), " ")
	if !strings.Contains(got, "m/2003/eu (TK6A-010601 to TK6A-012480); m/2003/uk.") {
		t.Errorf("two variants: %q", got)
	}
	got = strings.Join(Proof(graph.Variant{ID: "m/2003/eu"}, "TK6A-011377"), " ")
	if !strings.Contains(got, "proves nothing yet") {
		t.Errorf("without recorded numbers: %q", got)
	}
}
