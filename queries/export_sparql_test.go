package queries_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/lists"
)

// TestSPARQLFindsWhatFits: the same closure as patterns of bounded length.
func TestSPARQLFindsWhatFits(t *testing.T) {
	demotest.Alone(t)
	roqet := needs(t, "roqet")
	file, facts, s := exportedDemo(t)
	parts := plainParts(t, facts)
	query := filepath.Join(t.TempDir(), "fits.rq")
	if err := os.WriteFile(query, []byte(closure(3)), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(roqet, "-q", "-i", "sparql", "-F", "nquads", "-D", onlyWalked(t, file), "-r", "csv", query)
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("roqet: %v\n%s", err, complaints.String())
	}
	_, rows, _ := bytes.Cut(out, []byte("\n")) // the head
	wanted := lists.Kept(usable(t, s, parts),
		func(line string) bool { return strings.Contains(line, " "+sparqlModel+":") })
	if len(wanted) < sampletest.Of(t, 60, 500) {
		t.Fatalf("%d rows on %s: too few to tell anything", len(wanted), sparqlModel)
	}
	sameSets(t, found(t, rows, parts), wanted)
}

// sparqlModel is the model whose places are asked about here: what roqet takes
// grows faster than the set. TestSQLFindsWhatFits asks about all of them.
const sparqlModel = "fjeld-750"

// closure is a UNION of walks of up to so many supersessions, up or down.
func closure(most int) string {
	var walks []string
	for n := range most + 1 {
		for _, way := range [][3]string{{"old", "new", "new-on-old"}, {"new", "old", "old-on-new"}} {
			walk := ""
			place := func(i int) string {
				if i == n {
					return "?part"
				}
				return fmt.Sprintf("?p%d", i)
			}
			for i := range n {
				walk += fmt.Sprintf("?e%d m:%s %s . ?e%d m:%s %s . ?e%d m:%s \"yes\" . ", i, way[0], place(i), i, way[1],
					place(i+1), i, way[2])
			}
			walks = append(walks, "{ "+walk+"?f m:part "+place(0)+" . ?f m:position ?at . ?f m:on ?v }")
			if n == 0 {
				break
			}
		}
	}
	return "PREFIX m: <" + ownNamespace + ">\nSELECT DISTINCT ?part ?at ?v WHERE {\n" + strings.Join(walks,
		"\nUNION\n") + "\n}\n"
}

// onlyWalked leaves the lines of the export that the closure is made of: roqet
// has no index.
func onlyWalked(t *testing.T, file string) string {
	t.Helper()
	return sifted(t, file, "walked.nq", func(b *strings.Builder, line, _ string) {
		if strings.Contains(line, "/id/fitment/"+sparqlModel+":") || strings.Contains(line, "/id/supersession/") {
			b.WriteString(line)
		}
	})
}
