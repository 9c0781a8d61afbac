package loader_test

import (
	"fmt"
	"maps"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph/diag"
	"matewell/graph/sampletest"
	"matewell/loader"
)

// A file that can't be read as YAML does not bring faults about the names it
// would have defined.
func TestNoFaultsThatFollow(t *testing.T) {
	files := overlay(t, filepath.Join(fixtures, "common"))
	for _, name := range []string{"kinds.yaml", "sources.yaml", "models/skerry-620.yaml", "parts/brakes.yaml"} {
		t.Run(name, func(t *testing.T) {
			broken := fstest.MapFS{}
			for n, f := range files {
				broken[n] = f
			}
			broken[name] = &fstest.MapFile{Data: append([]byte("a: b: c\n"), files[name].Data...)}
			_, probs := load(t, "", broken)
			if got, want := codesOf(probs), name+":1:5 bad-yaml"; got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// One slip does not bring faults about rows that are right: neither a file that
// can't be read, nor a variant of which the year can't, for then nobody knows
// which rows speak of the same machines.
func TestNoFaultsThatFollowInDemo(t *testing.T) {
	if testing.Short() {
		t.Skip("the same reading again, of more")
	}
	tests := []struct {
		name, file, old, new, want string
	}{
		{"broken parts file", "parts/drosskell.yaml", "parts:", "parts: [", "bad-yaml"},
		{"year that can't be read", "models/skerry-620/variants.yaml", "year: 2004", "year: 20004", "bad-year"},
		{"year left out", "models/skerry-620/variants.yaml", "year: 2004, ", "", "missing-key"},
		{"market misspelt as no name", "models/skerry-620/variants.yaml", "market: uk", "market: U K", "bad-name"},
	}
	for _, tt := range tests[:sampletest.Of(t, 2, len(tests))] {
		t.Run(tt.name, func(t *testing.T) {
			files := overlay(t, filepath.Join("..", "data-demo"))
			body := string(files[tt.file].Data)
			if !strings.Contains(body, tt.old) {
				t.Fatalf("%s has no %q", tt.file, tt.old)
			}
			files[tt.file] = &fstest.MapFile{Data: []byte(strings.Replace(body, tt.old, tt.new, 1))}
			_, probs := load(t, "", files, loader.Standard())
			var codes []string
			for _, d := range probs.Sorted() {
				if d.Severity == diag.Error {
					codes = append(codes, d.Code)
				}
			}
			if got := strings.Join(codes, " "); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

// A variant that can't be read hides no fault that stands whatever it is.
func TestFaultsBesideUnreadVariant(t *testing.T) {
	const data = `source: list
sources: {list: {kind: factory parts list, title: List}}
brands: {Tarnholt: }
kinds: {caliper: }
models:
  holm-400:
    maker: Tarnholt
    name: Holm 400
    variants:
      - {year: 2001, market: eu, schemes: ash}
      - {year: 20004, market: eu}
    assemblies: {brake: {positions: {caliper: {kind: caliper}}}}
parts: [{number: Tarnholt 1, kind: caliper}]
bikes:
  mine: {variant: holm-400/2001/us, found: {brake/clipper: Tarnholt 1, brake/caliper: Tarnholt 2}}
`
	tests := []struct {
		name, row, want string
	}{
		{"year long before", "1995,,,", "outside-years"},
		{"year that may be meant", "2004,,,", ""},
		{"market", ",us,,", "unknown-market"},
		{"mark", ",,late,", "unknown-mark"},
		{"scheme", ",,,rust", "unknown-scheme"},
		{"good", "2001,eu,,ash", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, probs := load(t, "", fstest.MapFS{"a.yaml": {Data: []byte(data)}, "fitments.csv": {Data: []byte(
				"model,position,part,years,markets,marks,scheme,source\nholm-400,brake/caliper,Tarnholt 1," + tt.row + ",list\n")}})
			want := "a.yaml:11:16 bad-year a.yaml:15:19 unknown-variant a.yaml:15:45 unknown-position a.yaml:15:87 unknown-part"
			var got []string
			for _, d := range probs.Sorted() {
				if d.Pos.File == "fitments.csv" {
					want += " " + d.Pos.String() + " " + tt.want
				}
				got = append(got, d.Pos.String()+" "+d.Code)
			}
			if strings.Join(got, " ") != want || len(got) != 4+min(1, len(tt.want)) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, " "), want)
			}
		})
	}
}

// A list that can't be read to its end hides what its rows may have said, not
// the names that other files get wrong.
func TestFaultsBesideCutList(t *testing.T) {
	files := overlay(t, filepath.Join(fixtures, "common"))
	files["bad.yaml"] = &fstest.MapFile{Data: []byte("source: parts-list\nparts: [{number: Tarnholt 300.0009, kind: " +
		"calliper}]\n" +
		"models: {skerry-620: {joints: {j: {a: front-brake/hose.other, b: front-brake/caliper-left.port}}}}\n")}
	tests := []struct {
		name, file, want string
	}{
		{"no list", "", "bad.yaml:2:43 unknown-kind bad.yaml:3:56 joint-without-feature"},
		{"supersessions", "supersessions-z.csv", "bad.yaml:2:43 unknown-kind supersessions-z.csv:2:1 bad-csv"},
		{"fitments", "fitments-z.csv", "bad.yaml:2:43 unknown-kind fitments-z.csv:2:1 bad-csv"},
		{"fasteners", "fasteners-z.csv", "fasteners-z.csv:2:1 bad-csv"},
	}
	heads := map[string]string{"supersessions-z.csv": "old,new\n", "fitments-z.csv": "model,position,part\n",
		"fasteners-z.csv": "part,kind\n"}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			cut := maps.Clone(files)
			if tt.file != "" {
				cut[tt.file] = &fstest.MapFile{Data: []byte(heads[tt.file] + "\"open,x,y\n")}
			}
			_, probs := load(t, "", cut)
			if got := strings.ReplaceAll(codesOf(probs), "\n", " "); got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

// A value with a byte that is not text is reported for that alone, and a count
// that can't be does not hide that the part does not exist.
func TestOneFaultForOneSlip(t *testing.T) {
	tests := []struct {
		name, file, body, want string
	}{
		{"escape in a number", "fasteners.csv", "part,kind,source\n\x1b[31mTarnholt 1,bolt,parts-list\n",
			"fasteners.csv:2:1 terminal-escape"},
		{"Latin-1 in a list of sources", "fasteners.csv", "part,kind,source\nTarnholt 901.0001,bolt,parts-l\xefst\n",
			"fasteners.csv:2:31 not-utf8"},
		{"source that is no name", "fasteners.csv", "part,kind,source\nTarnholt 901.0001,bolt,Parts List\n",
			"fasteners.csv:2:24 bad-name"},
		{"Latin-1 in YAML", "p.yaml", "source: parts-list\nparts: [{number: Tarnholt 901.0001, kind: b\xf6lt}]\n",
			"p.yaml:2:44 not-utf8"},
		{"count and part", "supersessions.csv", "old,new,companions,source\nTarnholt 207.4418b,Tarnholt 207.4419,Tarnholt " +
			"207.9999 x0,parts-list\n",
			"supersessions.csv:2:38 unknown-part supersessions.csv:2:57 zero-quantity"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			files := overlay(t, filepath.Join(fixtures, "common"))
			files[tt.file] = &fstest.MapFile{Data: []byte(tt.body)}
			_, probs := load(t, "", files)
			if got := errorsOf(probs); got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

// errorsOf are the places and codes of the errors, in one line.
func errorsOf(probs *diag.List) string {
	var found []string
	for _, d := range probs.Sorted() {
		if d.Severity == diag.Error {
			found = append(found, d.Pos.String()+" "+d.Code)
		}
	}
	return strings.Join(found, " ")
}

// What else is wrong with a part is told beside its number, and its source is
// not called unused.
func TestFaultsBesideUnreadNumber(t *testing.T) {
	const data = `source: list
sources: {list: {kind: factory parts list, title: List, date: 2026-01}}
brands: {Tarnholt: }
kinds: {caliper: {features: {port: port}}}
parts: [{number: %s, kind: %s, features: {port: {thread: %s, seat: flat washer, depth: 14 mm}}}]
`
	tests := []struct {
		name, number, kind, thread, want string
	}{
		{"brand", "Tarnhold 1", "caliper", "M10x1.25", "unknown-brand"},
		{"brand and kind", "Tarnhold 1", "calliper", "M10x1.25", "unknown-brand unknown-kind"},
		{"brand and thread", "Tarnhold 1", "caliper", "M10x99", "unknown-brand impossible-value"},
		{"thread alone", "Tarnholt 1", "caliper", "M10x99", "impossible-value"},
		{"good", "Tarnholt 1", "caliper", "M10x1.25", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, probs := load(t, "", fstest.MapFS{"a.yaml": {Data: fmt.Appendf(nil, data, tt.number, tt.kind, tt.thread)}})
			var got []string
			for _, d := range probs.Sorted() {
				got = append(got, d.Code)
			}
			if strings.Join(got, " ") != tt.want {
				t.Errorf("got %q, want %q:\n%v", got, tt.want, probs.Sorted())
			}
		})
	}
}
