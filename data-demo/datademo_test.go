package datademo_test

import (
	"context"
	"encoding/csv"
	"io/fs"
	"maps"
	"os"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	datademo "matewell/data-demo"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
	"matewell/loader"
)

// TestData reads the embedded set once and asks of it what it was made for.
func TestData(t *testing.T) {
	f := load(t)
	tests := []struct {
		name  string
		check func(*testing.T, graph.Facts)
	}{
		{"as rich as ordered", amounts},
		{"supersessions of every sort", supersessionsOfEverySort},
		{"no torque where it could hurt", genericTorques},
		{"bearings as published", bearingsArePublishedSizes},
		{"threads as published", hardwareThreadsArePreferred},
		{"every file has its entry", everyFileHasAnEntry},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { tt.check(t, f) })
	}
}

// load reads the embedded set as the program does. A fault fails the test, and
// so does a warning but for the gaps left on purpose: sizes that nobody gave of
// parts no machine left its works with, so that there is something to measure.
func load(t *testing.T) graph.Facts {
	t.Helper()
	var probs diag.List
	facts, err := loader.Load(context.Background(), []loader.Layer{{Name: "data-demo", FS: datademo.FS()}}, &probs)
	if err != nil {
		t.Fatal(err)
	}
	gaps := 0
	for _, p := range probs.Sorted() {
		if p.Severity == diag.Warning && (p.Code == "missing-dimension" || p.Code == "missing-feature") {
			gaps++
			if aftermarket := !strings.Contains(p.Message, "Tarnholt"); aftermarket {
				continue
			}
		}
		t.Errorf("%s: %s [%s]", p.Pos, p.Message, p.Code)
	}
	if gaps == 0 || gaps > 20 {
		t.Errorf("%d gaps, 1 to 20 wanted", gaps)
	}
	return facts
}

// hardware are the kinds that a list of fasteners holds.
func hardware() []graph.KindID {
	return []graph.KindID{"bolt", "nut", "washer", "seal-washer", "banjo-bolt", "stud", "circlip", "split-pin", "clip", "insert", "collar"}
}

// amounts keeps the set as rich as it was ordered to be.
func amounts(t *testing.T, f graph.Facts) {
	assemblies := map[string]bool{}
	for _, a := range f.Assemblies {
		assemblies[a.ID.Local()] = true
	}
	markets, schemes, marks := map[string]bool{}, 99, 0
	for _, v := range f.Variants {
		markets[v.Market] = true
		schemes = min(schemes, len(v.Schemes))
		if v.Mark != "" {
			marks++
		}
	}
	kits, fasteners, priced := 0, 0, 0
	for _, p := range f.Parts {
		switch {
		case p.IsKit():
			kits++
		case slices.Contains(hardware(), p.Kind):
			fasteners++
		}
		if len(p.Price) > 0 {
			priced++
		}
	}
	kinds := map[graph.SourceKind]bool{}
	for _, s := range f.Sources {
		kinds[s.Kind] = true
	}
	tests := []struct {
		name        string
		have, least int
	}{
		{"models", len(f.Models), 3},
		{"markets", len(markets), 2},
		{"colour schemes of every variant", schemes, 3},
		{"variants told apart by frame number", marks, 4},
		{"positions", len(f.Positions), 330},
		{"parts besides hardware and kits", len(f.Parts) - kits - fasteners, 700},
		{"hardware", fasteners, 400},
		{"kits", kits, 40},
		{"supersessions", len(f.Supersessions), 60},
		{"assemblies", len(assemblies), 25},
		{"joints", len(f.Joints), 300},
		{"findings", len(f.Findings), 30},
		{"bikes", len(f.Bikes), 2},
		{"sources", len(f.Sources), 18},
		{"kinds of source", len(kinds), len(graph.SourceKinds())},
		{"parts with a price", priced, 60},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.have < tt.least {
				t.Errorf("%d, at least %d wanted", tt.have, tt.least)
			}
		})
	}
}

// supersessionsOfEverySort keeps an example of each way a number can be
// replaced.
func supersessionsOfEverySort(t *testing.T, f graph.Facts) {
	kit := map[graph.PartID]bool{}
	for _, p := range f.Parts {
		kit[p.ID] = p.IsKit()
	}
	from, have := map[graph.PartID]graph.PartID{}, map[string]int{}
	frames := map[graph.PartID]int{}
	for _, s := range f.Supersessions {
		from[s.Old] = s.New
		switch {
		case s.NewOnOld == graph.Yes && s.OldOnNew == graph.Yes:
			have["both ways"]++
		case s.NewOnOld == graph.Yes && s.OldOnNew == graph.No:
			have["one way"]++
		case s.NewOnOld == graph.No && s.OldOnNew == graph.No:
			have["neither way"]++
		case s.NewOnOld == graph.NotStated || s.OldOnNew == graph.NotStated:
			have["a direction not stated"]++
		}
		if kit[s.New] {
			have["into a kit"]++
		}
		if len(s.Companions) > 0 {
			have["with companions"]++
		}
		if !s.Scope.Frames.IsZero() {
			frames[s.Old]++
		}
		if len(s.Scope.Markets) > 0 {
			have["in one market"]++
		}
	}
	for _, n := range frames {
		if n > 1 {
			have["branching by frame number"]++
		}
	}
	for _, mid := range from {
		if _, on := from[from[mid]]; on && from[mid] != "" {
			have["chain of three"]++
		}
	}
	for sort, least := range map[string]int{"both ways": 10, "one way": 15, "neither way": 4, "a direction not stated": 8, "into a kit": 6,
		"with companions": 8, "branching by frame number": 3, "in one market": 1, "chain of three": 1} {
		if have[sort] < least {
			t.Errorf("%s: %d, at least %d wanted", sort, have[sort], least)
		}
	}
}

// genericTorques keeps torques off whatever could hurt someone: only the
// two generic tables give any, and never for a safety joint or an alloy thread.
func genericTorques(t *testing.T, f graph.Facts) {
	safe := map[graph.PositionID]graph.Safety{}
	for _, p := range f.Positions {
		safe[p.ID] = p.Safety
	}
	generic := []graph.SourceID{"torque-table-one", "torque-table-two"}
	parts := map[graph.PartID]graph.Part{}
	tables, given := map[string]bool{}, 0
	check := func(where string, r graph.Reading) {
		given++
		if !slices.Contains(generic, r.Source) {
			t.Errorf("%s: torque %s from %q, which is no generic table", where, r.Text, r.Source)
		}
		tables[string(r.Source)+" "+r.Text] = true
	}
	for _, p := range f.Parts {
		parts[p.ID] = p
		for _, feature := range p.Features {
			for _, r := range feature.Dims["torque"] {
				check(string(p.ID), r)
			}
		}
	}
	for _, j := range f.Joints {
		for _, r := range j.Torque {
			check(string(j.ID), r)
		}
		// Plain bolts go into the frame as well; it has its class for the
		// steering head, and none of its steering joints carries a torque.
		plain := safe[j.A.Position] == "" && (safe[j.B.Position] == "" || j.B.Position.Local() == "frame/frame")
		if len(j.Torque) > 0 && !plain {
			t.Errorf("%s: a torque on a joint with a safety class", j.ID)
		}
	}
	for _, fit := range f.Fitments {
		if p := parts[fit.Part]; safe[fit.Position] != "" && slices.ContainsFunc(p.Features, func(f graph.Feature) bool { return len(f.Dims["torque"]) > 0 }) {
			t.Errorf("%s carries a generic torque and sits at %s (%s)", p.ID, fit.Position, safe[fit.Position])
		}
	}
	if given == 0 {
		t.Error("no torque at all")
	}
	// Source: a generic table of one maker's workshop manual, dry, and another
	// table for M8, both read in an excerpt; see SOURCES.md.
	want := []string{"torque-table-one 14-19 N m", "torque-table-one 25-34 N m", "torque-table-one 5.9-7.8 N m", "torque-table-two 25.5 N m"}
	if have := slices.Sorted(maps.Keys(tables)); !slices.Equal(have, want) {
		t.Errorf("the tables give %q, want %q", have, want)
	}
}

// published reads a table of testdata/published by its first column.
func published(t *testing.T, name string) map[string][]string {
	t.Helper()
	file, err := os.Open(path.Join("../testdata/published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	table := map[string][]string{}
	for _, row := range rows[1:] {
		table[row[0]] = row[1:]
	}
	return table
}

// bearingsArePublishedSizes compares every bearing whose designation is in
// the published table with it (ISO 15, ISO 355).
func bearingsArePublishedSizes(t *testing.T, f graph.Facts) {
	table := published(t, "bearings.csv")
	compared := 0
	for _, p := range f.Parts {
		for _, feature := range p.Features {
			if feature.Kind != "bearing" || len(feature.Dims["designation"]) == 0 {
				continue
			}
			mark := feature.Dims["designation"][0].Text
			size, known := table[strings.TrimSuffix(mark, "-2RS")] // shields don't change the size
			if !known {
				continue
			}
			compared++
			for i, dim := range []string{"inside", "outside", "width"} {
				want, _ := strconv.ParseFloat(size[i], 64)
				got, err := measure.ParseQuantity(feature.Dims[dim][0].Text, measure.Length)
				if err != nil || got.Nominal != want {
					t.Errorf("%s, %s: %s %v, want %g mm (%v)", p.ID, mark, dim, got, want, err)
				}
			}
		}
	}
	if compared < 8 {
		t.Errorf("only %d bearings could be compared", compared)
	}
}

// hardwareThreadsArePreferred compares the metric threads of all hardware
// with the selection of ISO 262.
func hardwareThreadsArePreferred(t *testing.T, f graph.Facts) {
	table := published(t, "iso262.csv")
	compared := 0
	for _, p := range f.Parts {
		thread, ok := p.Feature("thread")
		if !ok || !slices.Contains(hardware(), p.Kind) || len(thread.Dims["thread"]) == 0 {
			continue
		}
		size, err := measure.ParseThread(thread.Dims["thread"][0].Text)
		if err != nil {
			t.Errorf("%s: %v", p.ID, err)
			continue
		}
		if size.Standard != "metric" {
			continue
		}
		compared++
		row, known := table[strconv.FormatFloat(size.Nominal, 'g', -1, 64)]
		pitches := strings.FieldsFunc(strings.Join(row, ";"), func(r rune) bool { return r == ';' || r == ' ' || r == ',' })
		if !known || !slices.Contains(pitches, strconv.FormatFloat(size.Pitch, 'g', -1, 64)) {
			t.Errorf("%s: %s is not in ISO 262 (%v)", p.ID, size, row)
		}
	}
	if compared < 300 {
		t.Errorf("only %d threads could be compared", compared)
	}
}

// everyFileHasAnEntry reads SOURCES.md: every file of the set and every
// source must have an entry, and every entry must stand for something.
func everyFileHasAnEntry(t *testing.T, f graph.Facts) {
	body, err := os.ReadFile("SOURCES.md")
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{} // whether something was found for it
	for _, line := range strings.Split(string(body), "\n") {
		if cells := strings.Split(line, "|"); len(cells) > 2 {
			for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(cells[1], -1) {
				named[m[1]] = false
			}
		}
	}
	total := int64(0)
	err = fs.WalkDir(datademo.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		if info, err := d.Info(); err == nil {
			total += info.Size()
		}
		found := false
		for pattern := range named {
			if ok, _ := path.Match(pattern, name); ok {
				named[pattern], found = true, true
			}
		}
		if !found {
			t.Errorf("%s has no entry in SOURCES.md", name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range f.Sources {
		if _, ok := named[string(s.ID)]; !ok {
			t.Errorf("source %q has no entry in SOURCES.md", s.ID)
		}
		named[string(s.ID)] = true
	}
	for name, found := range named {
		if !found {
			t.Errorf("the entry %q of SOURCES.md stands for nothing", name)
		}
	}
	if limit := int64(1_200_000); total > limit {
		t.Errorf("the set has %d bytes, more than %d: loading it gets slow", total, limit)
	}
}
