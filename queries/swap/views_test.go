package swap_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/fits"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// TestWideViewSaysWhatNarrowSays: of what fits on a machine, in an assembly and at a
// place, the answers are the same for every part that sits there, be it worn by what two
// people measured, next to something that is, or by the book alone.
func TestWideViewSaysWhatNarrowSays(t *testing.T) {
	demotest.Alone(t)
	const on = "skerry-620/2005/eu"
	facts := demotest.Facts(t)
	plain := once.New(readertest.New(facts))
	facts.Findings = slices.Clone(facts.Findings)
	for _, m := range []struct {
		part graph.PartID
		graph.Measured
	}{
		{"Tarnholt 207.4060", graph.Measured{Feature: "rim", Dim: "thickness", Text: "3.0 mm"}},      // worn
		{"Tarnholt 207.4452", graph.Measured{Feature: "slot", Dim: "disc-diameter", Text: "290 mm"}}, // the disc meets it
		{"Tarnholt 209.4005", graph.Measured{Feature: "chain", Dim: "pitch", Text: "12.7 mm"}},
	} {
		for _, who := range []string{"jay", "kay"} {
			facts.Findings = append(facts.Findings, graph.Finding{ID: graph.FindingID(who + "-" + string(m.part)), Part: m.part,
				By: who, Method: graph.MethodMeasured, Date: "2026-11-01", Measured: []graph.Measured{m.Measured}})
		}
	}
	planted := once.New(readertest.New(facts))
	wholeThen := viewOf(t, plain, fits.FitsQuestion{On: on})
	changed := 0
	for _, r := range []graph.Reader{plain, planted} {
		whole := viewOf(t, r, fits.FitsQuestion{On: on})
		narrow := map[string]graph.Verdict{}
		places := map[string]bool{}
		for key := range whole {
			place, _, _ := strings.Cut(key, " ")
			places[place] = true
		}
		for place := range places {
			for key, verdict := range viewOf(t, r, fits.FitsQuestion{On: on, Position: place}) {
				narrow[key] = verdict
			}
		}
		for key, verdict := range whole {
			if verdict != narrow[key] {
				t.Errorf("%s: %s on the whole machine, %s at the place", key, verdict, narrow[key])
			}
			if verdict != wholeThen[key] {
				changed++
			}
		}
		for _, assembly := range []string{"front-brake", "final-drive", "clutch", "rear-brake"} {
			for key, verdict := range viewOf(t, r, fits.FitsQuestion{On: on, Assembly: assembly}) {
				if verdict != narrow[key] {
					t.Errorf("%s: %s in the assembly, %s at the place", key, verdict, narrow[key])
				}
			}
		}
	}
	if changed < 3 {
		t.Errorf("what was planted changes %d verdicts: it shows nothing", changed)
	}
}

// viewOf are the verdicts of an answer, by place and part.
func viewOf(t *testing.T, r graph.Reader, q fits.FitsQuestion) map[string]graph.Verdict {
	t.Helper()
	a, err := swap.Fits(t.Context(), r, q)
	if err != nil {
		t.Fatal(err)
	}
	verdicts := map[string]graph.Verdict{}
	for _, row := range a.Rows {
		verdicts[row.Position.Local()+" "+string(row.Part)+" "+row.Coverage.Frames] = row.Verdict
	}
	return verdicts
}
