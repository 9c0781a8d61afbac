package queries_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/graph/store"
	"matewell/queries/demotest"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/swap"
)

// The exported demonstration data is asked by engines that share nothing with
// this program: roqet (Rasqal, SPARQL) and sqlite3 (recursive SQL). Both must
// find the same places for the same parts as "fits".

const ownNamespace = "https://matewell.example/terms#"

// needs finds an outside program, or skips by its name. MATEWELL_NO_SKIP=1
// makes a failure of it.
func needs(t *testing.T, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		if os.Getenv("MATEWELL_NO_SKIP") == "1" {
			t.Fatalf("%s is needed", program)
		}
		t.Skipf("%s is not there", program)
	}
	return path
}

// exportedDemo writes the demonstration data as N-Quads and gives the file with
// the facts and the store, which all tests share.
func exportedDemo(t *testing.T) (file string, facts graph.Facts, s *store.Store) {
	t.Helper()
	facts = demotest.Facts(t)
	demo, err := exportDemo()
	if err != nil {
		t.Fatal(err)
	}
	file = filepath.Join(t.TempDir(), "demo.nq")
	if err := os.WriteFile(file, demo.nquads, 0o644); err != nil {
		t.Fatal(err)
	}
	return file, facts, demo.store
}

// exported is a store and all that is in it, as N-Quads.
type exported struct {
	store  *store.Store
	nquads []byte
}

var exportDemo = sync.OnceValues(func() (exported, error) {
	facts, err := demotest.Read()
	if err != nil {
		return exported{}, err
	}
	s, err := store.Memory()
	if err != nil {
		return exported{}, err
	}
	if err := s.Put(context.Background(), facts, nil); err != nil {
		return exported{}, err
	}
	var out bytes.Buffer
	err = s.WriteNQuads(context.Background(), &out)
	return exported{s, out.Bytes()}, err
})

// TestRapperAcceptsTheDemo: an independent parser reads every line of the
// export without a complaint.
func TestRapperAcceptsTheDemo(t *testing.T) {
	demotest.Alone(t)
	rapper := needs(t, "rapper")
	file, _, _ := exportedDemo(t)
	content, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(rapper, "-c", "-i", "nquads", file).CombinedOutput()
	want := fmt.Sprintf("Parsing returned %d triples", bytes.Count(content, []byte("\n<")))
	if err != nil || !strings.Contains(string(out), want) || strings.Contains(string(out), "rror") ||
		strings.Contains(string(out), "arning") {
		t.Errorf("rapper: %v, want %q\n%s", err, want, out)
	}
}

// plainParts are a sample of the parts of which listings and supersessions say all: none
// with a finding, none in or with a kit, none on a walk over an edge that holds
// for some machines only or that states no.
func plainParts(t *testing.T, facts graph.Facts) []graph.PartID {
	t.Helper()
	share, out := sampletest.OneIn(t, 8), map[graph.PartID]bool{}
	for _, f := range facts.Findings {
		out[f.Part] = true
	}
	kits := map[graph.PartID]bool{}
	for _, p := range facts.Parts {
		for _, c := range p.Contains {
			kits[p.ID], kits[c.Part] = true, true
		}
	}
	for spread := true; spread; {
		spread = false
		for _, e := range facts.Supersessions {
			limited := !e.Scope.IsZero() || e.NewOnOld == graph.No || e.OldOnNew == graph.No || kits[e.Old] || kits[e.New]
			if (limited || out[e.Old] || out[e.New]) && !(out[e.Old] && out[e.New]) {
				out[e.Old], out[e.New], spread = true, true, true
			}
		}
	}
	var plain []graph.PartID
	for _, p := range facts.Parts {
		if !out[p.ID] && !kits[p.ID] && share(string(p.ID)) {
			plain = append(plain, p.ID)
		}
	}
	return plain
}

// usables are what usable has found, which both engines are asked to find.
var usables sync.Map // by parts

// usable is every part with the places where fits calls it usable, as
// "part position variant".
func usable(t *testing.T, r graph.Reader, parts []graph.PartID) []string {
	t.Helper()
	key := fmt.Sprint(parts)
	if kept, ok := usables.Load(key); ok {
		return kept.([]string)
	}
	walked := 0
	var lines []string
	for _, id := range parts {
		a, err := swap.Fits(context.Background(), r, fits.FitsQuestion{Part: string(id)})
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range a.Rows {
			if row.Verdict != graph.Fits && row.Verdict != graph.FitsWithChanges {
				continue
			}
			if row.Via == evidence.ViaSupersession {
				walked++
			}
			for _, v := range row.Coverage.On {
				lines = append(lines, fmt.Sprintf("%s %s %s", id, row.Position, v))
			}
		}
	}
	if least := sampletest.Of(t, 20, 100); len(parts) < least || walked < least/20 {
		t.Fatalf("%d parts and %d rows by supersession: too few to tell anything", len(parts), walked)
	}
	slices.Sort(lines)
	lines = slices.Compact(lines)
	usables.Store(key, lines)
	return lines
}

// TestSQLFindsWhatFits: a recursive query over the exported quads.
func TestSQLFindsWhatFits(t *testing.T) {
	demotest.Alone(t)
	sqlite := needs(t, "sqlite3")
	file, facts, s := exportedDemo(t)
	parts := plainParts(t, facts)
	script := fmt.Sprintf("CREATE TABLE quads(s,p,o);\n.mode tabs\n.import %q quads\n.mode csv\n%s", tabbed(t, file),
		recursive)
	cmd := exec.Command(sqlite, ":memory:")
	cmd.Stdin = strings.NewReader(script)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	sameSets(t, found(t, out, parts), usable(t, s, parts))
}

// recursive walks supersessions upwards as long as the new goes where the old
// was, and downwards as long as the old goes where the new is, from every part
// that is listed.
const recursive = `CREATE INDEX bysp ON quads(s,p);
CREATE INDEX byp ON quads(p);
WITH RECURSIVE
 fit(part,at,variant) AS (SELECT DISTINCT a.o,b.o,c.o FROM quads a JOIN quads b ON b.s=a.s AND b.p='position'
  JOIN quads c ON c.s=a.s AND c.p='on' WHERE a.p='part' AND a.s LIKE '%/id/fitment/%'),
 edge(old,new,id) AS (SELECT a.o,b.o,a.s FROM quads a JOIN quads b ON b.s=a.s AND b.p='new' WHERE a.p='old'),
 up(listed,target) AS (SELECT DISTINCT part,part FROM fit UNION
  SELECT up.listed,edge.new FROM up JOIN edge ON edge.old=up.target
  JOIN quads q ON q.s=edge.id AND q.p='new-on-old' AND q.o='yes'),
 down(listed,target) AS (SELECT DISTINCT part,part FROM fit UNION
  SELECT down.listed,edge.old FROM down JOIN edge ON edge.new=down.target
  JOIN quads q ON q.s=edge.id AND q.p='old-on-new' AND q.o='yes')
SELECT DISTINCT target,at,variant FROM (SELECT * FROM up UNION SELECT * FROM down) JOIN fit ON part=listed;
`

// tabbed writes the statements that matter here as tab-separated columns, own
// terms without their namespace, literals without quotes.
func tabbed(t *testing.T, file string) string {
	t.Helper()
	return sifted(t, file, "quads.tsv", func(b *strings.Builder, line, predicate string) {
		fields := strings.SplitN(line, " ", 3)
		object, _, _ := strings.Cut(fields[2], " ")
		fmt.Fprintf(b, "%s\t%s\t%s\n", strings.Trim(fields[0], "<>"), predicate, strings.Trim(object, `<>"`))
	})
}

// sifted writes a file of what write makes of each statement of an export that
// the closure of fits is made of.
func sifted(t *testing.T, file, name string, write func(b *strings.Builder, line, predicate string)) string {
	t.Helper()
	content, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for line := range strings.Lines(string(content)) {
		predicate, ok := strings.CutPrefix(strings.Trim(strings.SplitN(line, " ", 3)[1], "<>"), ownNamespace)
		if ok && slices.Contains(walked, predicate) {
			write(&b, line, predicate)
		}
	}
	out := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(out, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return out
}

// walked are the predicates that the closure of fits is made of.
var walked = []string{"part", "position", "on", "old", "new", "new-on-old", "old-on-new"}

// found reads rows of part, position and variant, as far as they are about the
// parts.
func found(t *testing.T, out []byte, parts []graph.PartID) []string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, row := range rows {
		var names []string
		for _, cell := range row {
			_, id, _ := strings.Cut(cell, "/id/")
			_, id, _ = strings.Cut(id, "/")
			name, err := url.PathUnescape(id)
			if err != nil {
				t.Fatal(err)
			}
			names = append(names, name)
		}
		if slices.Contains(parts, graph.PartID(names[0])) {
			lines = append(lines, strings.Join(names, " "))
		}
	}
	slices.Sort(lines)
	return slices.Compact(lines)
}

func sameSets(t *testing.T, engine, ours []string) {
	t.Helper()
	missing := 0
	for _, line := range ours {
		if _, ok := slices.BinarySearch(engine, line); !ok {
			missing++
			if missing < 5 {
				t.Errorf("only fits says: %s", line)
			}
		}
	}
	for _, line := range engine {
		if _, ok := slices.BinarySearch(ours, line); !ok {
			missing++
			if missing < 5 {
				t.Errorf("only the engine says: %s", line)
			}
		}
	}
	if len(ours) < sampletest.Of(t, 100, 500) {
		t.Errorf("%d places only: too few to tell anything", len(ours))
	}
}
