package mating

import (
	"math"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/testdata/published"
)

// Source: ISO 15, ISO 355; testdata/published/bearings.csv and
// bearings_thin_and_heavy.csv.
func TestBearingsArePublished(t *testing.T) {
	rows := append(published.Rows(t, "bearings.csv"), published.Rows(t, "bearings_thin_and_heavy.csv")...)
	for _, row := range rows {
		name := row["designation"]
		t.Run(strings.ReplaceAll(name, "/", "-"), func(t *testing.T) {
			b, ok := measure.DesignatedBearing(name)
			if !ok || b.FromMemory {
				t.Fatalf("%s is not in the table as confirmed", name)
			}
			d, outside, w := published.Number(t, row["d"]), published.Number(t, row["D"]), published.Number(t, row["B_or_T"])
			if b.Inside != d || b.Outside != outside || b.Width != w {
				t.Errorf("got %g x %g x %g, want %g x %g x %g", b.Inside, b.Outside, b.Width, d, outside, w)
			}
		})
	}
}

// Source: ISO 15 and ISO 355; the suffixes are makers' practice.
func TestDesignationsAreRead(t *testing.T) {
	tests := []struct {
		name, text, want string
	}{
		{"plain", "6204", "6204"},
		{"seals and clearance", "6204-2RS C3", "6204"},
		{"shields", "6302 ZZ", "6302"},
		{"slash", "320/28X", "320/28X"},
		{"taper without its X", "32005", "32005X"},
		{"taper with a blank", "32005 X/Q", "32005X"},
		{"ball with a slash", "62/28", "62/28"},
		{"no such bearing", "6299", ""},
		{"not a number", "needle", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got, _ := measure.DesignatedBearing(tt.text); got.Designation != tt.want {
				t.Errorf("DesignatedBearing(%q) = %q, want %q", tt.text, got.Designation, tt.want)
			}
		})
	}
}

// No two rows may say the same number or be impossible, and the bore must be
// what the number says. Source: the numbering of ISO 15 and ISO 355 designations
// (00 10 mm, 01 12, 02 15, 03 17, from 04 five times; behind a slash the bore).
func TestBearingTableIsSound(t *testing.T) {
	seen := map[string]bool{}
	for b := range measure.Bearings() {
		if seen[b.Designation] {
			t.Errorf("%s twice", b.Designation)
		}
		seen[b.Designation] = true
		if b.Inside <= 0 || b.Outside <= b.Inside || b.Width <= 0 || b.Width > b.Outside {
			t.Errorf("%s is impossible: %+v", b.Designation, b)
		}
		digits := strings.TrimSuffix(b.Designation, "X")
		code := published.Number(t, digits[len(digits)-2:])
		want := map[float64]float64{0: 10, 1: 12, 2: 15, 3: 17}[code]
		switch {
		case strings.Contains(digits, "/"):
			want = code
		case code >= 4:
			want = 5 * code
		}
		if b.Inside != want {
			t.Errorf("%s has bore %g, its number says %g", b.Designation, b.Inside, want)
		}
	}
}

// Source: ISO 15 and arithmetic: a hub for 6004 (20x42x12) takes a 15 mm axle
// with 6302 (15x42x13).
func TestBridgePair(t *testing.T) {
	got, ok := findBearing(15, 42, 12, "ball")
	if !ok || got.Designation != "6302" || got.Width-12 != 1 {
		t.Errorf("got %+v, want 6302, 1 mm wider than 12", got)
	}
	if _, ok := findBearing(25, 47, 0, "needle"); ok {
		t.Error("a needle bearing was bridged by a ball or taper one")
	}
	if got, _ := findBearing(25, 47, 15, "taper"); got.Designation != "32005X" {
		t.Errorf("25 x 47 taper is %q, want 32005X: 6005 has the size and is the wrong kind", got.Designation)
	}
}

// Sources: fastener_dims.csv (DIN 934, ISO 4161, ISO 4162, EN 1665) and hex_jis.csv (JIS B 1181 annex).
func TestMoreSpannersArePublished(t *testing.T) {
	forms := map[string][]string{"DIN 934 nut": {"hexagon", "old hexagon"}, "ISO 4161 flange nut": {"flange nut"},
		"ISO 4162 flange bolt": {"small flange"}, "EN 1665 flange bolt": {"heavy flange"}, "normal": {"hexagon",
			"old hexagon"}, "small": {"small hexagon"}}
	compared := 0
	compare := func(standard, thread, size string) {
		compared++
		for _, s := range spanners(published.Number(t, strings.TrimPrefix(thread, "M"))) {
			if slices.Contains(forms[standard], s.Form) && s.Size == published.Number(t, size) {
				return
			}
		}
		t.Errorf("%s %s: no %s mm", standard, thread, size)
	}
	for _, row := range published.Rows(t, "fastener_dims.csv") {
		if row["dimension"] == "across flats" {
			compare(row["standard"], row["thread"], row["value"])
		}
	}
	for _, row := range published.Rows(t, "hex_jis.csv") {
		compare("normal", row["thread"], row["normal"])
		compare("small", row["thread"], row["small"])
	}
	if compared < 14 {
		t.Errorf("only %d sizes compared", compared)
	}
}

// Source: circlips.csv, DIN 471 and DIN 472.
func TestCirclipsArePublished(t *testing.T) {
	for _, row := range published.Rows(t, "circlips.csv") {
		on := strings.Fields(row["standard"])[2]
		std, ok := circlipFor(on, published.Number(t, row["nominal"]))
		thickness, groove := std.thickness, std.groove
		if !ok || thickness != published.Number(t, row["ring_thickness"]) || groove != published.Number(t,
			row["groove_dia"]) {
			t.Errorf("%s %s: %g in %g, want %s in %s", row["standard"], row["nominal"], thickness, groove,
				row["ring_thickness"], row["groove_dia"])
		}
	}
}

// Source: testdata/published/across_flats.csv.
func TestSpannersArePublished(t *testing.T) {
	for _, row := range published.Rows(t, "across_flats.csv") {
		t.Run(row["standard"]+" "+row["thread"], func(t *testing.T) {
			d, size := published.Number(t, strings.TrimPrefix(row["thread"], "M")), published.Number(t, row["mm"])
			for _, s := range spanners(d) {
				if s.Size == size {
					return
				}
			}
			t.Errorf("%s has no %g mm among %v", row["thread"], size, spanners(d))
		})
	}
}

// Source: ISO 724, ISO 261; testdata/published/threads.csv.
func TestMinorDiametersArePublished(t *testing.T) {
	for _, row := range published.Rows(t, "threads.csv") {
		size := measureThread(t, "M"+row["d"]+"x"+row["P"])
		// The table is rounded to 0.001 mm.
		if got, want := minor(size), published.Number(t, row["D1"]); math.Abs(got-want) > 0.00051 {
			t.Errorf("minor of %s is %.4f, want %.3f", size, got, want)
		}
	}
}

// Source: Christofides, Graph Theory (1975), 8x8, optimum 76, and small cases
// of two scientific libraries' own tests; testdata/published/assignment.json.
func TestAssignFindsPublishedOptima(t *testing.T) {
	for name, tt := range published.Assignments(t) {
		t.Run(name, func(t *testing.T) {
			total, taken := 0.0, map[int]bool{}
			for i, j := range Assign(tt.Cost) {
				if j < 0 {
					continue
				}
				if taken[j] {
					t.Fatalf("column %d is taken twice", j)
				}
				taken[j] = true
				total += tt.Cost[i][j]
			}
			if len(taken) != min(len(tt.Cost), len(tt.Cost[0])) || total != tt.Opt {
				t.Errorf("%d pairs cost %g, want %g", len(taken), total, tt.Opt)
			}
		})
	}
}

// Source: the length formula of the chain handbooks,
// testdata/published/chain_length.csv.
func TestAxlePositionsArePublished(t *testing.T) {
	for _, row := range published.Rows(t, "chain_length.csv") {
		at := published.Number(t, row["C_at_even_mm"])
		// The axle must lie within adjusters 0.1 mm around the published
		// centre distance, and not within 0.1 mm beside them.
		for _, tt := range []struct {
			low, high float64
			want      graph.Verdict
		}{{at - 0.05, at + 0.05, graph.Fits}, {at + 0.05, at + 0.15, graph.DoesNotFit}} {
			got := JudgeChain(ChainCase{NoLine: true,
				Chain: made("chain", "pitch", row["pitch"]+" mm", "links", row["links_even_up"]),
				Front: made("sprocket", "teeth", row["z1"]), Rear: made("sprocket", "teeth", row["z2"]),
				Centre: []graph.Reading{{Text: mmRange(tt.low, tt.high)}}})
			if got[0].Verdict != tt.want {
				t.Errorf("%s/%s, %g to %g mm: %s (%s), want %s", row["z1"], row["z2"], tt.low, tt.high, got[0].Verdict, got[0].Why,
					tt.want)
			}
		}
	}
}

// A chain runs on the sprocket made for it, its teeth 0.93 of the inner width
// (ISO 606), and on no other of the table. Source: ISO 10190, ISO 606;
// testdata/published/chain_sizes.csv.
func TestChainSizesArePublished(t *testing.T) {
	rows := published.Rows(t, "chain_sizes.csv")
	for _, chain := range rows {
		for _, sprocket := range rows {
			t.Run(chain["designation"]+" on "+sprocket["designation"], func(t *testing.T) {
				narrow, _, _ := strings.Cut(sprocket["inner_width"], "-")
				m := Meeting{
					A: made("chain", "pitch", chain["pitch"]+" mm", "roller", chain["roller"]+" mm", "inner-width",
						chain["inner_width"]+" mm", "links", "110"),
					B: made("sprocket", "pitch", sprocket["pitch"]+" mm", "roller", sprocket["roller"]+" mm", "teeth", "15",
						"width", mm(published.Number(t, narrow)*0.93)),
				}
				want := no
				if chain["designation"] == sprocket["designation"] {
					want = yes
				}
				if c := the(t, Judge(m), "chain on sprocket"); c.Verdict != want {
					t.Errorf("%s (%s), want %s", c.Verdict, c.Why, want)
				}
			})
		}
	}
}

// Two parts that allow one fluid each share none: what mixes is asked about, and
// what never mixes is a no that says so by name. Source: 49 CFR 571.116; testdata/published/fluid_mixing.csv.
func TestFluidMixingIsPublished(t *testing.T) {
	for _, row := range published.Rows(t, "fluid_mixing.csv") {
		t.Run(row["one"]+" with "+row["other"], func(t *testing.T) {
			m := Meeting{A: made("fluid", "allows", row["one"]), B: made("fluid", "allows", row["other"])}
			c := Judge(m)[0]
			want := open
			if row["meet"] == "no" {
				want = no
			}
			if warned := contains(c.Why, "never mix") || contains(c.Why, "mixes with no other"); c.Verdict != want ||
				warned != (row["meet"] == "no") {
				t.Errorf("%s (%s), want %s, and a warning: %v", c.Verdict, c.Why, want, row["meet"] == "no")
			}
		})
	}
}
