package part

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// wanted is a FindQuestion taken apart.
type wanted struct {
	featureKinds []string       // features that are looked at
	partKinds    []graph.KindID // kinds of part that have one of them
	dims         []wantedDim
	kinds        []graph.Kind // all that there are
	nameWords    []string     // that a part's own name must have
}

// wantedDim is one measure: name is empty where only the value was said, so that
// it may be any dimension that such a value can have.
type wantedDim struct {
	name, text string
	// rough is true for a size that the trade rounds: "10x14" is a washer 10.2 mm inside.
	rough bool
}

// isMeasure reports whether text reads as a quantity with its unit or as a thread.
func isMeasure(text string) bool {
	for t := measure.Length; t < measure.Count; t++ {
		if _, err := measure.Parse(text, t); err == nil {
			return true
		}
	}
	return isThread(text)
}

// propertyClass is how ISO 898-1 writes the class of a bolt: "8.8", "10.9".
var propertyClass = regexp.MustCompile(`^[1-9][0-9]?\.[0-9]$`)

// boltSize is a bolt as the trade says it, with its length under the head in mm
// (ISO 225): "M8x35", "M8x1.25x35".
var boltSize = regexp.MustCompile(`(?i)^(M[0-9.]+(?:x[0-9.]+)?)x([0-9.]+)(?:mm)?$`)

// ringSize is a bearing or a seal as the trade says it, all in mm: "20x42x12".
var ringSize = regexp.MustCompile(`^([0-9.]+(?:x[0-9.]+)+)(?:mm)?$`)

// plainNumber is a number without a unit.
var plainNumber = regexp.MustCompile(`^[0-9]+(?:\.[0-9]+)?$`)

func isThread(text string) bool {
	_, err := measure.ParseThread(text)
	return err == nil
}

// saidAlone reads measures that stand without a dimension at the start of words, and how
// many of the words they take: "35mm", "35 mm", "M8x1.25", "M8x35", "10.9".
func saidAlone(words []string) (measures []string, taken int) {
	if m := boltSize.FindStringSubmatch(words[0]); m != nil && !isMeasure(words[0]) && isMeasure(m[1]) {
		return []string{m[1], m[2] + " mm"}, 1
	}
	if sizes := ringSize.FindStringSubmatch(words[0]); sizes != nil && !isMeasure(words[0]) {
		return lists.Mapped(strings.Split(sizes[1], "x"), func(s string) string { return s + " mm" }), 1
	}
	if len(words) > 1 && !strings.Contains(words[1], "=") && isMeasure(words[0]+" "+words[1]) {
		return []string{words[0] + " " + words[1]}, 2
	}
	if isMeasure(words[0]) || propertyClass.MatchString(words[0]) {
		return []string{words[0]}, 1
	}
	return nil, 0
}

// readFind reads the words of the question: those that are no measure name a kind;
// then come names with their values, or values alone.
func readFind(ctx context.Context, r graph.Reader, text string) (wanted, error) {
	kindWords, dims, err := splitFind(text)
	if err != nil {
		return wanted{}, err
	}
	kinds, err := r.Kinds(ctx)
	if err != nil {
		return wanted{}, err
	}
	w := wanted{dims: dims, kinds: kinds}
	if err := w.chooseKinds(kindWords, kinds); err != nil {
		return w, err
	}
	return w, w.checkDims()
}

func splitFind(text string) (kind string, dims []wantedDim, err error) {
	var before []string
	words := strings.Fields(text)
	for taken := 1; len(words) > 0; words, taken = words[taken:], 1 {
		name, value, isDim := strings.Cut(words[0], "=")
		if isDim {
			if name == "" {
				return "", nil, &queries.QuestionError{Asked: words[0],
					Err: errors.New(`write it without blanks around the sign: "inside=17 mm"`)}
			}
			dims = append(dims, wantedDim{name: strings.ToLower(name), text: value})
			continue
		}
		whole := len(dims) == 0 || isMeasure(dims[len(dims)-1].text)
		alone, n := saidAlone(words)
		switch {
		case whole && n > 0:
			taken = n
			for _, m := range alone {
				dims = append(dims, wantedDim{text: m, rough: ringSize.MatchString(words[0])})
			}
		case whole && len(dims) > 0 && isThread(dims[len(dims)-1].text) && plainNumber.MatchString(words[0]):
			dims = append(dims, wantedDim{text: words[0] + " mm"}) // "M8 35"
		case len(dims) > 0:
			last := &dims[len(dims)-1]
			last.text = strings.TrimSpace(last.text + " " + words[0])
		default:
			before = append(before, words[0])
		}
	}
	if len(dims) == 0 {
		return "", nil, &queries.QuestionError{Asked: text,
			Err: errors.New(`nothing measured is in it: "bearing inside=17 mm"`)}
	}
	return strings.ToLower(strings.Join(before, " ")), dims, nil
}

// chooseKinds reads the kind as a kind of feature, else as the kinds of part that go
// by the words: "bracket" is any of them. Without one, every feature that has all the dimensions is
// looked at.
func (w *wanted) chooseKinds(kind string, kinds []graph.Kind) error {
	key := graph.NumberKey(kind)
	if _, ok := graph.FeatureKindNamed(strings.ReplaceAll(kind, " ", "-")); ok {
		w.featureKinds = []string{strings.ReplaceAll(kind, " ", "-")}
	}
	var names []string
	for _, k := range kinds {
		names = append(names, string(k.ID))
	}
	if key != "" && len(w.featureKinds) == 0 {
		words := queries.Words(kind)
		found := queries.KindsWithWords(kinds, words)
		if len(found) == 0 && len(words) > 1 { // "axle nut": nuts that are called so
			found, w.nameWords = queries.KindsWithWords(kinds, words[len(words)-1:]), words
		}
		for _, k := range found {
			w.partKinds = append(w.partKinds, k.ID)
			w.featureKinds = append(w.featureKinds,
				lists.Mapped(k.Features, func(f graph.KindFeature) string { return f.Kind })...)
		}
		if len(w.partKinds) > 0 {
			w.featureKinds = lists.Unique(w.featureKinds)
			return nil
		}
	}
	for _, fk := range graph.FeatureKinds() {
		names = append(names, fk.Name)
		if key == "" && w.hasAllDims(fk) {
			w.featureKinds = append(w.featureKinds, fk.Name)
		}
	}
	if key != "" && len(w.featureKinds) == 0 {
		return queries.NotFound("kind of part or feature", kind, "", lists.Unique(names))
	}
	for _, k := range kinds {
		if slices.ContainsFunc(k.Features,
			func(f graph.KindFeature) bool { return slices.Contains(w.featureKinds, f.Kind) }) {
			w.partKinds = append(w.partKinds, k.ID)
		}
	}
	return nil
}

func (w *wanted) hasAllDims(fk graph.FeatureKind) bool {
	return !slices.ContainsFunc(w.dims, func(d wantedDim) bool { return !slices.ContainsFunc(fk.Dims, d.mayBe) })
}

// mayBe reports whether the measure can be of this dimension.
func (d wantedDim) mayBe(spec graph.DimSpec) bool {
	if d.name != "" {
		return d.name == spec.Name
	}
	if propertyClass.MatchString(d.text) {
		return spec.Name == "class"
	}
	_, err := measure.Parse(d.text, spec.Type)
	return err == nil && (spec.Type.Measured() || spec.Type == measure.Thread) && spec.Type != measure.Torque
}

// canBeAsked says what the kinds of feature that are looked at are measured by; empty
// where nobody said which.
func (w *wanted) canBeAsked() string {
	var dims []string
	for _, name := range w.featureKinds {
		fk, _ := graph.FeatureKindNamed(name)
		for _, d := range fk.Dims {
			if d.Type != measure.Torque && !slices.Contains(dims, d.Name) {
				dims = append(dims, d.Name)
			}
		}
	}
	if len(dims) == 0 {
		return `say which kind of part: "bolt thread=M8x1.25"`
	}
	return "it is asked for by " + graph.OrList(dims)
}

// checkDims keeps the feature kinds that have every dimension asked, and reads
// the values once to find a fault in them.
func (w *wanted) checkDims() error {
	var names []string
	var able []string
	for _, name := range w.featureKinds {
		fk, _ := graph.FeatureKindNamed(name)
		names = append(names, lists.Mapped(fk.Dims, func(d graph.DimSpec) string { return d.Name })...)
		if w.hasAllDims(fk) {
			able = append(able, name)
		}
	}
	for _, d := range w.dims {
		if len(able) == 0 && d.name != "" && !slices.Contains(names, d.name) {
			fault := queries.NotFound("dimension", d.name, "", lists.Unique(names))
			fault.Hint = w.canBeAsked()
			return fault
		}
	}
	if len(able) == 0 {
		return &queries.QuestionError{Asked: cmp.Or(w.dims[0].name, w.dims[0].text),
			Err: errors.New("no one feature has all of these dimensions")}
	}
	w.featureKinds = able
	var fault error
	for _, d := range w.dims {
		if d.name == "" {
			continue // those that can't be such a value were left out
		}
		readable := false
		for _, name := range able {
			fk, _ := graph.FeatureKindNamed(name)
			spec, _ := fk.Dim(d.name)
			_, err := measure.Parse(d.text, spec.Type)
			readable = readable || err == nil
			if err != nil {
				fault = &queries.QuestionError{Asked: d.name + "=" + d.text, Err: err}
			}
		}
		if !readable {
			return fault
		}
	}
	return nil
}

// match compares one feature with what was measured. ok is false for a feature
// of another kind.
func (w *wanted) match(p graph.Part, f graph.Feature) (FoundPart, bool) {
	if !slices.Contains(w.featureKinds, f.Kind) {
		return FoundPart{}, false
	}
	fk, _ := graph.FeatureKindNamed(f.Kind)
	found := FoundPart{Part: p.ID, Name: p.Name, Kind: p.Kind, Feature: f.Name, Matches: []string{},
		asked: map[string]bool{}}
	for _, d := range w.dims {
		if spec, named := fk.Dim(d.name); named {
			found.compare(spec, d, f.Dims[d.name])
			found.asked[d.name] = true
		}
	}
	for _, d := range w.dims {
		if d.name == "" {
			found.compareAny(fk, d, f.Dims)
		}
	}
	return found, true
}

// tellApart says of each part what tells it from the others of its kind that were found,
// what was asked left out. What is marked on a part and decides what it bears, as the
// property class of a bolt, is told of all: two that look alike are not one.
func (w *wanted) tellApart(parts []FoundPart, known map[graph.PartID]graph.Part) {
	kinds := map[graph.KindID][]int{}
	for i, f := range parts {
		kinds[f.Kind] = append(kinds[f.Kind], i)
	}
	for _, alike := range kinds {
		dims := w.apartDims(parts, alike, known)
		for _, i := range alike {
			p := known[parts[i].Part]
			for _, d := range dims {
				if text := textOf(p, d); text != "" {
					name := d.dim
					if d.feature != parts[i].Feature && d.feature != d.dim {
						name = d.feature + " " + name
					}
					parts[i].Apart = lists.Unique(append(parts[i].Apart, name+" "+text))
				}
			}
		}
	}
}

// apartDims are the dimensions in which some parts of a kind differ, what is always told
// first, then those of the feature that was measured.
func (w *wanted) apartDims(parts []FoundPart, alike []int, known map[graph.PartID]graph.Part) []apartDim {
	var all []apartDim
	seen := map[apartDim]bool{}
	for _, i := range alike {
		for _, f := range known[parts[i].Part].Features {
			kind, _ := graph.FeatureKindNamed(f.Kind)
			for _, spec := range kind.Dims {
				d := apartDim{f.Name, spec.Name, spec.Accuracy == "marking" && !spec.Looks}
				isAsked := f.Name == parts[i].Feature && parts[i].asked[spec.Name]
				if len(f.Dims[spec.Name]) > 0 && !isAsked && !seen[d] && spec.Type != measure.Torque {
					seen[d] = true
					all = append(all, d)
				}
			}
		}
	}
	all = lists.Kept(all, func(d apartDim) bool {
		values := lists.Unique(lists.Mapped(alike, func(i int) string { return textOf(known[parts[i].Part], d) }))
		return d.always || len(values) > 1
	})
	first := func(d apartDim) int {
		switch {
		case d.always:
			return 0
		case slices.ContainsFunc(alike, func(i int) bool { return parts[i].Feature == d.feature }):
			return 1
		}
		return 2
	}
	slices.SortStableFunc(all, func(a, b apartDim) int { return cmp.Compare(first(a), first(b)) })
	return all[:min(mostApart, len(all))]
}

// offText says how far a reading is from what was asked: "outside 42 mm, 2 mm
// more". The distance is a share of what was asked, and large for words.
func offText(spec graph.DimSpec, d wantedDim, r graph.Reading) (string, float64) {
	text := spec.Name + " " + r.Text
	asked, by := offBy(spec, d, r)
	if math.IsInf(by, 1) {
		return text, math.MaxFloat32
	}
	word := "more"
	if by < 0 {
		word = "less"
	}
	return fmt.Sprintf("%s, %s %s", text, measure.Format(math.Abs(by), spec.Type), word),
		math.Abs(by) / max(math.Abs(asked), 1e-9)
}

// offBy is what was asked as a number, and how much more a reading is; infinite for words.
func offBy(spec graph.DimSpec, d wantedDim, r graph.Reading) (asked, more float64) {
	a, errA := measure.Parse(d.text, spec.Type)
	has, errH := measure.Parse(r.Text, spec.Type)
	if errA != nil || errH != nil || !spec.Type.Measured() && spec.Type != measure.Count {
		return 0, math.Inf(1)
	}
	return a.Quantity.Nominal, has.Quantity.Nominal - a.Quantity.Nominal
}

// mostApart is how many dimensions tell parts apart at most: more nobody compares.
const mostApart = 4

// apartDim is a dimension of a feature that tells parts of one kind apart.
type apartDim struct {
	feature, dim string
	always       bool // is told even where all found have the same
}

// textOf is what a part has in a dimension, as written first; empty where nobody wrote it.
func textOf(p graph.Part, d apartDim) string {
	f, _ := p.Feature(d.feature)
	return strings.TrimSpace(evidence.FirstText(f.Dims[d.dim]))
}
