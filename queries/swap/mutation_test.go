package swap_test

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"os"
	"reflect"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// mutants is a graph with parts in it that nobody lists anywhere: copies of
// parts as built of which one thing is changed.
type mutants struct {
	graph.Reader
	parts map[graph.PartID]graph.Part
	count int // made so far
	stood *examine.Before
	tried string
}

// against is a machine to hold changes of some places against, which are named by what is
// tried: what was read around them and judged as built is kept while it is the same.
func (m *mutants) against(before *machine.Setup, tried string) *examine.Before {
	if m.stood == nil || m.stood.Setup() != before || m.tried != tried {
		m.stood, m.tried = examine.From(before), tried
	}
	return m.stood
}

// mutantsOver starts without mutants. What the machines have as built is read once
// for all of them.
func mutantsOver(facts graph.Facts) *mutants {
	return &mutants{Reader: once.New(readertest.New(facts)), parts: map[graph.PartID]graph.Part{}}
}

func (m *mutants) Parts(ctx context.Context, ids ...graph.PartID) ([]graph.Part, error) {
	known, err := m.Reader.Parts(ctx, ids...)
	for _, id := range ids {
		if p, ok := m.parts[id]; ok {
			known = append(known, p)
		}
	}
	slices.SortFunc(known, func(a, b graph.Part) int { return cmp.Compare(a.ID, b.ID) })
	return known, err
}

func (m *mutants) PartsByKey(ctx context.Context, keys ...string) ([]graph.PartID, error) {
	known, err := m.Reader.PartsByKey(ctx, keys...)
	for id := range m.parts {
		_, number, _ := strings.Cut(string(id), " ")
		if slices.Contains(keys, graph.NumberKey(number)) {
			known = append(known, id)
		}
	}
	slices.Sort(known)
	return known, err
}

// mutant is one part as built with one recorded dimension changed by a third, or by a
// factor, or left out.
type mutant struct {
	on        graph.VariantID
	at        graph.Position
	part      graph.Part // as built
	kind      graph.Kind
	feature   graph.Feature
	dim       string
	was, text string // text is empty where it is left out
}

// onThe is the same change of the part at another place; false where that has no such
// dimension.
func (m mutant) onThe(other machine.Seat) (mutant, bool) {
	f, ok := other.Part.Feature(m.feature.Name)
	if !ok || f.Kind != m.feature.Kind || len(f.Dims[m.dim]) == 0 || other.Part.Kind != m.part.Kind {
		return mutant{}, false
	}
	m.at, m.part, m.feature, m.was = other.Position, other.Part, f, f.Dims[m.dim][0].Text
	return m, true
}

func (m mutant) String() string {
	return fmt.Sprintf("%s %s: %s %s.%s %q for %q", m.on, m.at.ID.Local(), m.part.ID, m.feature.Name, m.dim, m.text, m.was)
}

// name is the same on all machines that have the part at that place.
func (m mutant) name() string {
	return fmt.Sprintf("%s: %s %s.%s %q for %q", m.at.ID, m.part.ID, m.feature.Name, m.dim, m.text, m.was)
}

// sort is what survivors are counted by.
func (m mutant) sort() string {
	how := "changed"
	if m.text == "" {
		how = "left out"
	}
	return fmt.Sprintf("%s.%s %s (%s.%s)", m.feature.Kind, m.dim, how, m.part.Kind, m.feature.Name)
}

// made is the mutated part.
func (m mutant) made() graph.Part {
	p := m.part
	p.Features = slices.Clone(p.Features)
	for i, f := range p.Features {
		if f.Name != m.feature.Name {
			continue
		}
		dims := map[string][]graph.Reading{}
		for name, readings := range f.Dims {
			dims[name] = readings
		}
		delete(dims, m.dim)
		if m.text != "" {
			r := f.Dims[m.dim][0]
			r.Text = m.text
			dims[m.dim] = []graph.Reading{r}
		}
		p.Features[i].Dims = dims
	}
	return p
}

var (
	millimetres = regexp.MustCompile(`(\d+(?:\.\d+)?) mm`)
	coordinates = regexp.MustCompile(`(-?\d+(?:\.\d+)?),(-?\d+(?:\.\d+)?)`)
)

// byAThird is another value of a dimension: a number a third larger, the next
// larger thread, another word. Empty when there is none.
func byAThird(spec graph.DimSpec, text string) string {
	third := func(v float64) float64 {
		if v == 0 {
			return 10
		}
		return v + v/3
	}
	switch t := spec.Type; t {
	case measure.Count:
		v, err := measure.ParseQuantity(text, t)
		if err != nil {
			return ""
		}
		return fmt.Sprint(int(math.Ceil(third(v.Nominal))))
	case measure.Thread:
		return otherThread(text)
	case measure.Word, measure.Words:
		for _, w := range spec.Words {
			if !strings.EqualFold(w, text) && !strings.Contains(text, w) {
				return w
			}
		}
		if spec.Words != nil {
			return ""
		}
		return "another than " + text
	case measure.YesNo:
		if text == "yes" {
			return "no"
		}
		return "yes"
	case measure.Text:
		return "another than " + text
	case measure.Points:
		return coordinates.ReplaceAllStringFunc(text, func(at string) string {
			x, y, _ := strings.Cut(at, ",")
			f, _ := strconv.ParseFloat(x, 64)
			return fmt.Sprintf("%g,%s", third(f), y)
		})
	case measure.Sizes:
		return millimetres.ReplaceAllStringFunc(text, func(size string) string {
			f, _ := strconv.ParseFloat(strings.TrimSuffix(size, " mm"), 64)
			return fmt.Sprintf("%.2f mm", third(f))
		})
	case measure.Pins:
		return strings.Replace(text, "1 ", "9 ", 1)
	default:
		v, err := measure.ParseQuantity(text, t)
		if err != nil {
			return ""
		}
		return measure.Format(third(v.Nominal), t)
	}
}

// byFactors are a measured dimension half, twice and five times as large: what a rule sees
// that is a third off it may pass where it is off by far. None for anything else.
func byFactors(spec graph.DimSpec, text string) []string {
	v, err := measure.ParseQuantity(text, spec.Type)
	if err != nil || !spec.Type.Measured() || v.Nominal == 0 {
		return nil
	}
	return lists.Mapped([]float64{0.5, 2, 5}, func(factor float64) string {
		return measure.Format(v.Nominal*factor, spec.Type)
	})
}

func otherThread(text string) string {
	if strings.HasPrefix(text, "M6x1") {
		return "M8x1.25"
	}
	return "M6x1"
}

// sameEverywhere tells mutants apart whose surroundings differ: one part at one
// place of machines on which everything that it meets is the same need be tried
// once only.
func sameEverywhere(t *testing.T, s *machine.Setup, id graph.PositionID) string {
	t.Helper()
	c, err := examine.ConnectionsAt(t.Context(), s, []graph.PositionID{id})
	if err != nil {
		t.Fatal(err)
	}
	key := string(s.Variant.Model) + " " + id.Local()
	for _, at := range c.Positions() {
		key += " " + string(s.Seat(at).Part.ID)
	}
	return key
}

// dataSets are the sets of data that are tried: the demonstration, and a machine quite
// unlike it, of which a larger share is tried.
func dataSets(t *testing.T) []struct {
	name  string
	facts graph.Facts
	share int
} {
	t.Helper()
	return []struct {
		name  string
		facts graph.Facts
		share int
	}{{"demo", demotest.Facts(t), 100}, {"single", demotest.Single(t), 8}}
}

// Nothing is called "fits" that was not judged: whichever recorded dimension of
// whichever part as built is changed by a third, or by far, or not recorded, the answer is no
// bare "fits", unless the kind of part says why the dimension does not decide: where
// a rule judged it and it passed, the answer says what differs and which rule did.
func TestMutants(t *testing.T) {
	demotest.Alone(t)
	for _, set := range dataSets(t) {
		t.Run(set.name, func(t *testing.T) { tryMutants(t, set.facts, set.share) })
	}
}

// enough fails a test that tried less of what it samples than it once came to: one that
// tries nothing holds of everything.
func enough(t *testing.T, tried, least int) {
	t.Helper()
	if t.Logf("%d tried, %d at least", tried, least); tried < least {
		t.Errorf("only %d were tried, want %d at least", tried, least)
	}
}

// mutantTally is what came of mutants.
type mutantTally struct {
	tried, told int
	survivors   map[string][]string // by sort
}

// tallied tries what hangs on some items, on all processors at once: each takes items of
// its own, and reads for itself.
func tallied[T any](t *testing.T, what string, items []T, try func(*testing.T, []T) mutantTally) mutantTally {
	t.Helper()
	tallies := make([]mutantTally, runtime.GOMAXPROCS(0))
	t.Run(what, func(t *testing.T) {
		for hand := range tallies {
			t.Run(fmt.Sprint("of ", hand+1), func(t *testing.T) {
				t.Parallel()
				var own []T
				for i := hand; i < len(items); i += len(tallies) {
					own = append(own, items[i])
				}
				tallies[hand] = try(t, own)
			})
		}
	})
	all := mutantTally{survivors: map[string][]string{}}
	for _, one := range tallies {
		all.tried, all.told = all.tried+one.tried, all.told+one.told
		for sort, who := range one.survivors {
			all.survivors[sort] = append(all.survivors[sort], who...)
		}
	}
	return all
}

// tryMutants tries those of one set.
func tryMutants(t *testing.T, facts graph.Facts, many int) {
	t.Helper()
	share := sampletest.OneIn(t, many)
	all := tallied(t, "places", facts.Positions, func(t *testing.T, places []graph.Position) mutantTally {
		return tryMutantsAt(t, facts, places, share)
	})
	left := 0
	for _, sort := range slices.Sorted(maps.Keys(all.survivors)) {
		if why := explained(sort); why != "" {
			continue
		}
		left += len(all.survivors[sort])
		t.Errorf("%d survive: %s, as %s", len(all.survivors[sort]), sort, all.survivors[sort][0])
	}
	t.Logf("%d mutants tried, %d told, %d survive unexplained", all.tried, all.told, left)
	enough(t, all.tried, 180)
}

// tryMutantsAt tries those at some places of all machines.
func tryMutantsAt(t *testing.T, facts graph.Facts, places []graph.Position, share func(string) bool) mutantTally {
	t.Helper()
	kinds := map[graph.KindID]graph.Kind{}
	for _, k := range facts.Kinds {
		kinds[k.ID] = k
	}
	r, seen, chosen := mutantsOver(facts), map[string]bool{}, map[string]choice{}
	tally := mutantTally{survivors: map[string][]string{}}
	for _, v := range facts.Variants {
		before, own := startedOn(t, r, v, places)
		began := r.count
		for _, p := range own {
			if r.count-began > mutantsKept {
				before, _ = startedOn(t, r, v, places)
				began = r.count
			}
			seat := before.Seat(p.ID)
			key := string(p.ID) + " " + string(seat.Part.ID)
			some, ok := chosen[key]
			if !ok || !readAlike(some.of, seat.Part) {
				some = choice{seat.Part, lists.Kept(mutantsOf(v.ID, p, seat.Part, kinds[seat.Part.Kind]),
					func(m mutant) bool { return share(m.name()) })}
				chosen[key] = some
			}
			if len(some.mutants) == 0 {
				continue // what it meets need not be known
			}
			if where := sameEverywhere(t, before, p.ID); !seen[where] {
				seen[where] = true
				tally.tryAll(t, r, before, some.mutants)
			}
		}
	}
	return tally
}

// tryAll tries mutants of the part at a place of a machine.
func (a *mutantTally) tryAll(t *testing.T, r *mutants, before *machine.Setup, some []mutant) {
	t.Helper()
	for _, m := range some {
		m.on, m.part = before.Variant.ID, before.Seat(m.at.ID).Part
		a.tried++
		if survives(t, r, before, m) {
			a.survivors[m.sort()] = append(a.survivors[m.sort()], m.String())
		} else {
			a.told++
		}
	}
}

// startedOn is a machine as built with a library of its own, and those of some places that
// it has.
func startedOn(t *testing.T, r graph.Reader, v graph.Variant,
	places []graph.Position) (*machine.Setup, []graph.Position) {
	t.Helper()
	before := machine.StartIn(machine.NewLibrary(r), v, "")
	own, err := placesOn(t.Context(), before, places)
	if err != nil {
		t.Fatal(err)
	}
	return before, own
}

// mutantsKept is how many mutants a library reads before another one is begun, so that what
// it keeps of them does not fill the memory.
const mutantsKept = 500

// choice are the mutants of a part that are in the sample: the same on each machine that
// has it at that place, unless it reads otherwise there.
type choice struct {
	of      graph.Part
	mutants []mutant
}

// readAlike reports whether of each dimension of a part the same reading counts.
func readAlike(a, b graph.Part) bool {
	return slices.EqualFunc(a.Features, b.Features, func(a, b graph.Feature) bool {
		return a.Name == b.Name && a.Kind == b.Kind && maps.EqualFunc(a.Dims, b.Dims, func(a, b []graph.Reading) bool {
			return len(a) == len(b) && (len(a) == 0 || a[0].Text == b[0].Text)
		})
	})
}

// placesOn are those of some places that a machine has and where something sits, loaded.
func placesOn(ctx context.Context, before *machine.Setup, places []graph.Position) ([]graph.Position, error) {
	own := lists.Kept(places, func(p graph.Position) bool { return slices.Contains(p.On, before.Variant.ID) })
	err := before.Load(ctx, lists.Mapped(own, func(p graph.Position) graph.PositionID { return p.ID })...)
	return lists.Kept(own, func(p graph.Position) bool { return !before.Seat(p.ID).Empty }), err
}

// mutantsOf are the mutants of a part in which something that decides is another,
// or is not recorded.
func mutantsOf(on graph.VariantID, at graph.Position, part graph.Part, kind graph.Kind) []mutant {
	var all []mutant
	for _, f := range part.Features {
		spec, _ := graph.FeatureKindNamed(f.Kind)
		for _, dim := range spec.Dims {
			if len(f.Dims[dim.Name]) == 0 || kind.WhyNot(f.Name, dim) != "" {
				continue
			}
			m := mutant{on: on, at: at, part: part, kind: kind, feature: f, dim: dim.Name, was: f.Dims[dim.Name][0].Text}
			all = append(all, m)
			texts := []string{m.was, ""}
			for _, text := range append(byFactors(dim, m.was), byAThird(dim, m.was)) {
				if m.text = text; !slices.Contains(texts, text) {
					texts, all = append(texts, text), append(all, m)
				}
			}
		}
	}
	return all
}

// put is a machine with some mutants on it, and what it is held against. Its parts are in the
// graph until they are cleared.
func (m *mutants) put(t *testing.T, before *machine.Setup, tried string, some ...mutant) (*examine.Before,
	*machine.Setup) {
	t.Helper()
	put := map[graph.PositionID]graph.PartID{}
	for _, one := range some {
		made := one.made()
		m.count++
		// a new one each time: setups keep what they read
		made.ID = graph.PartID(fmt.Sprintf("%s 9%08d", one.part.Brand, m.count))
		m.parts[made.ID] = made
		put[one.at.ID] = made.ID
	}
	after, err := before.With(t.Context(), put)
	if err != nil {
		t.Fatal(err)
	}
	return m.against(before, tried), after
}

// isRefused reports whether something that reads what is another in some mutants comes, judged
// by itself, to worse than a verdict. Then the machine as a whole does too, and need not be
// judged: of one in so many it is all the same, and must.
func isRefused(t *testing.T, stood *examine.Before, after *machine.Setup, most graph.Verdict, some ...mutant) bool {
	t.Helper()
	x, err := examine.NewExaminer(t.Context(), stood, after)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range x.Touching("") {
		if !slices.ContainsFunc(some, func(m mutant) bool { return m.isReadBy(c) }) {
			continue
		}
		for _, o := range x.OutcomesOf([]examine.Connection{c}) {
			if o.After > most {
				return true
			}
		}
	}
	return false
}

// isReadBy reports whether a connection looks at the feature of which something is another.
func (m mutant) isReadBy(c examine.Connection) bool {
	reads := c.Reads()
	of, named := reads[m.at.ID]
	return slices.Contains(c.Places, m.at.ID) && (reads == nil || !named ||
		slices.ContainsFunc(of, func(name string) bool {
			name, _, _ = strings.Cut(name, ".")
			return name == m.feature.Name || name == m.feature.Kind
		}))
}

// judgedAllTheSame is one in how many mutants that something refuses is judged as a whole too.
const judgedAllTheSame = 12

// mustRefuse fails where the machine as a whole comes to no worse than a verdict although
// something on it does.
func mustRefuse(t *testing.T, what fmt.Stringer, j swap.Judgement, most graph.Verdict) {
	t.Helper()
	if j.Answer.Verdict <= most {
		t.Errorf("%s: %s, although something on it is worse", what, j.Answer.Verdict)
	}
}

// sameUnnamed fails where a judgement that does not name all that judged what differs comes to
// something else in anything besides.
func sameUnnamed(t *testing.T, m mutant, stood *examine.Before, after *machine.Setup, named swap.Judgement) {
	t.Helper()
	bare, err := swap.Judge(t.Context(), stood, after, swap.Asked{Unnamed: true})
	if err != nil {
		t.Fatal(err)
	}
	want := named.Answer
	for _, a := range []*swap.SwapAnswer{&want, &bare.Answer} {
		a.Differs = lists.Mapped(slices.Clone(a.Differs), func(d examine.Differs) examine.Differs {
			d.JudgedBy = nil
			return d
		})
	}
	if !reflect.DeepEqual(bare.Answer, want) || !reflect.DeepEqual(bare.Outcomes, named.Outcomes) {
		t.Errorf("%s comes to something else where nobody asks which checks judged it", m)
	}
}

// survives reports whether the mutant is called "fits" without a word about what
// is another.
func survives(t *testing.T, r *mutants, before *machine.Setup, m mutant) bool {
	t.Helper()
	defer clear(r.parts)
	stood, after := r.put(t, before, string(m.at.ID), m)
	refused := isRefused(t, stood, after, graph.Fits, m)
	if refused && r.count%judgedAllTheSame != 0 {
		return false
	}
	j, err := swap.Judge(t.Context(), stood, after, swap.Asked{})
	if err != nil {
		t.Fatalf("%s: %v", m, err)
	}
	if refused {
		mustRefuse(t, m, j, graph.Fits)
	}
	if r.count%judgedAllTheSame == 0 {
		sameUnnamed(t, m, stood, after, j)
	}
	if j.Answer.Verdict == graph.Fits && os.Getenv("MATEWELL_DEBUG") != "" {
		for _, o := range j.Outcomes {
			fmt.Println("   ", m.dim, o.What, o.ID, o.After, o.Why)
		}
		for _, n := range j.Answer.NotJudged {
			fmt.Println("    left", n.Feature, n.Dim, n.Why, n.Decides)
		}
	}
	return j.Answer.Verdict == graph.Fits && !slices.ContainsFunc(j.Answer.Differs, func(d examine.Differs) bool {
		return d.Position == m.at.ID && d.Feature == m.feature.Name && d.Dim == m.dim
	})
}

// A dimension that only the new part has on record is not judged because a check looked
// at it: far smaller and far greater, one of the two must come out as no bare "fits".
func TestLoneDimensions(t *testing.T) {
	demotest.Alone(t)
	for _, set := range dataSets(t) {
		t.Run(set.name, func(t *testing.T) {
			share, tried, fits := sampletest.OneIn(t, set.share), 0, map[string]string{}
			kinds := map[graph.KindID]graph.Kind{}
			for _, k := range set.facts.Kinds {
				kinds[k.ID] = k
			}
			eachBuiltOf(t, set.facts, func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part) {
				for _, m := range mutantsOf(before.Variant.ID, at, part, kinds[part.Kind]) {
					spec, _ := graph.FeatureKindNamed(m.feature.Kind)
					dim, _ := spec.Dim(m.dim)
					if m.text != "" || !dim.Type.Measured() || !share(m.String()) {
						continue
					}
					if strings.HasPrefix(m.feature.Kind, "swing") {
						continue // far smaller and far greater both pass beside the room; between they meet
					}
					v, err := measure.ParseQuantity(m.was, dim.Type)
					if err != nil || v.Nominal == 0 {
						continue
					}
					tried++
					if loneFits(t, r, before, m, measure.Format(v.Nominal/20, dim.Type)) &&
						loneFits(t, r, before, m, measure.Format(v.Nominal*20, dim.Type)) {
						fits[m.sort()] = m.String()
					}
				}
			})
			for _, sort := range slices.Sorted(maps.Keys(fits)) {
				t.Errorf("%s fits whatever it is, as %s", sort, fits[sort])
			}
			enough(t, tried, 28)
		})
	}
}

// loneFits reports whether a part with another value in a dimension plainly fits in the
// place of one of which nobody recorded it.
func loneFits(t *testing.T, r *mutants, before *machine.Setup, m mutant, text string) bool {
	t.Helper()
	defer clear(r.parts)
	m.text = ""
	_, bare := r.put(t, before, "", m)
	m.text = text
	stood, after := r.put(t, bare, "", m)
	refused := isRefused(t, stood, after, graph.Fits, m)
	if refused && r.count%judgedAllTheSame != 0 {
		return false
	}
	j, err := swap.Judge(t.Context(), stood, after, swap.Asked{})
	if err != nil {
		t.Fatal(err)
	}
	if refused {
		mustRefuse(t, m, j, graph.Fits)
	}
	return j.Answer.Verdict == graph.Fits
}

// explained says why a dimension that decides may be another without a word; empty
// when there is no reason.
func explained(string) string { return "" }

// The same part under another number fits everywhere it did: in all but one place
// in a hundred at the most, where its kind has nothing to compare it by. The gap
// between a line and an exhaust is a measure of the machine with these very parts on,
// which no dimension of a part gives: that one is to be measured again.
func TestTwinsFit(t *testing.T) {
	demotest.Alone(t)
	tried, heat, other, share := 0, 0, map[string]int{}, sampletest.OneIn(t, 4)
	eachBuilt(t, func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part) {
		if !share(fmt.Sprint(at.ID, part.ID)) {
			return
		}
		tried++
		twin := part
		a := r.judged(t, before, at, twin)
		if onlyHeat(a) {
			heat++
			return
		}
		if a.Verdict != graph.Fits {
			other[fmt.Sprintf("%s %s: %s", part.Kind, a.Verdict, whyNot(a))]++
		}
	})
	failed := 0
	for _, why := range slices.Sorted(maps.Keys(other)) {
		failed += other[why]
		t.Logf("%d times %s", other[why], why)
	}
	t.Logf("%d of %d twins fit", tried-failed, tried)
	enough(t, tried, 300)
	if failed*100 > tried {
		t.Errorf("%d of %d twins do not fit, want one in a hundred at the most", failed, tried)
	}
	if heat*50 > tried { // few lines pass an exhaust
		t.Errorf("%d of %d twins are to be measured beside the exhaust", heat, tried)
	}
}

// onlyHeat reports whether an answer leaves open nothing but gaps between lines and
// exhausts.
func onlyHeat(a swap.SwapAnswer) bool {
	open := slices.Concat(a.DoesNotMate, a.Unknown)
	return len(open) > 0 && !slices.ContainsFunc(open, func(o examine.Outcome) bool { return o.What != examine.OfHeat })
}

// A part of the other side, or of the same kind on another machine, is called "fits"
// only where the answer tells all in which it differs.
func TestOthersAreTold(t *testing.T) {
	demotest.Alone(t)
	byKind := map[graph.KindID][]graph.Part{}
	for _, p := range demotest.Facts(t).Parts {
		byKind[p.Kind] = append(byKind[p.Kind], p)
	}
	tried, share := 0, sampletest.OneIn(t, 20)
	eachBuiltOf(t, demotest.Facts(t), func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part) {
		for i, o := range byKind[part.Kind] {
			if o.ID == part.ID || i%7 != len(at.ID)%7 || !share(fmt.Sprint(at.ID, part.ID, o.ID)) {
				continue // a seventh at the most: each with each would take too long
			}
			tried++
			a := r.judged(t, before, at, o)
			if a.Verdict != graph.Fits {
				continue
			}
			if silent := untold(part, o, a, at.ID); silent != "" {
				t.Errorf("%s in place of %s at %s fits, and not a word about its %s", o.ID, part.ID, at.ID, silent)
			}
		}
	})
	enough(t, tried, 480)
}

// untold is a recorded dimension in which two parts differ and of which an answer
// does not tell.
func untold(was, now graph.Part, a swap.SwapAnswer, at graph.PositionID) string {
	for _, f := range now.Features {
		before, ok := was.Feature(f.Name)
		spec, _ := graph.FeatureKindNamed(f.Kind)
		for _, dim := range spec.Dims {
			if !ok || before.Kind != f.Kind || len(f.Dims[dim.Name]) == 0 || len(before.Dims[dim.Name]) == 0 ||
				evidence.Agree(dim, f.Dims[dim.Name][0], before.Dims[dim.Name][0]) {
				continue
			}
			told := slices.ContainsFunc(a.Differs, func(d examine.Differs) bool {
				return d.Position == at && d.Feature == f.Name && d.Dim == dim.Name
			}) || slices.ContainsFunc(a.NotJudged, func(n examine.NotJudged) bool {
				return n.Position == at && n.Feature == f.Name && (n.Dim == dim.Name || n.Dim == "")
			})
			if !told {
				return f.Name + "." + dim.Name
			}
		}
	}
	return ""
}

// judged is the judgement of a part under a number that nobody lists.
func (m *mutants) judged(t *testing.T, before *machine.Setup, at graph.Position, part graph.Part) swap.SwapAnswer {
	t.Helper()
	m.count++
	part.ID = graph.PartID(fmt.Sprintf("%s 9%08d", part.Brand, m.count))
	m.parts[part.ID] = part
	defer delete(m.parts, part.ID)
	after, err := before.With(t.Context(), map[graph.PositionID]graph.PartID{at.ID: part.ID})
	if err != nil {
		t.Fatal(err)
	}
	j, err := swap.Judge(t.Context(), m.against(before, string(at.ID)), after, swap.Asked{})
	if err != nil {
		t.Fatalf("%s at %s: %v", part.ID, at.ID, err)
	}
	return j.Answer
}

func whyNot(a swap.SwapAnswer) string {
	for _, o := range slices.Concat(a.DoesNotMate, a.Unknown, a.WithChanges) {
		return o.What + ": " + o.Why
	}
	return "?"
}

// eachBuilt visits every part as built at every place of the demonstration and of the
// single, each part and place once.
func eachBuilt(t *testing.T, visit func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part)) {
	t.Helper()
	for _, set := range dataSets(t) {
		eachBuiltOf(t, set.facts, visit)
	}
}

func eachBuiltOf(t *testing.T, facts graph.Facts,
	visit func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part)) {
	t.Helper()
	read := sync.OnceValues(func() (walk, error) { return walkOver(t.Context(), facts) })
	// facts are read once for all tests, so that their first place tells which they are
	kept, _ := walks.LoadOrStore(&facts.Positions[0], read)
	w, err := kept.(func() (walk, error))()
	if err != nil {
		t.Fatal(err)
	}
	for _, stop := range w.stops {
		visit(w.r, stop.before, stop.at, stop.part)
	}
}

// walk are all parts as built at all places of a set of data, each once.
type walk struct {
	r     *mutants
	stops []stop
}

type stop struct {
	before *machine.Setup
	at     graph.Position
	part   graph.Part
}

var walks sync.Map // by set of data

func walkOver(ctx context.Context, facts graph.Facts) (walk, error) {
	w, seen := walk{r: mutantsOver(facts)}, map[string]bool{}
	for _, v := range facts.Variants {
		before := machine.StartIn(machine.NewLibrary(w.r), v, "")
		places, err := placesOn(ctx, before, facts.Positions)
		if err != nil {
			return walk{}, err
		}
		for _, p := range places {
			seat := before.Seat(p.ID)
			key := string(p.ID) + " " + string(seat.Part.ID)
			if seen[key] {
				continue
			}
			seen[key] = true
			w.stops = append(w.stops, stop{before, p, seat.Part})
		}
	}
	return w, nil
}

// A machine that was held against one part of a place already judges the next as one does
// that nothing was held against yet.
func TestStoodBefore(t *testing.T) {
	demotest.Alone(t)
	tried, share := 0, sampletest.OneIn(t, 40)
	eachBuilt(t, func(r *mutants, before *machine.Setup, at graph.Position, part graph.Part) {
		if !share(fmt.Sprint(at.ID, part.ID)) {
			return
		}
		kind := before.Library().Kind(part.Kind)
		some := mutantsOf(before.Variant.ID, at, part, kind)
		for _, m := range some[:min(2, len(some))] {
			tried++
			r.judged(t, before, at, part)
			kept := r.judged(t, before, at, m.made())
			r.stood, r.count = nil, r.count-1 // the same number again
			if fresh := r.judged(t, before, at, m.made()); !reflect.DeepEqual(kept, fresh) {
				t.Errorf("%s is judged otherwise once another part was", m)
			}
		}
	})
	enough(t, tried, 55)
}
