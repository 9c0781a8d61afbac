package mating

import (
	"matewell/graph"
	"matewell/graph/measure"
	"math"
	"slices"
	"strings"
)

// Side is one feature of the part at one position. The readings in its Dims
// must be sorted best first: a rule judges by the first one.
type Side struct {
	Position graph.PositionID
	Part     graph.PartID
	// PartKind is the kind of that part: of two threads alike one holds, the other
	// closes a hole. Empty when not known.
	PartKind graph.KindID
	Feature  graph.Feature
}

// IsZero reports whether nothing is known of the side.
func (s Side) IsZero() bool { return s.Position == "" && s.Part == "" && s.Feature.Kind == "" }

// isSame reports whether two sides are by all that is recorded one: features of one part,
// read alike. What was measured on one piece of it may have made it another.
func (s Side) isSame(o Side) bool {
	if s.Part != o.Part {
		return false
	}
	for dim, readings := range s.Feature.Dims {
		if others := o.Feature.Dims[dim]; len(readings) > 0 && len(others) > 0 && readings[0].Text != others[0].Text {
			return false
		}
	}
	return true
}

// Meeting is two features that are meant to mate, with what holds them.
type Meeting struct {
	Joint graph.JointID
	// Brief leaves out of the checks their words and what they used: only what each comes to
	// is asked for, and what is then done and made.
	Brief bool
	A, B  Side // the order does not matter
	// Allow is the clearance wanted between bore and shaft, as written
	// ("0.02-0.30 mm"); empty takes the rule's own.
	Allow string
	// Bolts are the fasteners of the joint: features of kind male-thread, one
	// for each sort of bolt. Empty when nobody said what holds the joint.
	Bolts []Side
	// Nutted is true for a stud in its hole of which a joint of its own says what nut goes
	// on its other end.
	Nutted bool
	// BoltsJudged is true when the thread of the bolts is a joint of its own, which judges
	// how long they must be.
	BoltsJudged bool
	// Built is the same joint as the machine left its works, with its bolts and
	// washers. Where sources disagree about a thread, what was built so is no
	// worse than it was; and a new bolt must be of the class of the one built in,
	// where the hole does not say which belongs in it. Nil when not known.
	Built *Meeting
	// WasBuilt are the sides as built, as far as known: what a machine asks is read off
	// them. Nil when the meeting is that as built, empty when nobody knows either.
	WasBuilt []Side
	// BoltCount is how many bolts there are, of all sorts together; 0 when nobody
	// said.
	BoltCount int
	// Washers are features of kind washer, one for each washer that is put
	// on: a position that takes two is given twice.
	Washers []Side
	// Sealing are the washers that go on new with the joint without being one of its
	// fasteners: those under a plug. How thick they were as built is in what is clamped.
	Sealing []Side
	// Tube is the inner tube in a tyre on its rim; zero where there is none, or nobody
	// recorded a place for one.
	Tube Side
	// Disc is the disc a caliper will really straddle (kind disc-rim); zero
	// takes the size that the leg is made for.
	Disc Side
	// Line is where that disc runs, worked out when it is asked for. With it the
	// slot is judged over the disc by JudgeDiscLine alone, for what counts is
	// where both really stand; without it the disc is taken to run where the leg
	// wants it.
	Line func() DiscLineCase
	// Across is, for a bearing, what its other ring meets on the same machine: a
	// shaft for one in its seat, a seat for one on its shaft; and so for a seal. What is
	// offered in its place must suit that too. Zero when nobody knows it.
	Across Side
	// SealSeat and Seal are, for a bearing in its seat, the seat of a seal outside it and
	// that seal; zero where there is none.
	SealSeat, Seal Side
	// NewBearing is true when the bearing itself is put on by the change: then no
	// other one is offered in its place.
	NewBearing bool
	// Spacers are the spacers of the row that the bearing stands in; nil when nobody
	// recorded the row, empty when there is none in it to take anything off.
	Spacers []Side
	// New is the position whose part is new to the joint: Had is then said of
	// that part and Wanted of the other. Empty leaves the choice to the rule.
	New graph.PositionID
	// Uncut are the places of brake, steering and wheel parts: their holes are not
	// opened, bushed or bored by an offer.
	Uncut []graph.PositionID
	// Over is the place of what goes over the other's spigot by what it is, as a
	// disc or sprocket does; empty when that is not known.
	Over graph.PositionID
	// Packed is how thick what lies between the two is, in mm: spacers under a
	// caliper. Zero when they touch.
	Packed float64
	// Direct is true when nothing is made to go between the two, by what one of them is;
	// Steers when both sit where the steering is carried.
	Direct, Steers bool
	Safety         graph.Safety
}

// bolt is the outside thread of the joint as built; zero when not known.
func (m Meeting) bolt() Side {
	if m.Built == nil {
		return Side{}
	}
	for _, s := range []Side{m.Built.A, m.Built.B} {
		if s.Feature.Kind == "male-thread" {
			return s
		}
	}
	return Side{}
}

// asksForBearing reports whether the bearing, side A, is the part that is asked for.
func (m Meeting) asksForBearing() bool {
	return m.NewBearing || m.New != "" && m.New == m.A.Position && m.A.Position != m.B.Position
}

// thickerSeal is how much thicker the washers are that go on new with the joint than those
// it was built with, in mm: what is clamped was measured with those under the head. One as
// built that nobody measured is as thick as they usually are.
func (m Meeting) thickerSeal(c *check) (more span, ok bool) {
	if m.Built == nil || len(m.Sealing) == 0 || len(m.Built.Sealing) == 0 ||
		slices.EqualFunc(m.Sealing, m.Built.Sealing, Side.isSame) {
		return span{}, true
	}
	ok = true
	for _, w := range m.Sealing {
		t, known := c.length(w, "thickness")
		more, ok = more.plus(t), ok && known
	}
	was, _ := thicknessOf(c, m.Built.Sealing)
	return more.minus(was), ok
}

// goesThrough is how thick what goes through the washers of a joint is, in mm: its own
// thread, that of its bolts, or the pin of its fork.
func (m Meeting) goesThrough(c *check) (thick span, what string, ok bool) {
	for _, s := range slices.Concat([]Side{m.A, m.B}, m.Bolts) {
		if s.Feature.Kind != "male-thread" {
			continue
		}
		if v, ok := c.peek(s, "thread", measure.Thread); ok {
			return shankOf(c, s, v.Thread).thickest, v.Thread.String(), true
		}
	}
	for _, s := range []Side{m.A, m.B} {
		if s.Feature.Kind == "clevis" {
			pin, ok := c.peekLength(s, "bolt")
			return pin, "a " + mm(pin.nominal) + " bolt", ok
		}
	}
	return span{}, "", false
}

// Check is the outcome of one rule.
type Check struct {
	Rule    string        `json:"rule"` // "thread", "bolt pattern" ...; unique within one judgement
	Verdict graph.Verdict `json:"verdict"`
	// Why is one phrase that a mechanic understands.
	Why string `json:"why"`
	// Had, Wanted and Gap are what was met, what was needed and how far they
	// are apart; any of them may be empty.
	Had    string `json:"had,omitempty"`
	Wanted string `json:"wanted,omitempty"`
	Gap    string `json:"gap,omitempty"`
	// Basis is what the rule's limits rest on: a standard, a handbook, or
	// "common practice, no source".
	Basis string `json:"basis,omitempty"`
	// Effort is that of the change needed; none unless the verdict is "fits
	// with changes", or unknown with a change to be expected.
	Effort  graph.Effort `json:"effort"`
	Do      []string     `json:"do,omitempty"`      // changes needed, in words
	Uses    []Use        `json:"uses,omitempty"`    // the readings judged by, in the order used
	Measure []Ask        `json:"measure,omitempty"` // what would settle an unknown
	Orders  []Order      `json:"orders,omitempty"`  // what to get or make to close the gap
	Renew   []string     `json:"renew,omitempty"`   // what goes on new every time
	// With are the parts that a change puts on besides, where that is all it asks for.
	With []graph.PartID `json:"-"`
	// Spacers is true where a change is to what only fills a gap: a spacer may be turned to
	// another length, or another one made.
	Spacers bool `json:"-"`
	// Routine is true where all that a change comes to is what any such work ends with: new
	// one-use parts, new fluid, a setting made anew. Anything else is got, made, altered or
	// looked at before the machine is ridden.
	Routine bool `json:"-"`
	// Taken is true where the readings used need change no verdict to have been judged:
	// what is made is made to them, or one of them decides before the others.
	Taken bool `json:"-"`
	// Disputed is true of an unknown because sources differ on a dimension, and that decides:
	// Measure asks for it.
	Disputed bool `json:"-"`
	// Empty is the place where nothing sits, of an unknown for want of it.
	Empty graph.PositionID `json:"-"`
	// Washer is true where what goes on new every time is a washer.
	Washer bool `json:"-"`
	// Bolt is what a bolt or screw does wrong in its thread, of a "no" of such a rule.
	Bolt BoltFault `json:"-"`
}

// Names of rules that others ask for.
const (
	BracketSideways = "bracket sideways" // how far a bracket carries a caliper towards or from the wheel
	SprocketLine    = "sprocket line"    // where a row of spacers has the sprocket stand
)

// OfBolts reports whether a check is of the bolts of a joint, and not of what they hold
// together.
func (c Check) OfBolts() bool {
	switch c.Rule {
	case "banjo bolt", "bolt at points", "bolt class", "bolt in eye", "bolt reach", "bolt through", "bolts in holes",
		"thread engagement":
		return true
	}
	return false
}

// OfCaliper reports whether a check is of a caliper, on what carries it or over its disc.
func (c Check) OfCaliper() bool {
	switch c.Rule {
	case "caliper mount", "caliper height", "caliper over disc":
		return true
	}
	return false
}

// deciding is the reading that a verdict hangs on, among those it was judged by: the one
// whose size the reason gives first, else the one that stands as what was met or wanted,
// else the first. False for a check that read nothing.
func (c Check) deciding() (Use, bool) {
	if len(c.Uses) == 0 {
		return Use{}, false
	}
	why := c.Why
	if c.Gap != "" { // how far apart two sizes are is neither of them
		why = strings.ReplaceAll(why, c.Gap, "")
	}
	for _, text := range []string{why, c.Had, c.Wanted} {
		first, found := math.MaxInt, Use{}
		for _, use := range c.Uses {
			if at := sizeAt(text, use.Reading.Text); at >= 0 && at < first {
				first, found = at, use
			}
		}
		if first < math.MaxInt {
			return found, true
		}
	}
	return c.Uses[0], true
}

// SettleText is the measurement that settles a check: what it asks for itself where it
// could not tell, else the reading that it hangs on, with its gauge where the check
// names one. Empty for a check that neither read nor asks anything.
func (c Check) SettleText(unknown bool) string {
	if unknown && len(c.Measure) > 0 {
		return c.Measure[0].Text()
	}
	use, ok := c.deciding()
	if !ok {
		if len(c.Measure) > 0 {
			return c.Measure[0].Text()
		}
		return ""
	}
	for _, ask := range c.Measure {
		if ask.Position == use.Position && ask.Part == use.Part && ask.Feature == use.Feature && ask.Dim == use.Dim {
			return ask.Text()
		}
	}
	return use.measureText()
}

// BoltFault is what is wrong with a bolt or screw in the thread it goes into.
type BoltFault int

// What may be wrong with it; the zero BoltFault is none of these.
const (
	BoltTooLong  BoltFault = iota + 1 // it bottoms, or may
	BoltTooShort                      // too little of its thread carries
)

// Use is one reading that a check was judged by.
type Use struct {
	Position graph.PositionID `json:"position,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Feature  string           `json:"feature,omitempty"`
	Dim      string           `json:"dim"`
	Reading  graph.Reading    `json:"reading"`
}

// measureText says to measure what was read.
func (u Use) measureText() string {
	text := "measure " + u.Dim
	if u.Feature != "" {
		text += " of " + u.Feature
	}
	switch {
	case u.Part != "":
		text += " on " + string(u.Part)
	case u.Position != "":
		text += " at " + u.Position.Local()
	}
	return text
}

// Ask is one measurement that would settle an unknown.
type Ask struct {
	Position graph.PositionID `json:"position,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Feature  string           `json:"feature,omitempty"`
	Dim      string           `json:"dim"`
	What     string           `json:"what"`     // "bore of the eye"
	Where    string           `json:"where"`    // "front-brake/hose-upper, lower-end"
	Gauge    string           `json:"gauge"`    // "vernier caliper"
	Accuracy string           `json:"accuracy"` // "0.1 mm"
}

// Order is what to get or make, with the sizes to hand over a counter.
type Order struct {
	Kind string  `json:"kind"` // "hose", "spacer", "shim", "sleeve", "bracket", "bearing", "seal" ...
	Text string  `json:"text"` // the whole order in one line
	Spec []Field `json:"spec"` // the same, field by field, in the order one would say it
	// Place is where it goes, where the rule knows; empty otherwise.
	Place graph.PositionID `json:"-"`
	// Pieces is how many alike are made; 0 for one, or for what is ordered as a set.
	Pieces int `json:"-"`
	// Thicker is how much more the bolts of the joint pass once it is in, in mm, and
	// Under the place of the part that then lies on it; 0 and empty when they pass
	// nothing more.
	Thicker float64          `json:"-"`
	Under   graph.PositionID `json:"-"`
	// Between is true for what has both hole patterns of a joint: the bolts that
	// went from one side into the other serve no more.
	Between bool `json:"-"`
	// Stands is, of what goes between the two sides of a joint, what it has for
	// either: a bracket's two patterns, a sleeve.
	Stands []graph.Feature `json:"-"`
	// Makes is, of what is made or altered at the place of Instead, the feature that
	// comes out, and Dims are those of its dimensions that are new. With it in that
	// place the machine is judged again. Zero where nothing there is replaced.
	Instead graph.PositionID `json:"-"`
	Makes   graph.Feature    `json:"-"`
	Dims    []string         `json:"-"`
}

// Field is one line of an order.
type Field struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// Worst is the worst verdict of the checks; NoVerdict when there are none.
func Worst(checks []Check) graph.Verdict {
	worst := graph.NoVerdict
	for _, c := range checks {
		worst = worst.Worst(c.Verdict)
	}
	return worst
}

// brief names a measurement in a few words; What may be a long description.
func (a Ask) brief() string {
	what := a.What
	if strings.Contains(what, ",") || len(what) > 40 {
		what = a.Dim
	}
	if a.Where == "" {
		return what
	}
	return what + " of " + a.Where
}

// Text is the measurement in one line: "measure bore of hub, seat with a bore
// gauge to 0.01 mm", "find property class of lug-bolt, thread by eye: marking".
func (a Ask) Text() string {
	what := a.What
	if a.Where != "" {
		what += " of " + a.Where
	}
	switch a.Gauge {
	case "":
		return "measure " + what
	case graph.ByEye:
		return "find " + what + " by eye: " + a.Accuracy
	}
	text := "measure " + what + " with a " + a.Gauge
	if a.Accuracy != "" {
		text += " to " + a.Accuracy
	}
	return text
}
