package evidence

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// Rank says how much a voice counts against another: the higher, the more. The
// zero value is no rank at all. What was computed from dimensions has no rank
// of its own.
type Rank int

// The ranks, lowest first.
const (
	NoRank       Rank = iota
	RankSeller        // seller's text
	RankReport        // one report
	RankReports       // two or more independent reports
	RankPhoto         // fitted and photographed
	RankFactory       // factory document for this variant
	RankMeasured      // measured on this very part
)

var rankWords = [...]string{"", "seller's text", "one report", "independent reports",
	"fitted and photographed", "factory document", "measured"}

// String is the rank in words, empty for NoRank.
func (r Rank) String() string {
	if r < 0 || int(r) >= len(rankWords) {
		return fmt.Sprintf("Rank(%d)", int(r))
	}
	return rankWords[r]
}

// MarshalText writes the rank in words.
func (r Rank) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads the words that String prints.
func (r *Rank) UnmarshalText(text []byte) error {
	for i, word := range rankWords {
		if word == string(text) {
			*r = Rank(i)
			return nil
		}
	}
	return fmt.Errorf("rank %q is unknown", text)
}

// rankOfSource is the rank of what a source says about a variant; v is nil when
// the question is about a part alone. A source that does not speak for the
// variant is at best a report about it.
func rankOfSource(s graph.Source, v *graph.Variant) Rank {
	rank := RankReport
	switch s.Kind {
	case graph.SourceMeasurement:
		rank = RankMeasured
	case graph.SourcePartsList, graph.SourceManual, graph.SourceBulletin:
		rank = RankFactory
	case graph.SourceStandard:
		// A standard fixes what its parts measure, whoever makes them.
		rank = RankFactory
	case graph.SourcePhoto:
		rank = RankPhoto
	case graph.SourceSeller, graph.SourcePlaced:
		rank = RankSeller
	}
	if v != nil && !s.Scope.Covers(*v) {
		rank = min(rank, RankReport)
	}
	return rank
}

// rankOfMethod is the rank of a finding by how the finder knows.
func rankOfMethod(m graph.Method) Rank {
	switch m {
	case graph.MethodMeasured:
		return RankMeasured
	case graph.MethodPhoto:
		return RankPhoto
	}
	return RankReport
}

// Together is the rank of several voices that say the same: the best of them,
// lifted when two reports among them are independent.
func Together(voices []Source) Rank {
	best := NoRank
	for _, voice := range voices {
		best = max(best, voice.Rank)
	}
	reports := independent(lists.Kept(slices.Clone(voices), func(s Source) bool { return s.Rank == RankReport }))
	if len(reports) > 1 {
		best = max(best, RankReports)
	}
	return best
}
