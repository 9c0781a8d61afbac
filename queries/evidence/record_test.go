package evidence_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/readertest"
)

// FuzzFindingFor records any measurement, change and verdict: it becomes a finding that
// says what was typed, or is refused as a question.
func FuzzFindingFor(f *testing.F) {
	for _, seed := range [][3]string{
		{"port.thread=M10x1; thread gauge", "shim it 2 mm; drill or shim; Tarnholt 9001", "fits"},
		{"a.b=c=d", "done", "does not fit"}, {".=", ";;;", ""}, {"port.thread", "x; none; nobody 1", "maybe"}, {"", "", ""},
	} {
		f.Add(seed[0], seed[1], seed[2])
	}
	r := readertest.New(graph.Facts{Parts: []graph.Part{{ID: "Tarnholt 9001", Brand: "Tarnholt", Kind: "bolt"}}})
	f.Fuzz(func(t *testing.T, measured, change, verdict string) {
		q := evidence.RecordQuestion{Part: "Tarnholt 9001", Measured: []string{measured},
			Changes: []string{change}, Verdict: verdict}
		found, err := evidence.FindingFor(context.Background(), r, q)
		var refused *queries.QuestionError
		var notFound *queries.NotFoundError
		var several *queries.AmbiguousError
		switch {
		case errors.As(err, &refused), errors.As(err, &notFound), errors.As(err, &several):
		case err != nil:
			t.Errorf("%q, %q, %q: %v", measured, change, verdict, err)
		case found.ID == "" || strings.TrimSpace(found.Measured[0].Text) == "" || found.Changes[0].Do == "":
			t.Errorf("%q, %q, %q became %+v", measured, change, verdict, found)
		}
	})
}
