package datademo_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/testdata/published"
)

// bearingsArePublishedSizes compares every bearing whose designation is in
// the published table with it (ISO 15, ISO 355).
func bearingsArePublishedSizes(t *testing.T, f graph.Facts) {
	table := published.By(t, "bearings.csv", "designation")
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
			for dim, column := range map[string]string{"inside": "d", "outside": "D", "width": "B_or_T"} {
				want := published.Number(t, size[column])
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
	table := published.By(t, "iso262.csv", "d")
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
		pitches := strings.FieldsFunc(row["coarse"]+";"+row["fine"], func(r rune) bool {
			return r == ';' || r == ' ' ||
				r == ','
		})
		if !known || !slices.Contains(pitches, strconv.FormatFloat(size.Pitch, 'g', -1, 64)) {
			t.Errorf("%s: %s is not in ISO 262 (%v)", p.ID, size, row)
		}
	}
	if compared < 300 {
		t.Errorf("only %d threads could be compared", compared)
	}
}

// chainWearIsPublished compares the limit of a worn chain in jobs with what the
// wear limits of chain_wear.csv come to.
func chainWearIsPublished(t *testing.T, f graph.Facts) {
	compared := 0
	for _, j := range f.Jobs {
		for _, l := range j.Look {
			text, ok := strings.CutPrefix(l.Limit, "at most ")
			if !ok || !strings.Contains(l.Text, "chain over 20 pitches") {
				continue
			}
			compared++
			limit, err := measure.ParseQuantity(text, measure.Length)
			if err != nil || !slices.ContainsFunc(published.Rows(t, "chain_wear.csv"), func(row map[string]string) bool {
				return math.Abs(published.Number(t, row["at_limit"])-limit.Nominal) < 0.05
			}) {
				t.Errorf("%s, %s: %s is no published wear limit (%v)", j.ID, l.Text, l.Limit, err)
			}
		}
	}
	if compared == 0 {
		t.Error("no job names a limit for a worn chain")
	}
}
