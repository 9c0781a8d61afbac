package queries

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
)

// Coverage is a set of variants of one model said shortly: years without a gap,
// the markets that have all of them, and the mark where the years hold only one
// of several.
type Coverage struct {
	Model   graph.ModelID     `json:"model"`
	From    int               `json:"from"` // first model year
	To      int               `json:"to"`   // last model year
	Markets []string          `json:"markets"`
	Mark    string            `json:"mark,omitempty"`
	Frames  string            `json:"frames,omitempty"` // frame numbers it is limited to, as written
	On      []graph.VariantID `json:"variants"`         // sorted
}

// Years is "2003" or "2001-2003".
func (c Coverage) Years() string { return measure.Years{From: c.From, To: c.To}.String() }

// String is the coverage without its model: "2001-2003 eu, uk", "2003 eu late
// (TK6A-012001 to TK6A-015000)".
func (c Coverage) String() string {
	text := strings.TrimSpace(c.Years() + " " + strings.Join(c.Markets, ", "))
	if c.Mark != "" {
		text += " " + c.Mark
	}
	if c.Frames != "" {
		text += " (" + c.Frames + ")"
	}
	return text
}

// Compare orders coverages by model, years, markets, mark and frame numbers.
func (c Coverage) Compare(d Coverage) int {
	return cmp.Or(cmp.Compare(c.Model, d.Model), cmp.Compare(c.From, d.From), cmp.Compare(c.To, d.To),
		slices.Compare(c.Markets, d.Markets), cmp.Compare(c.Mark, d.Mark), cmp.Compare(c.Frames, d.Frames))
}

// VariantOf takes the identity of a variant apart. Its frame numbers and
// schemes are not in the identity: they stay empty.
func VariantOf(id graph.VariantID) graph.Variant {
	v := graph.Variant{ID: id}
	fields := strings.SplitN(string(id), "/", 4)
	v.Model = graph.ModelID(fields[0])
	if len(fields) > 1 {
		v.Year, _ = strconv.Atoi(fields[1]) // 0 when it is none: sorts first
	}
	if len(fields) > 2 {
		v.Market = fields[2]
	}
	if len(fields) > 3 {
		v.Mark = fields[3]
	}
	return v
}

// season is a model year in one market.
type season struct {
	model  graph.ModelID
	year   int
	market string
}

func seasonOf(v graph.Variant) season { return season{v.Model, v.Year, v.Market} }

// CoveragesOf groups variants. Marks are dropped where every mark that the
// universe has for the year and market is among the variants; the universe is
// all variants of the models, those without the position included: of a place
// that only the late ones have, "2003" would be said of the early ones too.
func CoveragesOf(variants, universe []graph.VariantID) []Coverage {
	bands := map[band]map[int][]graph.VariantID{}
	for _, v := range dropWholeMarks(variants, universe) {
		key := band{v.Model, v.Market, v.Mark}
		if bands[key] == nil {
			bands[key] = map[int][]graph.VariantID{}
		}
		bands[key][v.Year] = append(bands[key][v.Year], v.ID)
	}
	var found []Coverage
	for key, years := range bands {
		found = append(found, key.runs(years)...)
	}
	return joinMarkets(found)
}

// dropWholeMarks gives the variants taken apart, without the mark where the
// year and market are there with all of their marks.
func dropWholeMarks(variants, universe []graph.VariantID) []graph.Variant {
	have, all := map[season]int{}, map[season]int{}
	for _, id := range variants {
		have[seasonOf(VariantOf(id))]++
	}
	for _, id := range universe {
		all[seasonOf(VariantOf(id))]++
	}
	return lists.Mapped(variants, func(id graph.VariantID) graph.Variant {
		v := VariantOf(id)
		if s := seasonOf(v); all[s] > 0 && have[s] >= all[s] {
			v.Mark = ""
		}
		return v
	})
}

type band struct {
	model  graph.ModelID
	market string
	mark   string
}

// runs cuts the years into stretches without a gap.
func (b band) runs(years map[int][]graph.VariantID) []Coverage {
	var runs []Coverage
	for _, year := range lists.KeysOf(years) {
		last := len(runs) - 1
		if last < 0 || runs[last].To+1 != year {
			runs = append(runs, Coverage{Model: b.model, From: year, Markets: []string{b.market}, Mark: b.mark})
			last++
		}
		runs[last].To = year
		runs[last].On = append(runs[last].On, years[year]...)
	}
	return runs
}

// joinMarkets joins coverages that differ in their market only.
func joinMarkets(all []Coverage) []Coverage {
	slices.SortFunc(all, Coverage.Compare)
	var joined []Coverage
	for _, c := range all {
		at := slices.IndexFunc(joined, func(j Coverage) bool {
			return j.Model == c.Model && j.From == c.From && j.To == c.To && j.Mark == c.Mark
		})
		if at < 0 {
			joined = append(joined, c)
			continue
		}
		joined[at].Markets = lists.Unique(append(joined[at].Markets, c.Markets...))
		joined[at].On = append(joined[at].On, c.On...)
	}
	for i := range joined {
		joined[i].On = lists.Unique(joined[i].On)
	}
	slices.SortFunc(joined, Coverage.Compare)
	return joined
}

// SiblingsOf reads the identities of all variants of the models of some.
func SiblingsOf(ctx context.Context, r graph.Reader, some []graph.VariantID) ([]graph.VariantID, error) {
	models := lists.Unique(lists.Mapped(some, graph.VariantID.Model))
	if len(models) == 0 {
		return nil, nil
	}
	return r.VariantIDs(ctx, models...)
}

// SettledBy names the facts that tell the variants of a coverage from others of
// the same model years for which the answer is another one: "market", "frame
// number". alike are the variants with the same answer, those of the coverage
// among them. Without a variant that differs the result is empty.
func SettledBy(c Coverage, alike, universe []graph.VariantID) []string {
	inside := map[graph.VariantID]bool{}
	for _, id := range alike {
		inside[id] = true
	}
	market, frame := false, c.Frames != ""
	for _, id := range universe {
		v := VariantOf(id)
		if inside[id] || v.Model != c.Model || v.Year < c.From || v.Year > c.To {
			continue
		}
		if slices.Contains(c.Markets, v.Market) {
			frame = true
		} else {
			market = true
		}
	}
	var facts []string
	if market {
		facts = append(facts, "market")
	}
	if frame {
		facts = append(facts, "frame number")
	}
	return facts
}

// SplitLine is one of several variants of the model years asked about.
type SplitLine struct {
	Variant graph.VariantID `json:"variant"`
	Market  string          `json:"market"`
	Frames  string          `json:"frames,omitempty"` // empty when not known
}
