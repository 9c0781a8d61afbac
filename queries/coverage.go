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
	model, rest, _ := strings.Cut(string(id), "/")
	year, rest, _ := strings.Cut(rest, "/")
	market, mark, _ := strings.Cut(rest, "/")
	v := graph.Variant{ID: id, Model: graph.ModelID(model), Market: market, Mark: mark}
	v.Year, _ = strconv.Atoi(year) // 0 when it is none: sorts first
	return v
}

// season is a model year in one market.
type season struct {
	model  graph.ModelID
	year   int
	market string
}

func seasonOf(v graph.Variant) season { return season{v.Model, v.Year, v.Market} }

// Universe is the variants that some of them are told from, taken apart once:
// all of some models, or all that were asked about. The zero Universe is empty.
type Universe struct {
	byModel map[graph.ModelID][]graph.Variant
	marks   map[season]int // how many variants a model year has in a market
}

// UniverseOf takes variants apart. Doubles count twice.
func UniverseOf(ids []graph.VariantID) Universe {
	u := Universe{map[graph.ModelID][]graph.Variant{}, map[season]int{}}
	for _, id := range ids {
		v := VariantOf(id)
		u.byModel[v.Model] = append(u.byModel[v.Model], v)
		u.marks[seasonOf(v)]++
	}
	return u
}

// SiblingsOf reads which variants there are of some models.
func SiblingsOf(ctx context.Context, r graph.Reader, models []graph.ModelID) (Universe, error) {
	models = lists.Unique(slices.Clone(models))
	if len(models) == 0 {
		return Universe{}, nil
	}
	ids, err := r.VariantIDs(ctx, models...)
	return UniverseOf(ids), err
}

// IDs are the variants for which wanted holds, by model in no order.
func (u Universe) IDs(wanted func(graph.VariantID) bool) []graph.VariantID {
	var ids []graph.VariantID
	for _, variants := range u.byModel {
		for _, v := range variants {
			if wanted(v.ID) {
				ids = append(ids, v.ID)
			}
		}
	}
	return ids
}

// CoveragesOf groups variants. Marks are dropped where every mark that the
// universe has for the year and market is among the variants; the universe is
// all variants of the models, those without the position included: of a place
// that only the late ones have, "2003" would be said of the early ones too.
func CoveragesOf(variants []graph.VariantID, universe Universe) []Coverage {
	bands := map[band]map[int][]graph.VariantID{}
	for _, v := range universe.dropWholeMarks(variants) {
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
func (u Universe) dropWholeMarks(variants []graph.VariantID) []graph.Variant {
	apart := lists.Mapped(variants, VariantOf)
	marked := func(v graph.Variant) bool { return v.Mark != "" }
	if !slices.ContainsFunc(apart, marked) {
		return apart
	}
	have := map[season]int{}
	for _, v := range apart {
		have[seasonOf(v)]++
	}
	for i, v := range apart {
		if s := seasonOf(v); u.marks[s] > 0 && have[s] >= u.marks[s] {
			apart[i].Mark = ""
		}
	}
	return apart
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
	type years struct {
		model    graph.ModelID
		from, to int
		mark     string
	}
	places := map[years]int{}
	var joined []Coverage
	for _, c := range all {
		key := years{c.Model, c.From, c.To, c.Mark}
		at, have := places[key]
		if !have {
			places[key] = len(joined)
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

// SettledBy names the facts that tell the variants of a coverage from others of
// the same model years for which the answer is another one: "market", "frame
// number". alike are the variants with the same answer, those of the coverage
// among them. Without a variant that differs the result is empty.
func SettledBy(c Coverage, alike []graph.VariantID, universe Universe) []string {
	market, frame := false, c.Frames != ""
	for _, v := range universe.byModel[c.Model] {
		if v.Year < c.From || v.Year > c.To || slices.Contains(alike, v.ID) {
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
