package store_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"matewell/graph/store/storetest"
)

// Rapper (Raptor RDF Syntax Library) is an RDF parser that shares no code with
// ours. What it reads of our N-Quads, written again in its own way with other
// escapes and order, must be the same facts.
func TestRapperReadsOurNQuads(t *testing.T) {
	rapper, err := exec.LookPath("rapper")
	if err != nil {
		if os.Getenv("MATEWELL_NO_SKIP") == "1" {
			t.Fatal("rapper is needed")
		}
		t.Skip("rapper is not there")
	}
	file := filepath.Join(t.TempDir(), "sample.nq")
	if err := os.WriteFile(file, []byte(nquadsOf(t, memory(t, storetest.Sample()))), 0o644); err != nil {
		t.Fatal(err)
	}
	var complaints bytes.Buffer
	command := exec.Command(rapper, "-q", "-i", "nquads", "-o", "nquads", file)
	command.Stderr = &complaints
	out, err := command.Output()
	if err != nil || complaints.Len() > 0 {
		t.Fatalf("rapper: %v\n%s", err, complaints.String())
	}
	storetest.Same(t, read(t, string(out)), storetest.Sample())
}
