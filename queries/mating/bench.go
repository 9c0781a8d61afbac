package mating

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/article"
	"matewell/graph/measure"
)

// place names one dimension that a judgement looked at.
type place struct {
	position graph.PositionID
	part     graph.PartID
	feature  string
	dim      string
	// first is where its readings are kept: it tells two sides apart that
	// nobody gave an identity.
	first *graph.Reading
}

// looked is what there is to find at a place: its distinct values, best first,
// and how to measure it, where there are several.
type looked struct {
	readings []graph.Reading
	values   []*measure.Value // shared, not to be changed
	ask      func() Ask
}

// sights is all that a judgement looked at, in the order of the first looks. There are
// a dozen or two: going through them takes less than a map of places would.
type sights struct {
	places []place
	found  []looked
}

// index is where a place stands; below zero for one that nobody looked at.
func (s *sights) index(at place) int {
	for i := range s.places {
		if p := &s.places[i]; p.first == at.first && *p == at {
			return i
		}
	}
	return -1
}

func (s *sights) add(at place, l looked) int {
	if s.places == nil {
		s.places, s.found = make([]place, 0, usualSights), make([]looked, 0, usualSights)
	}
	s.places, s.found = append(s.places, at), append(s.found, l)
	return len(s.places) - 1
}

// usualSights is room for what most judgements look at, usualUses for what most checks
// use of it.
const (
	usualSights = 8
	usualUses   = 4
)

// picked is a choice of readings: for each place that was looked at, in that order, an
// index into its distinct values. Places beyond its end take the first.
type picked []int

func (p picked) at(i int) int {
	if i < len(p) {
		return p[i]
	}
	return 0
}

// bench is one judgement: which reading of each dimension it takes, what it
// looked at, and the checks it made.
type bench struct {
	pick   picked
	looked *sights // shared by all trials of one judgement, so that nothing is read twice
	checks []*check
	flip   bool // side B is the new one: Had is said of it
	// quiet is true where only the verdict and the sizes are asked for: then no words
	// are put together and no uses noted. What is read is the same.
	quiet bool
	// brief is quiet but for what is to be done and made, which is worded as ever.
	brief bool
}

// check is a Check being made.
type check struct {
	Check
	bench   *bench
	said    []saying
	missing []Ask
	ahead   bool // a change that was stated is more than routine
}

// aside is a bench beside this one that takes the same readings: what is checked
// there belongs to another judgement.
func (b *bench) aside() *bench {
	return &bench{pick: b.pick, looked: b.looked, quiet: b.quiet, brief: b.brief}
}

// also notes readings that were used aside.
func (c *check) also(uses []Use) {
	for _, use := range uses {
		if !slices.Contains(c.Uses, use) {
			c.Uses = append(c.Uses, use)
		}
	}
}

type saying struct {
	verdict graph.Verdict
	text    string
}

// check opens a check. Its rule's name must be unique on the bench.
func (b *bench) check(ruleName string) *check {
	c := &check{Check: Check{Rule: ruleName, Basis: basisOf(ruleName)}, bench: b}
	b.checks = append(b.checks, c)
	return c
}

// value reads a dimension and notes its use. A dimension that nobody gave, or
// that can't be read, is not noted and gives false.
func (c *check) value(at place, readings []graph.Reading, ask func() Ask, t measure.Type) (measure.Value, bool) {
	if len(readings) == 0 {
		return measure.Value{}, false
	}
	at.first = &readings[0]
	seen := c.bench.looked.index(at)
	if seen < 0 {
		seen = c.bench.looked.add(at, newLooked(readings, ask, t))
	}
	return c.take(seen)
}

func newLooked(readings []graph.Reading, ask func() Ask, t measure.Type) looked {
	l := looked{ask: ask}
	l.readings, l.values = distinct(readings, t)
	return l
}

// take is the value picked of what was looked at, and notes its use.
func (c *check) take(seen int) (measure.Value, bool) {
	found := &c.bench.looked.found[seen]
	if len(found.values) == 0 {
		return measure.Value{}, false
	}
	i := min(c.bench.pick.at(seen), len(found.values)-1)
	if c.bench.quiet || c.bench.brief {
		return *found.values[i], true
	}
	at := &c.bench.looked.places[seen]
	use := Use{at.position, at.part, at.feature, at.dim, found.readings[i]}
	if c.Uses == nil {
		c.Uses = make([]Use, 0, usualUses)
	}
	if !slices.Contains(c.Uses, use) {
		c.Uses = append(c.Uses, use)
	}
	return *found.values[i], true
}

// distinct drops readings that say the same as one before them, those that
// can't be read, and those that a measurement on the very part outranks.
func distinct(readings []graph.Reading, t measure.Type) (kept []graph.Reading, values []*measure.Value) {
	if len(readings) == 1 && !readings[0].Outranked { // as nearly all are: nothing to drop
		v, err := measure.Kept(readings[0].Text, t)
		if err != nil {
			return nil, nil
		}
		return readings[:1:1], []*measure.Value{v}
	}
	for _, r := range readings {
		v, err := measure.Kept(r.Text, t)
		if err != nil || r.Outranked || slices.ContainsFunc(values, func(o *measure.Value) bool { return v.Equal(*o) }) {
			continue
		}
		kept, values = append(kept, r), append(values, v)
	}
	return kept, values
}

// peek reads a dimension of a side without asking for it when it is absent.
func (c *check) peek(s Side, dim string, t measure.Type) (measure.Value, bool) {
	readings := s.Feature.Dims[dim]
	if len(readings) == 0 {
		return measure.Value{}, false
	}
	at := place{position: s.Position, part: s.Part, feature: s.Feature.Name, dim: dim, first: &readings[0]}
	seen := c.bench.looked.index(at)
	if seen < 0 {
		var ask func() Ask
		if len(readings) > 1 { // of one reading nobody asks which
			ask = asker(s, dim)
		}
		seen = c.bench.looked.add(at, newLooked(readings, ask, t))
	}
	return c.take(seen)
}

// asker asks for a dimension of a side once somebody wants to know how.
func asker(s Side, dim string) func() Ask { return func() Ask { return askFor(s, dim) } }

// read reads a dimension of a side and asks for it when it is absent.
func (c *check) read(s Side, dim string, t measure.Type) (measure.Value, bool) {
	v, ok := c.peek(s, dim, t)
	if !ok {
		c.ask(askFor(s, dim))
	}
	return v, ok
}

// ask notes that something is missing; the check is then unknown at best.
func (c *check) ask(a Ask) {
	if !slices.Contains(c.missing, a) {
		c.missing = append(c.missing, a)
	}
}

// settle notes what would settle an unknown that is stated in its own words.
func (c *check) settle(asks ...Ask) {
	for _, a := range asks {
		if !slices.Contains(c.Measure, a) {
			c.Measure = append(c.Measure, a)
		}
	}
}

// length reads a length in mm and asks for it when it is absent; peekLength
// does not ask.
func (c *check) length(s Side, dim string) (span, bool) {
	v, ok := c.read(s, dim, measure.Length)
	return spanOf(v.Quantity), ok
}

func (c *check) peekLength(s Side, dim string) (span, bool) {
	v, ok := c.peek(s, dim, measure.Length)
	return spanOf(v.Quantity), ok
}

// word reads one of a list of words, in lower case; phrase reads what is
// written.
// cantTell leaves open what a formula refused to work out, and says why.
func (c *check) cantTell(what string, err error) {
	c.unknown("%s can't be worked out from these sizes: %s", what, err)
}

func (c *check) word(s Side, dim string) (string, bool) {
	v, ok := c.read(s, dim, measure.Word)
	return strings.ToLower(v.Text), ok
}

func (c *check) phrase(s Side, dim string) (string, bool) {
	v, ok := c.read(s, dim, measure.Word)
	return v.Text, ok
}

func (c *check) thread(s Side, dim string) (measure.ThreadSize, bool) {
	v, ok := c.read(s, dim, measure.Thread)
	return v.Thread, ok
}

func (c *check) count(s Side, dim string) (int, bool) {
	v, ok := c.read(s, dim, measure.Count)
	return int(v.Quantity.Nominal), ok
}

// fits, change, unknown and no state one thing about the joint. Of all that is
// stated, the worst makes the verdict.
func (c *check) fits(format string, args ...any) { c.say(graph.Fits, format, args...) }

func (c *check) change(effort graph.Effort, do string, format string, args ...any) {
	c.ahead = true
	c.routine(effort, do, format, args...)
}

// routine states a change that is no more than what any such work ends with; see
// Check.Routine.
func (c *check) routine(effort graph.Effort, do string, format string, args ...any) {
	c.Effort = max(c.Effort, effort)
	if !c.bench.quiet {
		c.Do = append(c.Do, article.Text(do))
	}
	c.say(graph.FitsWithChanges, format, args...)
}

func (c *check) unknown(format string, args ...any) { c.say(graph.Unknown, format, args...) }

func (c *check) no(format string, args ...any) { c.say(graph.DoesNotFit, format, args...) }

// bolt is a no, of a bolt in its thread.
func (c *check) bolt(fault BoltFault, format string, args ...any) {
	c.Bolt = fault
	c.no(format, args...)
}

func (c *check) say(v graph.Verdict, format string, args ...any) {
	if c.bench.quiet || c.bench.brief {
		c.said = append(c.said, saying{verdict: v})
		return
	}
	c.said = append(c.said, saying{v, article.Text(fmt.Sprintf(format, args...))})
}

// sizes notes what side A has, what side B has, and how far apart they are.
func (c *check) sizes(a, b, gap string) {
	c.Had, c.Wanted, c.Gap = a, b, gap
	if c.bench.flip {
		c.Had, c.Wanted = b, a
	}
}

// newWasher notes a washer that goes on new every time.
func (c *check) newWasher(text string) { c.Renew, c.Washer = append(c.Renew, text), true }

// order writes an order and gives it, to say more of it.
func (c *check) order(kind, text string, spec ...Field) *Order {
	if !c.bench.quiet {
		spec = slices.Clone(spec)
		for i := range spec {
			spec[i].Value = article.Text(spec[i].Value)
		}
	}
	c.Orders = append(c.Orders, Order{Kind: kind, Text: text, Spec: spec})
	return &c.Orders[len(c.Orders)-1]
}

// makes says of an order which feature it makes anew, and to what size.
func makes(o *Order, s Side, dim, text string) {
	if s.Position == "" || s.Feature.Name == "" {
		return
	}
	f := s.Feature
	if o.Instead == s.Position && o.Makes.Name == f.Name {
		f = o.Makes
	}
	f.Dims = maps.Clone(f.Dims)
	if f.Dims == nil {
		f.Dims = map[string][]graph.Reading{}
	}
	f.Dims[dim] = []graph.Reading{{Text: text}}
	o.Instead, o.Makes, o.Dims = s.Position, f, append(o.Dims, dim)
}

// feature is one of what is made, with its dimensions as name and text in turns.
func feature(name, kind string, dims ...string) graph.Feature {
	f := graph.Feature{Name: name, Kind: kind, Dims: map[string][]graph.Reading{}}
	for i := 0; i+1 < len(dims); i += 2 {
		if dims[i+1] != "" {
			f.Dims[dims[i]] = []graph.Reading{{Text: dims[i+1]}}
		}
	}
	return f
}

// verdict is what was stated comes to: unknown at best where something is missing, or
// nothing was stated.
func (c *check) verdict() graph.Verdict {
	verdict := graph.NoVerdict
	for _, s := range c.said {
		verdict = verdict.Worst(s.verdict)
	}
	if len(c.missing) > 0 || verdict == graph.NoVerdict {
		verdict = verdict.Worst(graph.Unknown)
	}
	return verdict
}

// mm is a length in words, none where nobody reads them.
func (c *check) mm(v float64) string {
	if c.bench.quiet {
		return ""
	}
	return mm(v)
}

// closed is the finished check.
func (c *check) closed() Check {
	verdict := c.verdict()
	switch {
	case len(c.missing) > 0:
		c.said = append(c.said, saying{graph.Unknown, missingWords(c.missing)})
	case len(c.said) == 0:
		c.said = append(c.said, saying{graph.Unknown, "nothing is known to judge it by"})
	}
	done := c.Check
	done.Verdict = verdict
	done.Routine = verdict == graph.FitsWithChanges && !c.ahead
	done.Measure = slices.Clone(c.Measure)
	for _, a := range c.missing {
		if !slices.Contains(done.Measure, a) {
			done.Measure = append(done.Measure, a)
		}
	}
	done.Why = c.why(verdict)
	if verdict == graph.DoesNotFit {
		done.Effort, done.Do = graph.EffortNone, nil
	}
	return done
}

// why joins what was said for the verdict, each thing once.
func (c *check) why(v graph.Verdict) string {
	var texts []string
	for _, s := range c.said {
		if s.verdict == v && !slices.Contains(texts, s.text) {
			texts = append(texts, s.text)
		}
	}
	return strings.Join(texts, "; ")
}

// refuse takes back what a check offers to make, and says why with what asked for it.
func (c *check) refuse(v graph.Verdict, why string) {
	var reasons []string
	for _, s := range c.said {
		if s.verdict == graph.FitsWithChanges || s.verdict == v {
			reasons = append(reasons, s.text)
		}
	}
	c.said = slices.DeleteFunc(c.said, func(s saying) bool { return s.verdict == v })
	c.Orders, c.Do, c.Effort = nil, nil, graph.EffortNone
	c.say(v, "%s", strings.Join(append(reasons, why), "; "))
}

func missingWords(asks []Ask) string {
	words := make([]string, len(asks))
	for i, a := range asks {
		words[i] = a.brief()
	}
	return "not known: " + strings.Join(words, "; ")
}
