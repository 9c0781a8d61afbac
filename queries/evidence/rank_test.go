package evidence

import (
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
)

// TestRankOrder holds the order of the project's design, section 2: measured on
// this very part > factory document for this variant > fitted and photographed
// > two or more independent reports > one report > seller's text.
func TestRankOrder(t *testing.T) {
	order := []Rank{RankMeasured, RankFactory, RankPhoto, RankReports, RankReport, RankSeller, NoRank}
	for i := 1; i < len(order); i++ {
		if order[i-1] <= order[i] {
			t.Errorf("%q does not outrank %q", order[i-1], order[i])
		}
	}
}

func TestRankOfSource(t *testing.T) {
	inside := graph.Scope{Years: measure.Years{From: 2001, To: 2003}, Markets: []string{"eu"}}
	late := graph.Scope{Frames: measure.Frames{Prefix: "TK6A-", From: 12001, Width: 6}}
	v := queries.VariantOf("skerry-620/2003/eu")
	tests := []struct {
		name   string
		source graph.Source
		v      *graph.Variant
		want   Rank
	}{
		{"parts list for the variant", graph.Source{Kind: graph.SourcePartsList, Scope: inside}, &v, RankFactory},
		{"parts list without a scope", graph.Source{Kind: graph.SourcePartsList}, &v, RankFactory},
		{"parts list for other years", graph.Source{Kind: graph.SourcePartsList,
			Scope: graph.Scope{Years: measure.Years{From: 2004, To: 2006}}}, &v, RankReport},
		{"parts list for another market", graph.Source{Kind: graph.SourcePartsList,
			Scope: graph.Scope{Markets: []string{"uk"}}}, &v, RankReport},
		{"parts list for frames, frames of the variant not known", graph.Source{Kind: graph.SourcePartsList, Scope: late}, &v,
			RankReport},
		{"parts list, question about a part alone", graph.Source{Kind: graph.SourcePartsList, Scope: inside}, nil,
			RankFactory},
		{"manual", graph.Source{Kind: graph.SourceManual}, &v, RankFactory},
		{"bulletin", graph.Source{Kind: graph.SourceBulletin}, &v, RankFactory},
		{"standard", graph.Source{Kind: graph.SourceStandard}, &v, RankFactory},
		{"measurement", graph.Source{Kind: graph.SourceMeasurement}, &v, RankMeasured},
		{"photographed", graph.Source{Kind: graph.SourcePhoto}, &v, RankPhoto},
		{"report", graph.Source{Kind: graph.SourceReport}, &v, RankReport},
		{"common practice", graph.Source{Kind: graph.SourcePractice}, &v, RankReport},
		{"seller", graph.Source{Kind: graph.SourceSeller}, &v, RankSeller},
		{"seller outside of its scope", graph.Source{Kind: graph.SourceSeller, Scope: graph.Scope{Markets: []string{"uk"}}},
			&v, RankSeller},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := rankOfSource(tt.source, tt.v); got != tt.want {
				t.Errorf("rank %q, want %q", got, tt.want)
			}
		})
	}
}

func TestTogether(t *testing.T) {
	report := func(origin string) Source { return Source{Rank: RankReport, Origin: origin} }
	tests := []struct {
		name   string
		voices []Source
		want   Rank
	}{
		{"nobody", nil, NoRank},
		{"one report", []Source{report("by gull")}, RankReport},
		{"two independent reports", []Source{report("by gull"), report("by tern")}, RankReports},
		{"two of one origin", []Source{report("by gull"), report("by gull")}, RankReport},
		{"two of one origin and a third", []Source{report("by gull"), report("by gull"), report("by tern")}, RankReports},
		{"one who had it in hand, and who retells the page he wrote on", []Source{{Rank: RankReport, Origin: "by gull",
			In: "forum"}, report("forum")}, RankReport},
		{"two who had it in hand and wrote on one page", []Source{{Rank: RankReport, Origin: "by gull", In: "forum"},
			{Rank: RankReport, Origin: "by tern", In: "forum"}}, RankReports},
		{"the same two, and before them who retells the page", []Source{report("forum"),
			{Rank: RankReport, Origin: "by gull", In: "forum"}, {Rank: RankReport, Origin: "by tern", In: "forum"}},
			RankReports},
		{"two sellers", []Source{{Rank: RankSeller, Origin: "a"}, {Rank: RankSeller, Origin: "b"}}, RankSeller},
		{"a photo and two reports", []Source{report("by gull"), {Rank: RankPhoto, Origin: "by skua"}, report("by tern")},
			RankPhoto},
		{"a report and a seller", []Source{report("by gull"), {Rank: RankSeller, Origin: "b"}}, RankReport},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Together(tt.voices); got != tt.want {
				t.Errorf("together %q, want %q", got, tt.want)
			}
		})
	}
}

func TestRankWords(t *testing.T) {
	for r := RankSeller; r <= RankMeasured; r++ {
		text, _ := r.MarshalText()
		var back Rank
		if err := back.UnmarshalText(text); err != nil || back != r {
			t.Errorf("%q reads back as %v, %v", text, back, err)
		}
	}
	var none Rank
	if err := none.UnmarshalText([]byte("rumour")); err == nil {
		t.Error("an unknown word is read as a rank")
	}
}

// What was computed says from what, and what a rule says of a kind alone, from nothing.
func TestVoiceText(t *testing.T) {
	book := Source{ID: "book"}
	for _, tt := range []struct {
		via    Via
		source Source
		want   string
	}{
		{ViaComputed, Source{}, "by rule, from no reading"},
		{ViaComputed, book, "computed from book; the weakest: " + Rank(0).String()},
		{ViaListed, book, "book, " + Rank(0).String()},
	} {
		if got := VoiceText(tt.via, tt.source, Rank(0), nil); got != tt.want {
			t.Errorf("%s of %q: %q, want %q", tt.via, tt.source.ID, got, tt.want)
		}
	}
}
