package loader_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
)

// likeBase is what the tests of "like" build on: a pattern in two pieces, and a
// model.
const likeBase = `
source: list
sources: {list: {kind: factory parts list, title: List}, bench: {kind: measurement, title: Bench}}
brands: {Tarnholt: }
kinds:
  caliper: {features: {port: port, mount: caliper-mount}}
  hose: {features: {end: banjo, other: banjo, line: hose}}
  master: {features: {out: port}}
  leg: {features: {lug: caliper-mount, gap: gap, length: fork-length}}
  bolt: {features: {thread: male-thread}}
  wheel: {features: {row: row-width}}
  spacer: {features: {row: row-width}}
patterns:
  fork:
    assemblies:
      fork: {name: Fork, positions: {leg: {kind: leg, safety: steering}}}
      wheel: {positions: {wheel: {kind: wheel}, spacer: {kind: spacer}}}
    stacks: {axle: {within: fork/leg.gap, row: [wheel/wheel.row, wheel/spacer.row], centre: wheel/wheel.row}}
  disc:
    like: fork
    assemblies:
      brake:
        name: Front brake
        positions:
          master: {kind: master, safety: brake}
          hose: {kind: hose, safety: brake, after: [brake/caliper]}
          caliper: {kind: caliper, safety: brake, after: [fork/leg]}
          bolt: {kind: bolt, quantity: 2, safety: brake}
    joints:
      caliper-on-leg: {a: brake/caliper.mount, b: fork/leg.lug, bolts: [brake/bolt]}
      hose-on-caliper: {a: brake/hose.end, b: brake/caliper.port}
    runs: {hose: {line: brake/hose, from: brake/master.out, to: brake/caliper.port, lengthened-by: [fork/leg.length]}}
    circuits: {front: {carries: brake fluid, wheel: front, feeds: [brake/master], fed: [brake/caliper], members: [brake/hose]}}
models:
  old-one:
    maker: Tarnholt
    name: Old One
    variants: [{year: 1981, market: eu}, {year: 1982, market: eu}]
    like: disc
    assemblies: {brake: {positions: {bolt: {on: {years: 1981}}}}}
    joints: {hose-on-caliper: {torque: 20 N m}}
    runs: {hose: {needs: {centre-extended: 700 mm}}}
`

// loadTexts loads files of one layer; the first fault that is an error ends the
// test.
func loadTexts(t *testing.T, texts ...string) graph.Facts {
	t.Helper()
	files := fstest.MapFS{}
	for i, text := range texts {
		files[fmt.Sprintf("%d.yaml", i)] = &fstest.MapFile{Data: []byte(text)}
	}
	var probs diag.List
	facts, err := loader.Load(context.Background(), []loader.Layer{{FS: files}}, &probs)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range probs.Sorted() {
		if d.Severity == diag.Error {
			t.Fatal(d)
		}
	}
	return facts
}

// layoutOf says in lines what a model has, each with the variants that have it.
func layoutOf(f graph.Facts, model graph.ModelID) []string {
	var lines []string
	add := func(on []graph.VariantID, format string, args ...any) {
		var years []string
		for _, v := range on {
			years = append(years, strings.Split(string(v), "/")[1])
		}
		lines = append(lines, fmt.Sprintf(format, args...)+" on "+strings.Join(years, " "))
	}
	for _, p := range f.Positions {
		if p.Model == model {
			add(p.On, "%s %s %d %s after %v", p.ID.Local(), p.Kind, p.Quantity, p.Safety, p.After)
		}
	}
	for _, j := range f.Joints {
		if j.Model == model {
			add(j.On, "joint %s %s.%s %s.%s %d %s", local(j.ID), j.A.Position.Local(), j.A.Feature, j.B.Position.Local(),
				j.B.Feature, len(j.Fasteners), texts(j.Torque))
		}
	}
	for _, r := range f.Runs {
		if r.Model == model {
			need := ""
			for _, n := range r.Needs {
				need += n.Lock + "-" + n.Fork + " " + texts(n.Length)
			}
			add(r.On, "run %s %s %s", local(r.ID), r.Line.Local(), need)
		}
	}
	for _, c := range f.Circuits {
		if c.Model == model {
			add(c.On, "circuit %s %d", local(c.ID), len(c.Members))
		}
	}
	for _, s := range f.Stacks {
		if s.Model == model {
			add(s.On, "stack %s %d", local(s.ID), len(s.Row))
		}
	}
	return lines
}

// local is what stands behind the model in an identity.
func local[K ~string](id K) string {
	_, name, _ := strings.Cut(string(id), ":")
	return name
}

func texts(readings []graph.Reading) string {
	var list []string
	for _, r := range readings {
		list = append(list, r.Text+" by "+string(r.Source))
	}
	return strings.Join(list, ", ")
}

func TestLike(t *testing.T) {
	tests := []struct {
		name, model string
		want        []string // lines of the layout; all of them
	}{
		{"a pattern of patterns, and what is written overrides it", "old-one", []string{
			"brake/bolt bolt 2 brake after [] on 1981",
			"brake/caliper caliper 1 brake after [old-one:fork/leg] on 1981 1982",
			"brake/hose hose 1 brake after [old-one:brake/caliper] on 1981 1982",
			"brake/master master 1 brake after [] on 1981 1982",
			"fork/leg leg 1 steering after [] on 1981 1982",
			"wheel/spacer spacer 1  after [] on 1981 1982",
			"wheel/wheel wheel 1  after [] on 1981 1982",
			"joint caliper-on-leg brake/caliper.mount fork/leg.lug 1  on 1981 1982",
			"joint hose-on-caliper brake/hose.end brake/caliper.port 0 20 N m by list on 1981 1982",
			"run hose brake/hose centre-extended 700 mm by list on 1981 1982",
			"circuit front 3 on 1981 1982",
			"stack axle 2 on 1981 1982",
		}},
		{"a sister: its measures too, but for what holds in other years", "like: old-one", []string{
			"brake/caliper caliper 1 brake after [new-one:fork/leg] on 1990",
			"brake/hose hose 1 brake after [new-one:brake/caliper] on 1990",
			"brake/master master 1 brake after [] on 1990",
			"fork/leg leg 1 steering after [] on 1990",
			"wheel/spacer spacer 1  after [] on 1990",
			"wheel/wheel wheel 1  after [] on 1990",
			"joint caliper-on-leg brake/caliper.mount fork/leg.lug 0  on 1990",
			"joint hose-on-caliper brake/hose.end brake/caliper.port 0 20 N m by bench on 1990",
			"run hose brake/hose centre-extended 700 mm by bench on 1990",
			"circuit front 3 on 1990",
			"stack axle 2 on 1990",
		}},
		{"a variant of a sister: what holds on it holds here", "like: old-one/1981/eu", []string{
			"brake/bolt bolt 2 brake after [] on 1990",
			"brake/caliper caliper 1 brake after [new-one:fork/leg] on 1990",
			"brake/hose hose 1 brake after [new-one:brake/caliper] on 1990",
			"brake/master master 1 brake after [] on 1990",
			"fork/leg leg 1 steering after [] on 1990",
			"wheel/spacer spacer 1  after [] on 1990",
			"wheel/wheel wheel 1  after [] on 1990",
			"joint caliper-on-leg brake/caliper.mount fork/leg.lug 1  on 1990",
			"joint hose-on-caliper brake/hose.end brake/caliper.port 0 20 N m by bench on 1990",
			"run hose brake/hose centre-extended 700 mm by bench on 1990",
			"circuit front 3 on 1990",
			"stack axle 2 on 1990",
		}},
		{"without an assembly, a position of a row and a run", "like: disc\n    without: [brake/caliper, wheel/spacer, " +
			"brake/bolt]", []string{
			"brake/hose hose 1 brake after [] on 1990",
			"brake/master master 1 brake after [] on 1990",
			"fork/leg leg 1 steering after [] on 1990",
			"wheel/wheel wheel 1  after [] on 1990",
			"stack axle 1 on 1990",
		}},
		{"without a joint and a whole assembly", "like: disc\n    without: [caliper-on-leg, wheel, hose]", []string{
			"brake/bolt bolt 2 brake after [] on 1990",
			"brake/caliper caliper 1 brake after [new-one:fork/leg] on 1990",
			"brake/hose hose 1 brake after [new-one:brake/caliper] on 1990",
			"brake/master master 1 brake after [] on 1990",
			"fork/leg leg 1 steering after [] on 1990",
			"joint hose-on-caliper brake/hose.end brake/caliper.port 0  on 1990",
			"circuit front 3 on 1990",
		}},
		{"several, of which the last counts", "like: [fork, other]", []string{
			"fork/leg leg 2 steering after [] on 1990",
			"wheel/spacer spacer 1  after [] on 1990",
			"wheel/wheel wheel 1  after [] on 1990",
			"stack axle 1 on 1990",
		}},
	}
	const own = "source: bench\npatterns: {other: {assemblies: {fork: {positions: {leg: {quantity: 2}}}}, stacks: " +
		"{axle: {row: [wheel/wheel.row]}}}}\n" +
		"models:\n  new-one:\n    maker: Tarnholt\n    name: New One\n    variants: [{year: 1990, market: eu}]\n    "
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			model, files := graph.ModelID(tt.model), []string{likeBase}
			if strings.HasPrefix(tt.model, "like") {
				model, files = "new-one", append(files, own+tt.model+"\n")
			}
			got := layoutOf(loadTexts(t, files...), model)
			if !slices.Equal(got, tt.want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(tt.want, "\n"))
			}
		})
	}
}

// What is taken over stands where it says "like", on the word of that file.
func TestLikeIsSaidByTheModel(t *testing.T) {
	f := loadTexts(t, likeBase, "source: bench\nmodels: {new-one: {name: New One, variants: [{year: 1990, market: "+
		"eu}], like: old-one}}\n")
	i := slices.IndexFunc(f.Positions, func(p graph.Position) bool { return p.ID == "new-one:fork/leg" })
	want := []graph.Cite{{Source: "bench", Pos: diag.Pos{File: "1.yaml", Line: 2, Col: 79}}}
	if got := f.Positions[i].Said; !slices.Equal(got, want) {
		t.Errorf("said by %v, want %v", got, want)
	}
	k := slices.IndexFunc(f.Models, func(m graph.Model) bool { return m.ID == "new-one" })
	if got := f.Models[k].Maker; got != "Tarnholt" {
		t.Errorf("maker %q, want that of the sister", got)
	}
}

// A second file may add what was measured, without saying again where.
func TestLikeInSeveralFiles(t *testing.T) {
	f := loadTexts(t, likeBase, "source: bench\nmodels: {old-one: {runs: {hose: {needs: {centre-extended: 705 mm, "+
		"left-extended: 720 mm}}}, joints: {caliper-on-leg: {torque: 30 N m}}}}\n")
	want := []string{"joint caliper-on-leg brake/caliper.mount fork/leg.lug 1 30 N m by bench on 1981 1982",
		"run hose brake/hose left-extended 720 mm by benchcentre-extended 705 mm by bench, 700 mm by list on 1981 1982"}
	got := layoutOf(f, "old-one")
	for _, line := range want {
		if !slices.Contains(got, line) {
			t.Errorf("no line %q in\n%s", line, strings.Join(got, "\n"))
		}
	}
}

// A pattern of the user's own hides one of the program's.
func TestOwnPatternGoesFirst(t *testing.T) {
	f := loadTexts(t, likeBase, "patterns: {chain: {assemblies: {drive: {positions: {spring: {kind: "+
		"bolt}}}}}}\nsource: bench\n"+
		"models: {new-one: {maker: Tarnholt, name: New, variants: [{year: 1990, market: eu}], like: chain}}\n")
	if got := layoutOf(f, "new-one"); len(got) != 1 {
		t.Errorf("got %q", got)
	}
}
