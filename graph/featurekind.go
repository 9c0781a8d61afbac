package graph

import (
	"sync"

	"matewell/graph/measure"
)

// FeatureKind says what one sort of mating feature must measure. The kinds are
// fixed in code because each has its rule in queries/mating; which features a
// kind of part has is data.
type FeatureKind struct {
	Name string
	Is   string    // in words, for help and faults
	Dims []DimSpec // in the order a person would measure them
}

// DimSpec describes one dimension of a feature kind.
type DimSpec struct {
	Name string
	Is   string
	Type measure.Type
	// Must is true when a joint can't be judged without it.
	Must bool
	// Signed is true when a negative value makes sense, as for an offset.
	Signed bool
	// Words are the values allowed for a Word dimension; empty allows any.
	Words []string
	// Check refuses a word that can't be; nil takes any.
	Check func(text string) error
	// Looks is true when the dimension only changes how the part looks.
	Looks bool
	// Informs says why the dimension decides nothing: "only tells which spanner
	// turns it". Empty for one that decides, as every dimension does unless its
	// table says otherwise.
	Informs string
	// Alike says why two values that differ come to the same, empty when they do not,
	// whatever the kind says of the dimension; nil where every difference counts that the
	// kind lets count.
	Alike func(was, now string) string
	// Compared is true when no rule can judge the dimension against what it
	// meets: it is compared with that of the part that is replaced.
	Compared bool
	// Spans is true when it must suit a distance on the machine besides what the part is
	// joined to: that it did on another machine says nothing here.
	Spans bool
	// Range is what a standard gives for it, from and to, in the unit of its type; no other
	// value can be. Usual is what parts of motorcycles have: a value beyond it is doubted.
	// Both zero where there is none.
	Range, Usual [2]float64
	// Gauge and Accuracy say how to measure it: "vernier caliper", "0.1 mm".
	Gauge, Accuracy string
}

// WhyNot says why the dimension decides nothing; empty when it decides.
func (d DimSpec) WhyNot() string {
	if d.Informs == "" && d.Looks {
		return "only changes how the part looks"
	}
	return d.Informs
}

// Decides reports whether a difference in the dimension can change a verdict.
func (d DimSpec) Decides() bool { return d.WhyNot() == "" }

// Dim finds a dimension by name.
func (k FeatureKind) Dim(name string) (DimSpec, bool) {
	for _, d := range k.Dims {
		if d.Name == name {
			return d, true
		}
	}
	return DimSpec{}, false
}

// FeatureKindNamed finds a feature kind by name.
func FeatureKindNamed(name string) (FeatureKind, bool) {
	k, ok := kindsByName()[name]
	return k, ok
}

// kindsByName is made once and then only read: rules look a kind up for every
// dimension they take.
var kindsByName = sync.OnceValue(func() map[string]FeatureKind {
	byName := map[string]FeatureKind{}
	for _, k := range FeatureKinds() {
		byName[k.Name] = k
	}
	return byName
})

// Spans reports whether a dimension of a kind of feature must suit a distance on the machine
// besides what the part is joined to; see DimSpec.Spans.
func Spans(kind, dim string) bool {
	k, _ := FeatureKindNamed(kind)
	d, _ := k.Dim(dim)
	return d.Spans
}

// FeatureKinds lists every feature kind, grouped as the rules of
// queries/mating are.
func FeatureKinds() []FeatureKind {
	groups := [][]FeatureKind{threadKinds(), hydraulicKinds(), mountKinds(), axleKinds(),
		runKinds(), driveKinds(), electricKinds(), bodyKinds(), geometryKinds(),
		steeringKinds(), innerKinds(), controlKinds(), lineEndKinds(), supplyKinds(), comparedKinds(), reachKinds(),
		brakeKinds(), madeKinds()}
	var all []FeatureKind
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

// ByEye is the gauge of what is read, counted or looked at; its accuracy says
// which.
const ByEye = "by eye"

// The gauges, so that one tool keeps one name.
const (
	vernier   = "vernier caliper"
	bore      = "bore gauge"
	micro     = "micrometer"
	dial      = "dial gauge"
	feeler    = "feeler gauge"
	tape      = "steel tape"
	pitch     = "thread gauge"
	depth     = "depth gauge"
	eye       = ByEye
	rule      = "steel rule"
	protract  = "protractor"
	meter     = "multimeter"
	straight  = "straight edge and rule"
	tenth     = "0.1 mm"
	hundredth = "0.01 mm"
	halfMM    = "0.5 mm"
	fiveMM    = "5 mm"
	halfDeg   = "0.5 deg"
	scale     = "spring tester"
	counted   = "exact count"
	seen      = "as it looks"
)

func must(name, is string, t measure.Type, gauge, accuracy string) DimSpec {
	return DimSpec{Name: name, Is: is, Type: t, Must: true, Gauge: gauge, Accuracy: accuracy}
}

func may(name, is string, t measure.Type, gauge, accuracy string) DimSpec {
	return DimSpec{Name: name, Is: is, Type: t, Gauge: gauge, Accuracy: accuracy}
}

func (d DimSpec) oneOf(words ...string) DimSpec         { d.Words = words; return d }
func (d DimSpec) signed() DimSpec                       { d.Signed = true; return d }
func (d DimSpec) looks() DimSpec                        { d.Looks = true; return d }
func (d DimSpec) checked(by func(string) error) DimSpec { d.Check = by; return d }
func (d DimSpec) compared() DimSpec                     { d.Compared = true; return d }
func (d DimSpec) spans() DimSpec                        { d.Spans = true; return d }
func (d DimSpec) within(low, high float64) DimSpec      { d.Range = [2]float64{low, high}; return d }

// usual is what parts of motorcycles have of it, mopeds to the largest, in the unit of its
// type. Common practice, no source: set wide, to catch inches for millimetres and slips of
// the pen.
func (d DimSpec) usual(low, high float64) DimSpec { d.Usual = [2]float64{low, high}; return d }

// alike has words that come to the same decide nothing between them.
func (d DimSpec) alike(why func(was, now string) string) DimSpec { d.Alike = why; return d }

// informs marks a dimension that decides nothing, and says why in words that
// follow the name of the dimension: "only tells which spanner turns it".
func (d DimSpec) informs(why string) DimSpec { d.Informs = why; return d }
