package why_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/conflicts"
	"matewell/queries/demotest"
	"matewell/queries/fits"
	"matewell/queries/readertest"
	"matewell/queries/swap"
	"matewell/queries/why"
)

// TestSettledByWhatDecides: of a disc that is worn out, be it by the book alone or by what
// two people measured, fits, why and conflicts all say to measure its thickness again, and
// that the verdict was computed. Of a sound one nobody says so.
func TestSettledByWhatDecides(t *testing.T) {
	const part, on = "Tarnholt 207.4060", "skerry-620/2005/eu"
	sound := demotest.Facts(t)
	measured, book := sound, sound
	measured.Findings = slices.Clone(sound.Findings)
	for _, who := range []string{"jay", "kay"} {
		measured.Findings = append(measured.Findings, graph.Finding{ID: graph.FindingID("worn-" + who), Part: part, By: who,
			Method: graph.MethodMeasured, Date: "2026-11-01",
			Measured: []graph.Measured{{Feature: "rim", Dim: "thickness", Text: "3.0 mm"}}})
	}
	book.Parts = slices.Clone(sound.Parts)
	at := slices.IndexFunc(book.Parts, func(p graph.Part) bool { return p.ID == part })
	book.Parts[at].Features = slices.Clone(book.Parts[at].Features)
	for i, f := range book.Parts[at].Features {
		if f.Name == "rim" {
			dims := map[string][]graph.Reading{}
			for name, readings := range f.Dims {
				dims[name] = slices.Clone(readings)
			}
			dims["thickness"][0].Text = "3.0 mm"
			book.Parts[at].Features[i].Dims = dims
		}
	}
	for name, c := range map[string]struct {
		graph.Facts
		worn bool
	}{"measured": {measured, true}, "book": {book, true}, "sound": {sound, false}} {
		r := readertest.New(c.Facts)
		a, err := swap.Fits(t.Context(), r, fits.FitsQuestion{Part: part, On: on})
		if err != nil {
			t.Fatal(err)
		}
		row := a.Rows[0]
		disputed, err := conflicts.Conflicts(t.Context(), r, conflicts.ConflictsQuestion{On: on})
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(disputed.Rows, func(r conflicts.ConflictRow) bool {
			return r.Sort == conflicts.ConflictComputed && r.Part == part
		})
		if !c.worn {
			if row.Verdict != graph.Fits || i >= 0 {
				t.Errorf("%s: %s, in conflicts: %t", name, row.Verdict, i >= 0)
			}
			continue
		}
		trail, err := why.Why(t.Context(), r, why.WhyQuestion{ID: row.ID})
		if err != nil {
			t.Fatal(err)
		}
		if i < 0 || !strings.HasPrefix(row.Settle, "measure thickness of ") || disputed.Rows[i].Settle != row.Settle ||
			!slices.Equal(trail.Trails[0].Settle, []string{row.Settle}) {
			t.Errorf("%s: fits says %q, why %q, conflicts row %d", name, row.Settle, trail.Trails[0].Settle, i)
		}
		last := trail.Trails[0].Steps[len(trail.Trails[0].Steps)-1].Text
		if !strings.Contains(last, "computed") {
			t.Errorf("%s: %q", name, last)
		}
	}
}
