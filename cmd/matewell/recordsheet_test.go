package main

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"matewell/cmd/matewell/internal/help"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/sampletest"
	"matewell/loader"
	"matewell/queries/demotest"
)

// unmeasured is a machine of the patterns, with the nth answer to each choice, and
// with a part at each place on which nobody measured anything.
func unmeasured(t *testing.T, nth int) string {
	t.Helper()
	answers := map[string]string{}
	for _, c := range loader.Choices() {
		words := c.Words()
		answers[c.Name] = words[nth%len(words)]
	}
	like, err := loader.PatternsFor(answers)
	if err != nil {
		t.Fatal(err)
	}
	head := "source: notes\nsources: {notes: {kind: report, title: Notes}}\nbrands: {Hjelmark: {}}\n" +
		"models:\n  lomvi-175: {maker: Hjelmark, name: Lomvi 175, like: [" + strings.Join(like, ", ") +
		"], variants: [{year: 1998, market: eu}]}\n"
	dir := t.TempDir()
	writeFile(t, dir, "own.yaml", head)
	var probs diag.List
	facts, err := loader.Load(t.Context(), []loader.Layer{loader.Standard(), {Name: "mine", FS: os.DirFS(dir)}}, &probs)
	if err != nil || probs.Err() != nil {
		t.Fatal(err, probs.Err())
	}
	parts, fitments := "parts:\n", "model,position,part\n"
	for i, x := range facts.Positions {
		parts += fmt.Sprintf("  - {number: Hjelmark %d, kind: %s}\n", 1000+i, x.Kind)
		fitments += fmt.Sprintf("lomvi-175,%s,Hjelmark %d\n", x.ID.Local(), 1000+i)
	}
	writeFile(t, dir, "parts.yaml", "source: notes\n"+parts)
	writeFile(t, dir, "fitments.csv", withSource(fitments))
	return dir
}

func withSource(lines string) string {
	lines = strings.ReplaceAll(strings.TrimSuffix(lines, "\n"), "\n", ",notes\n") + ",notes\n"
	return strings.Replace(lines, ",notes\n", ",source\n", 1)
}

func writeFile(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// fitting is a value that a line of a sheet may be filled with.
func fitting(kinds map[string]string, part, feature, dim string) string {
	switch {
	case feature == "" && dim == "number":
		return "Hjelmark 1000"
	case feature == "" || feature == "run":
		return "500 mm"
	}
	kind, _ := graph.FeatureKindNamed(kinds[part+" "+feature])
	spec, _ := kind.Dim(dim)
	return strings.Trim(help.ExampleValue(kind, spec), `"`)
}

// sheetOf is a machine that a sheet is written for, with the least lines it has.
type sheetOf struct {
	data, on string
	least    int
}

// TestAFilledSheetIsTakenBack: what gaps asks for on a sheet, record takes, of
// every kind of part on machines of several sorts.
func TestAFilledSheetIsTakenBack(t *testing.T) {
	machines := map[string]sheetOf{
		"the built-in data": {"demo", "winter-project", 1},
		"the small single":  {"../../testdata/single", "tern-125/1974", 0},
	}
	for nth := range sampletest.Of(t, 1, 4) {
		machines[fmt.Sprint("the patterns ", nth)] = sheetOf{unmeasured(t, nth), "lomvi-175/1998/eu", 500}
	}
	for name, machine := range machines {
		t.Run(name, func(t *testing.T) {
			e, out, errs := testEnv(t)
			e.DirFS = func(dir string) fs.FS { return os.DirFS(dir) }
			own, cache := e.Getenv, cacheAt(demoCache(t))
			e.Getenv = func(name string) string { return cmp.Or(cache(name), own(name)) }
			sheet := filepath.Join(t.TempDir(), "sheet.csv")
			run(e, []string{"gaps", "--on", machine.on, "--data", machine.data, "--sheet", sheet})
			body, err := os.ReadFile(sheet)
			if err != nil {
				t.Fatal(err, out, errs)
			}
			kinds := featureKinds(t, machine.data)
			rows, err := csv.NewReader(bytes.NewReader(body)).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			filled := 0
			for _, row := range rows[1:] {
				if row[2] != "" {
					row[7] = fitting(kinds, row[0], row[1], row[2])
					filled++
				}
			}
			var back bytes.Buffer
			if err := csv.NewWriter(&back).WriteAll(rows); err != nil {
				t.Fatal(err)
			}
			writeFile(t, filepath.Dir(sheet), "sheet.csv", back.String())
			out.Reset()
			errs.Reset()
			code := run(e, []string{"record", "--from", sheet, "--data", machine.data, "--by", "gull", "--format", "json"})
			var answer recordSheetAnswer
			if err := json.Unmarshal(out.Bytes(), &answer); err != nil || code != exitAnswered || len(answer.Left) > 0 {
				t.Fatalf("exit %d of %d lines: %v %v\n%.4000s", code, filled, err, answer.Left, errs)
			}
			if filled < machine.least || machine.least > 0 && len(answer.Recorded)+len(answer.Elsewhere) == 0 {
				t.Errorf("%d lines filled, %d findings, %d elsewhere", filled, len(answer.Recorded), len(answer.Elsewhere))
			}
		})
	}
}

// featureKinds are the kinds of the features of all parts, by "part feature".
func featureKinds(t *testing.T, data string) map[string]string {
	t.Helper()
	var facts graph.Facts
	if data == "demo" {
		facts = demotest.Facts(t)
	} else {
		var probs diag.List
		var err error
		facts, err = loader.Load(t.Context(), []loader.Layer{loader.Standard(), {Name: "mine", FS: os.DirFS(data)}}, &probs)
		if err != nil || probs.Err() != nil {
			t.Fatal(err, probs.Err())
		}
	}
	kinds := map[string]string{}
	byKind := map[graph.KindID]graph.Kind{}
	for _, k := range facts.Kinds {
		byKind[k.ID] = k
	}
	for _, p := range facts.Parts {
		for _, f := range byKind[p.Kind].Features {
			kinds[string(p.ID)+" "+f.Name] = f.Kind
		}
		for _, f := range p.Features {
			kinds[string(p.ID)+" "+f.Name] = f.Kind
		}
	}
	return kinds
}

func TestDecimalCommasOfASheet(t *testing.T) {
	for value, want := range map[string]string{
		"880,5 mm": "880.5 mm", "10,25": "10.25", "-2,5 mm": "-2.5 mm", "24,5 lbf ft": "24.5 lbf ft", "M10x1,25": "M10x1.25",
		"M10 x 1,25": "M10 x 1.25", "84 mm": "84 mm",
		"1,250 mm": "1,250 mm", "DOT 4,DOT 5.1": "DOT 4,DOT 5.1", "A: 6.5 mm at 120,35": "A: 6.5 mm at 120,35",
		"120,35,4":        "120,35,4",
		"22,2 mm +0/-0,1": "22,2 mm +0/-0,1", "": "",
	} {
		if got := withPoints(value); got != want {
			t.Errorf("%q is read as %q, want %q", value, got, want)
		}
	}
}

// FuzzReadSheet reads any bytes as a sheet that was filled in: each value has its line in the
// file and the dimension it is of.
func FuzzReadSheet(f *testing.F) {
	for _, seed := range []string{"part,feature,dimension,value,with\nTarnholt 1,port,thread,M10x1,gauge\n",
		"notes\n\npart;feature;dimension;value\nTarnholt 1;port;thread;\n;;eye;10,2 mm\n", "value\tdimension\r1\t2\r",
		"PK\x03\x04",
		"\xff\xfev\x00", "dimension,value\n\"", ""} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		values, empty, err := readSheet(body)
		if err != nil {
			return
		}
		lines := bytes.Count(body, []byte("\n")) + bytes.Count(body, []byte("\r")) + 1
		if len(values)+empty > lines && !bytes.HasPrefix(body, []byte("PK")) {
			t.Errorf("%d values and %d empty lines in %d lines", len(values), empty, lines)
		}
		for _, v := range values {
			if v.line < 2 || v.dim == "" || v.value == "" {
				t.Errorf("%+v", v)
			}
		}
	})
}
