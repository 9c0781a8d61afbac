package drawing

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/swap"
)

// sketch is what a picture of a swap shows, before it is laid out: parts in
// their places, and between them what was judged.
type sketch struct {
	title, verdict string
	before         bool // verdicts in boxes are those before what is to be got or made is on
	boxes          []sketchBox
	lines          [][2]int // from box to box, by place in boxes
	left           int      // things that fit and are not drawn, for room
}

// sketchBox is one box: a part in its place, or one outcome between parts.
type sketchBox struct {
	key     string
	head    string   // the position, or the verdict in words
	text    []string // what stands below
	verdict graph.Verdict
	lapsed  bool // a word that holds no longer
	part    bool // a part in its place; else an outcome
	changed bool
	get     bool     // a part that is to be got
	of      []string // identities of the outcomes
	more    int      // outcomes besides the one that is told
}

// mostBoxes is how many outcomes are drawn on one page before those that simply
// fit are left out.
const mostBoxes = 18

// Swap draws an answer, one SVG a page, under the verdict in words.
func Swap(a swap.SwapAnswer, verdict string) []string {
	s := newSketch(a, verdict, mostBoxes)
	laid := layOut(s, roomHigh())
	var pages []string
	for i, l := range laid {
		var b strings.Builder
		_ = writePicture(&b, s, l, i+1, len(laid)) // into memory
		pages = append(pages, b.String())
	}
	return pages
}

// newSketch makes boxes and lines of an answer: the worst first, what simply
// fits only while there are fewer outcomes than most.
func newSketch(a swap.SwapAnswer, verdict string, most int) *sketch {
	s := &sketch{title: "Swap on " + string(a.On), verdict: verdict, before: len(a.Get) > 0}
	for _, line := range a.Swaps {
		text := []string{string(line.Now)}
		if line.Now == "" {
			text = []string{"taken off"}
		} else if line.NowName != "" {
			text = append(text, line.NowName)
		}
		s.box(sketchBox{key: string(line.Position), head: line.Position.Local(), text: text, part: true, changed: true})
	}
	worst := slices.Concat(a.DoesNotMate, a.Unknown, a.WithChanges)
	for _, o := range worst {
		s.outcome(o)
	}
	for i, o := range a.Mates {
		if len(worst)+i >= most {
			s.left = len(a.Mates) - i
			break
		}
		s.outcome(o)
	}
	for _, g := range a.Get {
		s.got(g)
	}
	for _, t := range a.Trails {
		s.trail(t)
	}
	return s
}

// box adds a box, or finds the one with the same key.
func (s *sketch) box(b sketchBox) int {
	if at := s.find(b.key); at >= 0 {
		return at
	}
	s.boxes = append(s.boxes, b)
	return len(s.boxes) - 1
}

func (s *sketch) find(key string) int {
	return slices.IndexFunc(s.boxes, func(have sketchBox) bool { return have.key == key })
}

// line joins two boxes, unless that would close a ring: everything runs from
// what was changed to what follows from it.
func (s *sketch) line(from, to int) {
	if from == to || slices.Contains(s.lines, [2]int{from, to}) || s.leads(to, from) {
		return
	}
	s.lines = append(s.lines, [2]int{from, to})
}

// leads reports whether lines lead from one box to another.
func (s *sketch) leads(from, to int) bool {
	if from == to {
		return true
	}
	return slices.ContainsFunc(s.lines, func(l [2]int) bool { return l[0] == from && s.leads(l[1], to) })
}

// outcome draws what was judged between the parts that meet: from what was
// changed, to what was not. Joints between the same two parts share a box, which
// tells the worst of them.
func (s *sketch) outcome(o examine.Outcome) {
	key := o.What + " " + o.ID
	if o.What == examine.OfJoint {
		key = fmt.Sprintf("%s %s %s", o.What, o.Ends[0].Position, o.Ends[len(o.Ends)-1].Position)
	}
	at := s.find(key)
	if at < 0 {
		at = s.box(sketchBox{key: key, head: headOf(o), text: outcomeText(o), verdict: o.After, lapsed: o.Lapsed})
	} else {
		s.boxes[at].more++
	}
	s.boxes[at].of = append(s.boxes[at].of, o.ID)
	for _, e := range o.Ends {
		if e.Changed {
			s.line(s.box(partBox(e)), at)
		}
	}
	for i, e := range shownEnds(o) {
		if i < 3 && !e.Changed {
			s.line(at, s.box(partBox(e)))
		}
	}
}

// headOf is the verdict in words; a word that lapsed is none.
func headOf(o examine.Outcome) string {
	if o.Lapsed {
		return "holds no longer"
	}
	return o.After.String()
}

// shownEnds are the ends that are worth a box of their own.
func shownEnds(o examine.Outcome) []examine.End {
	switch o.What {
	case examine.OfRun, examine.OfDisc:
		return o.Ends[:1]
	case examine.OfStack, examine.OfCircuit, examine.OfFinish:
		return nil
	}
	return o.Ends
}

func partBox(e examine.End) sketchBox {
	text := []string{"nothing known"}
	if e.Part != "" {
		text = []string{string(e.Part)}
	}
	return sketchBox{key: string(e.Position), head: e.Position.Local(), text: text, part: true, changed: e.Changed}
}

// outcomeText says what meets, and the sizes or the reason.
func outcomeText(o examine.Outcome) []string {
	var features []string
	for _, e := range o.Ends {
		if e.Feature != "" && len(features) < 2 {
			features = append(features, e.Feature)
		}
	}
	what := strings.Join(features, " on ")
	if o.What != examine.OfJoint || what == "" {
		what = o.Name()
	}
	if o.What == examine.OfWord {
		what = "said of " + strings.TrimPrefix(what, o.What+" ")
	}
	for _, c := range o.Checks {
		if c.Verdict == o.After && c.Had != "" && c.Wanted != "" && o.After != graph.Fits {
			return []string{what, c.Had + ", wanted " + c.Wanted}
		}
	}
	return []string{what, o.Why}
}

// got marks the place of a part to get, or adds a box for what is to be made.
func (s *sketch) got(g swap.Get) {
	if g.What == swap.GetPart {
		at := s.box(sketchBox{key: string(g.Position), head: g.Position.Local(), part: true})
		if s.boxes[at].get = true; s.boxes[at].changed { // what was asked for does not do
			s.boxes[at].text = []string{s.boxes[at].text[0], "instead get " + string(g.Part)}
		} else {
			s.boxes[at].text = []string{"get " + string(g.Part)}
		}
		s.join(g.For, at)
		return
	}
	text, key := "make or order "+g.Text, "get "+string(g.Position)+" "+g.Text
	switch g.What {
	case swap.GetAdapter, swap.GetExtension:
		text = g.What + " " + g.Text
	case swap.GetWork:
		text = g.Text // it says what to do by itself
	case "spacer":
		key = string(g.Position) // it takes the place of the one that is there
	}
	at := s.box(sketchBox{key: key, head: g.Position.Local(), part: true})
	if !s.boxes[at].changed {
		s.boxes[at].get, s.boxes[at].text = true, []string{text}
	}
	s.join(g.For, at)
}

// join leads from the boxes of outcomes to what closes them.
func (s *sketch) join(outcomes []string, to int) {
	for i, b := range s.boxes {
		if slices.ContainsFunc(outcomes, func(id string) bool { return slices.Contains(b.of, id) }) {
			s.line(i, to)
		}
	}
}

// trail draws what a trail drags in beyond the first part.
func (s *sketch) trail(t swap.Trail) {
	for i := 2; i < len(t.Steps); i++ {
		from, to := t.Steps[i-1], t.Steps[i]
		if from.Position == to.Position {
			continue
		}
		a := s.find(string(from.Position))
		if a < 0 {
			continue
		}
		b := s.box(sketchBox{key: string(to.Position), head: to.Position.Local(), text: []string{string(to.Part), to.What},
			part: true})
		s.line(a, b)
	}
}
