package examine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// Earned says by what a changed place came by "fits". A place starts at unknown:
// without one of these it stays there.
type Earned string

// What earns it, the strongest word last.
const (
	EarnedNothing Earned = ""
	EarnedFound   Earned = "found"             // somebody fitted this part at this place
	EarnedListed  Earned = "listed"            // a source lists it here, or says that it takes the other's place
	EarnedSame    Earned = "measures the same" // as the part it replaces, in all that its kind must be judged by
	EarnedJudged  Earned = "judged"            // all that its kind must be judged by was, and passed
)

// NotJudged is one thing about a changed place that no rule has judged: what
// decides there is told with who can tell, what does not decide with why not.
type NotJudged struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"` // of the position
	Safety   graph.Safety     `json:"safety,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`      // the new part
	Feature  string           `json:"feature,omitempty"`   // empty when nothing at all was judged
	Dim      string           `json:"dimension,omitempty"` // empty for a feature that one of the parts lacks
	Was      string           `json:"was,omitempty"`       // of the part that is replaced; empty when nobody recorded it
	Now      string           `json:"now,omitempty"`       // of the new part; empty when nobody recorded it
	Why      string           `json:"why"`
	// WhoCanTell is what settles it: a measurement with its gauge, a look at both
	// parts, the maker's manual. Empty for what does not decide.
	WhoCanTell string `json:"who_can_tell,omitempty"`
	// Decides is false for a difference that the kind of part says does not
	// decide, and for one that a listing or finding answers: Why says so.
	Decides bool `json:"decides"`

	ask      *mating.Ask // the measurement that would settle it; nil when none does
	paired   bool        // it was held against the other side of its joint alone
	strength bool        // how strong it is, and not how large, is what is not known
}

// Differs is one dimension in which a new part differs from the one it replaces,
// with what judged it: nothing that differs passes without a word.
type Differs struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"` // of the position
	Part     graph.PartID     `json:"part"` // the new part
	Feature  string           `json:"feature"`
	Dim      string           `json:"dimension"`
	Was      string           `json:"was"`
	Now      string           `json:"now"`
	JudgedBy []string         `json:"judged_by"` // "joint caliper-left-on-leg: fits", in the order of the outcomes
}

// Place is one changed position with all that is known of it.
type Place struct {
	Position graph.Position
	New, Old graph.Part // readings ranked; Old is zero when nobody knows what sat there
	Built    graph.Part // what was built in; zero when nobody knows
	Kind     graph.Kind // of the new part
	// JudgedBy names the checks which are shown that a dimension of the new part
	// was judged by; none when nothing did.
	JudgedBy func(feature, dim string) []string
	// Beside is the place of the one other new part that a dimension was held against,
	// where nothing else was; empty where something that stays, or a third part, was too.
	Beside func(feature, dim string) graph.PositionID
	// AsBuiltOn is the machine from which a part came together with all that one of its
	// features meets; empty for none.
	AsBuiltOn func(feature string) graph.VariantID
	// PairedOn is that machine for what was held against the other side of a joint alone,
	// which came over too: the bolts between them may be this machine's own.
	PairedOn func(feature string) graph.VariantID
	// Joined are the features by which the joints of the machine have it meet something.
	Joined []string
	// Void are those of what was there that meet nothing any more: see isVoid.
	Void []string
	// Checked is true when a rule judged the new part at all.
	Checked bool
	// Word is EarnedListed or EarnedFound when somebody speaks for this very part
	// at this very place, with whom in WordOf.
	Word   Earned
	WordOf string
	// OtherSide is true when the new part is called for the other side of the machine
	// and nothing recorded says otherwise; Across when it is the part that is built on
	// the other side, where another is built here.
	OtherSide, Across bool
	// OtherKind is true of a part of another kind than belongs here and than was built in.
	OtherKind bool
	// Squeezed is true of a washer that seals the eye of a line: by its thickness the hollow
	// bolt reaches into its thread, and what nobody measured is not taken for usual there.
	Squeezed bool
	// Same compares two readings of a dimension.
	Same func(spec graph.DimSpec, a, b graph.Reading) bool
}

// Judge says how the place came by its verdict, what differs and was judged, and
// what was not judged: what decides first, then by feature and dimension.
func (p Place) Judge() (Earned, []Differs, []NotJudged) {
	j := p.gone()
	earned := j.earned()
	if earned == EarnedNothing && !slices.ContainsFunc(j.left, func(n NotJudged) bool { return n.Decides }) {
		why := "nothing about it was judged, compared or listed"
		if len(j.differs) > 0 {
			why = "no rule judges it here: what differs stands in the figures only"
		}
		j.left = append(j.left, j.entry(NotJudged{Why: why, Decides: true, WhoCanTell: sideBySide}))
	}
	slices.SortStableFunc(j.left, func(a, b NotJudged) int {
		return cmp.Or(-cmp.Compare(lists.Order(a.Decides), lists.Order(b.Decides)), cmp.Compare(a.Feature, b.Feature))
	})
	return earned, j.differs, j.left
}

// gone is the place once all of it was gone through.
func (p Place) gone() placeJudgement {
	j := placeJudgement{Place: p}
	for _, name := range p.featureNames() {
		j.feature(name)
	}
	j.side()
	j.otherKind()
	return j
}

// isOpen reports whether something that decides is left even where whatever looked at a
// dimension is taken for having judged it: then nothing need be proved to say so.
func (p Place) isOpen(by judgements) bool {
	p.JudgedBy = func(feature, dim string) []string {
		if !by.looksAt(mating.Use{Position: p.Position.ID, Part: p.New.ID, Feature: feature, Dim: dim}) {
			return nil
		}
		return []string{"looked at"}
	}
	return slices.ContainsFunc(p.gone().left, func(n NotJudged) bool { return n.Decides })
}

// featureNames are the features of both parts, those that every part of the kind has,
// and those that the joints here name, sorted.
func (p Place) featureNames() []string {
	names := slices.Clone(p.Joined)
	for _, f := range slices.Concat(p.New.Features, p.Old.Features) {
		names = append(names, f.Name)
	}
	for _, f := range p.Kind.Features {
		if !f.May {
			names = append(names, f.Name)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// placeJudgement is a Place while it is gone through.
type placeJudgement struct {
	Place
	left    []NotJudged
	differs []Differs
	judged  int // dimensions that a rule judged
	same    int // dimensions that measure the same
	// answered is true when somebody's word stands for what no rule judged.
	answered bool
}

func (j *placeJudgement) feature(name string) {
	now, hasNow := j.New.Feature(name)
	was, hasWas := j.Old.Feature(name)
	kind := cmp.Or(now.Kind, was.Kind)
	if expected, ok := j.Kind.Feature(name); ok && kind == "" {
		kind = expected.Kind
	}
	spec, known := graph.FeatureKindNamed(kind)
	switch {
	case !known:
		j.add(NotJudged{Feature: name, Why: "nobody said what sort of feature it is", Decides: true,
			WhoCanTell: "whoever holds the part"})
		return
	case hasNow && hasWas && now.Kind != was.Kind:
		j.add(NotJudged{Feature: name, Was: was.Kind, Now: now.Kind,
			Why:     "another sort of feature than the one that was there",
			Decides: !j.usedAtAll(name, spec), WhoCanTell: sideBySide})
		return
	case !hasNow && slices.Contains(j.Void, name) && !slices.Contains(j.Joined, name):
		return
	case hasWas && !hasNow && j.Old.ID != "" && !j.usedAtAll(name, spec):
		j.lone(name, spec, was, NotJudged{Was: was.Kind,
			Why: "the part that is replaced has it, the new one has none, or nobody recorded it"})
		return
	case hasNow && !hasWas && j.Old.ID != "" && !j.usedAtAll(name, spec):
		j.lone(name, spec, now, NotJudged{Now: now.Kind, Why: "the part that is replaced has none, or nobody recorded it"})
		return
	}
	for _, dim := range spec.Dims {
		j.dim(name, dim, now.Dims[dim.Name], was.Dims[dim.Name])
	}
}

// lone is a feature that only one of the two parts has.
func (j *placeJudgement) lone(name string, spec graph.FeatureKind, f graph.Feature, n NotJudged) {
	n.Feature, n.WhoCanTell = name, sideBySide
	for _, dim := range spec.Dims {
		n.Decides = n.Decides || len(f.Dims[dim.Name]) > 0 && j.Kind.WhyNot(name, dim) == ""
	}
	if len(f.Dims) == 0 {
		n.Decides = true
	}
	if !n.Decides {
		n.Why += "; it does not decide"
	}
	j.add(n)
}

const sideBySide = "both parts side by side, or the maker's parts list for this machine"

func (j *placeJudgement) usedAtAll(feature string, spec graph.FeatureKind) bool {
	return slices.ContainsFunc(spec.Dims, func(d graph.DimSpec) bool { return len(j.JudgedBy(feature, d.Name)) > 0 })
}

// side notes a part of the other side: left and right of a pair often measure the same
// in all that is recorded, and do not go on each other's side.
func (j *placeJudgement) side() {
	switch {
	case j.Word != EarnedNothing:
	case j.OtherSide:
		j.add(NotJudged{Why: "it is called a part of the other side", Decides: true, WhoCanTell: sideBySide})
	case j.Across && len(j.differs) == 0:
		j.add(NotJudged{Why: "it is the part of the other side, and nothing recorded tells the two apart", Decides: true,
			WhoCanTell: sideBySide})
	}
}

// otherKind notes a part of another kind: that it goes on where the one goes that belongs
// here does not say that it does the work of that one.
func (j *placeJudgement) otherKind() {
	if !j.OtherKind || j.Word != EarnedNothing {
		return
	}
	j.add(NotJudged{Why: fmt.Sprintf("it is a part of kind %s where a %s belongs", j.New.Kind, j.Position.Kind),
		Decides: true, WhoCanTell: "the maker's parts list, or somebody who has fitted it"})
}

// dim goes through one dimension.
func (j *placeJudgement) dim(feature string, spec graph.DimSpec, now, was []graph.Reading) {
	whyNot := j.Kind.WhyNot(feature, spec)
	f, _ := j.Kind.Feature(feature)
	switch {
	case j.Squeezed && f.Kind == "washer" && slices.Contains([]string{"thickness", "material"}, spec.Name):
		whyNot = ""
	case spec.Alike != nil && len(now) > 0 && len(was) > 0:
		whyNot = spec.Alike(was[0].Text, now[0].Text)
	}
	by := j.JudgedBy(feature, spec.Name)
	switch {
	case len(by) > 0:
		j.judged++
		if len(now) > 0 && len(was) > 0 && !j.Same(spec, now[0], was[0]) {
			j.differs = append(j.differs, Differs{Position: j.Position.ID, Name: j.Position.Name, Part: j.New.ID,
				Feature: feature, Dim: spec.Name, Was: was[0].Text, Now: now[0].Text, JudgedBy: by})
			j.thinner(feature, spec, now[0])
		}
		return
	case len(now) > 0 && len(was) > 0 && j.Same(spec, now[0], was[0]):
		j.same++
		return
	case len(now) == 0 && len(was) == 0 && (!spec.Must || j.needless(feature, spec.Name)):
		return
	case len(now) == 0 && len(was) == 0 && whyNot != "":
		return
	}
	n := NotJudged{Feature: feature, Dim: spec.Name, Decides: whyNot == "",
		Was: evidence.FirstText(was), Now: evidence.FirstText(now)}
	n.Why, n.WhoCanTell, n.ask = j.whyLeft(feature, spec, now, was)
	n.paired = len(now) > 0 && len(was) > 0 && j.Beside != nil && j.Beside(feature, spec.Name) != ""
	if whyNot != "" {
		n.Why, n.WhoCanTell, n.ask = whyNot, "", nil
	}
	j.add(n)
}

// needless reports whether neither the new part nor the one built in needs a dimension.
func (j *placeJudgement) needless(feature, dim string) bool {
	now, _ := j.New.Feature(feature)
	was, ok := j.Built.Feature(feature)
	return now.Needless(dim) && (!ok || was.Needless(dim))
}

// thinner notes what carries the machine and is thinner than what was built in: that it
// goes with all that it meets does not say that it is strong enough.
func (j *placeJudgement) thinner(feature string, spec graph.DimSpec, now graph.Reading) {
	f, _ := j.New.Feature(feature)
	was, _ := j.Built.Feature(feature)
	carries := slices.Contains([]graph.Safety{graph.SafetySteering, graph.SafetyWheel, graph.SafetyDrive},
		j.Position.Safety)
	expected, _ := j.Kind.Feature(feature)
	if !carries || expected.Direct || len(was.Dims[spec.Name]) == 0 ||
		!slices.Contains(carrying(j.New), f.Kind) || spec.Name != "diameter" || !mating.Thinner(was.Dims[spec.Name][0], now) {
		return
	}
	j.add(NotJudged{Feature: feature, Dim: spec.Name, Was: was.Dims[spec.Name][0].Text, Now: now.Text, Decides: true,
		Why:        "thinner than built in: strength goes with the cube of the diameter",
		strength:   true,
		WhoCanTell: "the maker's word, or a parts list that has it on this machine"})
}

// carrying are the kinds of feature by which a part carries the machine: the shaft of an
// axle or pivot and of a steering stem, the tubes of a fork.
func carrying(part graph.Part) []string {
	switch {
	case machine.HasKind(part, "fork-length"):
		return []string{"shaft", "tube"}
	case machine.HasKind(part, "male-thread"), machine.HasKind(part, "yoke-offset"):
		return []string{"shaft"}
	}
	return nil
}

// whyLeft says why a dimension was not judged and who can tell.
func (j *placeJudgement) whyLeft(feature string, spec graph.DimSpec,
	now, was []graph.Reading) (why, who string, ask *mating.Ask) {
	measure := func(part graph.PartID, which string) (string, *mating.Ask) {
		ask := &mating.Ask{Position: j.Position.ID, Part: part, Feature: feature, Dim: spec.Name, What: spec.Is,
			Where: j.Position.ID.Local() + ", " + feature, Gauge: spec.Gauge, Accuracy: spec.Accuracy}
		return fmt.Sprintf("measure it on %s: %s", which, gaugeWords(spec)), ask
	}
	var beside graph.PositionID
	if j.Beside != nil {
		beside = j.Beside(feature, spec.Name)
	}
	switch {
	case len(now) == 0 && len(was) == 0:
		who, ask = measure(j.New.ID, "both")
		return "nobody recorded it", who, ask
	case len(now) == 0:
		who, ask = measure(j.New.ID, "the new part")
		return "nobody recorded it for the new part", who, ask
	case len(was) == 0 && j.Old.ID == "":
		return "nothing to compare it with: nobody knows what sits there", sideBySide, nil
	case len(was) == 0:
		who, ask = measure(j.Old.ID, "the part that is there")
		return "nobody recorded it for the part that is replaced", who, ask
	case beside != "":
		return "it differs, and was held against " + beside.Local() + " alone, which is another part too",
			"whoever can try both beside what stays: what covers, holds, guides or clips them, and what they pass", nil
	case spec.Compared:
		return "it differs, and only a look at both can tell whether that matters", sideBySide, nil
	}
	return "it differs, and no rule judges it here", "the maker's manual, or somebody who has fitted it", nil
}

func gaugeWords(spec graph.DimSpec) string {
	return strings.Trim(spec.Gauge+", "+spec.Accuracy, ", ")
}

// add notes one thing that is left, with where it is.
func (j *placeJudgement) add(n NotJudged) { j.left = append(j.left, j.entry(n)) }

func (j *placeJudgement) entry(n NotJudged) NotJudged {
	n.Position, n.Name, n.Safety, n.Part = j.Position.ID, j.Position.Name, j.Position.Safety, j.New.ID
	if on := j.asBuiltOn(n); on != "" {
		n.Decides, n.WhoCanTell, n.ask = false, "", nil
		n.Why += "; as built on " + string(on)
		return n
	}
	if n.Decides && j.Word != EarnedNothing && n.Feature != "" {
		n.Decides, n.WhoCanTell, n.ask = false, "", nil
		j.answered = true
		n.Why += "; " + string(j.Word) + " here by " + j.WordOf
	}
	return n
}

// spans reports whether what is left must suit a distance on this very machine.
func (j *placeJudgement) spans(n NotJudged) bool {
	f, _ := j.New.Feature(n.Feature)
	return graph.Spans(f.Kind, n.Dim)
}

// asBuiltOn is the machine that answers what is left; empty where none does. How strong
// a part is for this machine no other one says.
func (j *placeJudgement) asBuiltOn(n NotJudged) graph.VariantID {
	if !n.Decides || n.Feature == "" || j.AsBuiltOn == nil || n.strength || j.spans(n) {
		return ""
	}
	if on := j.AsBuiltOn(n.Feature); on != "" || !n.paired {
		return on
	}
	return j.PairedOn(n.Feature)
}

// earned is what the place has earned: nothing while something that decides is
// left.
func (j *placeJudgement) earned() Earned {
	switch {
	case slices.ContainsFunc(j.left, func(n NotJudged) bool { return n.Decides }):
		return EarnedNothing
	case j.judged > 0 && j.Checked && !j.answered:
		return EarnedJudged
	// what differs may stand in the figures alone, which no rule holds against a limit
	case j.same > 0 && len(j.differs) == 0 && !j.answered:
		return EarnedSame
	}
	return j.Word
}
