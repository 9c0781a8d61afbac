package queries_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

func ids(text string) []graph.VariantID {
	return lists.Mapped(strings.Fields(text), func(s string) graph.VariantID { return graph.VariantID("skerry-620/" + s) })
}

func TestCoverages(t *testing.T) {
	all := "2001/eu 2001/uk 2002/eu 2002/uk 2003/eu/early 2003/eu/late 2003/uk 2004/eu"
	tests := []struct{ name, on, want string }{
		{"nothing", "", ""},
		{"one", "2001/eu", "2001 eu"},
		{"years without a gap", "2001/eu 2002/eu", "2001-2002 eu"},
		{"a gap", "2001/eu 2004/eu", "2001 eu; 2004 eu"},
		{"two markets alike", "2001/eu 2001/uk 2002/eu 2002/uk", "2001-2002 eu, uk"},
		{"two markets, other years", "2001/eu 2002/eu 2002/uk", "2001-2002 eu; 2002 uk"},
		{"one of two marks", "2002/eu 2003/eu/early", "2002 eu; 2003 eu early"},
		{"both marks are the whole year", "2002/eu 2003/eu/early 2003/eu/late 2004/eu", "2002-2004 eu"},
		{"everything", all, "2001-2003 uk; 2001-2004 eu"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var texts []string
			var on []graph.VariantID
			for _, c := range queries.CoveragesOf(ids(tt.on), queries.UniverseOf(ids(all))) {
				texts = append(texts, c.String())
				on = append(on, c.On...)
			}
			if got := strings.Join(texts, "; "); got != tt.want {
				t.Errorf("covers %q, want %q", got, tt.want)
			}
			if got, want := lists.Unique(on), lists.Unique(ids(tt.on)); !slices.Equal(got, want) {
				t.Errorf("variants %v, want %v", got, want)
			}
		})
	}
}

func TestSettledBy(t *testing.T) {
	all := queries.UniverseOf(ids("2002/eu 2003/eu/early 2003/eu/late 2003/uk"))
	tests := []struct{ name, on, alike, want string }{
		{"nothing else that year", "2002/eu", "2002/eu", ""},
		{"the other mark differs", "2003/eu/early", "2003/eu/early 2003/uk", "frame number"},
		{"the other market differs", "2003/eu/early 2003/eu/late", "2003/eu/early 2003/eu/late", "market"},
		{"both differ", "2003/eu/late", "2003/eu/late", "market, frame number"},
		{"all alike", "2003/uk", "2003/uk 2003/eu/early 2003/eu/late", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := queries.CoveragesOf(ids(tt.on), all)[0]
			if got := strings.Join(queries.SettledBy(c, ids(tt.alike), all), ", "); got != tt.want {
				t.Errorf("settled by %q, want %q", got, tt.want)
			}
		})
	}
}

// TestVariantOf takes identities apart, odd ones too: they must not panic.
func TestVariantOf(t *testing.T) {
	tests := []struct {
		id           graph.VariantID
		year         int
		market, mark string
	}{
		{"skerry-620/2003/eu/late", 2003, "eu", "late"},
		{"skerry-620/2003/eu", 2003, "eu", ""},
		{"skerry-620/x", 0, "", ""},
		{"", 0, "", ""},
	}
	for _, tt := range tests {
		t.Run(string(tt.id), func(t *testing.T) {
			if v := queries.VariantOf(tt.id); v.Year != tt.year || v.Market != tt.market || v.Mark != tt.mark {
				t.Errorf("%+v", v)
			}
		})
	}
}
