package part

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/lists"
)

// wanted is a FindQuestion taken apart.
type wanted struct {
	featureKinds []string       // features that are looked at
	partKinds    []graph.KindID // kinds of part that have one of them
	dims         []wantedDim
	kinds        []graph.Kind // all that there are
}

type wantedDim struct{ name, text string }

// readFind reads the words of the question: those before the first "=" name a
// kind, then come names with their values.
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
	for _, word := range strings.Fields(text) {
		name, value, isDim := strings.Cut(word, "=")
		switch {
		case isDim && name != "":
			dims = append(dims, wantedDim{strings.ToLower(name), value})
		case isDim:
			return "", nil, &queries.QuestionError{Asked: word,
				Err: errors.New(`write it without blanks around the sign: "inside=17 mm"`)}
		case len(dims) > 0:
			last := &dims[len(dims)-1]
			last.text = strings.TrimSpace(last.text + " " + word)
		default:
			before = append(before, word)
		}
	}
	if len(dims) == 0 {
		return "", nil, &queries.QuestionError{Asked: text,
			Err: errors.New(`nothing measured is in it: "bearing inside=17 mm"`)}
	}
	return strings.ToLower(strings.Join(before, " ")), dims, nil
}

// chooseKinds reads the kind as a kind of feature, else as a kind of part by
// identity or name. Without one, every feature that has all the dimensions is
// looked at.
func (w *wanted) chooseKinds(kind string, kinds []graph.Kind) error {
	key := graph.NumberKey(kind)
	if _, ok := graph.FeatureKindNamed(strings.ReplaceAll(kind, " ", "-")); ok {
		w.featureKinds = []string{strings.ReplaceAll(kind, " ", "-")}
	}
	var names []string
	for _, k := range kinds {
		names = append(names, string(k.ID))
		if key != "" && len(w.featureKinds) == 0 && (graph.NumberKey(string(k.ID)) == key || graph.NumberKey(k.Name) == key) {
			w.partKinds = []graph.KindID{k.ID}
			w.featureKinds = lists.Mapped(k.Features, func(f graph.KindFeature) string { return f.Kind })
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
	return !slices.ContainsFunc(w.dims, func(d wantedDim) bool { _, ok := fk.Dim(d.name); return !ok })
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
	return "it is asked for by " + queries.OrList(dims)
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
		if len(able) == 0 && !slices.Contains(names, d.name) {
			fault := queries.NotFound("dimension", d.name, "", lists.Unique(names))
			fault.Hint = w.canBeAsked()
			return fault
		}
	}
	if len(able) == 0 {
		return &queries.QuestionError{Asked: w.dims[0].name, Err: errors.New("no one feature has all of these dimensions")}
	}
	w.featureKinds = able
	var fault error
	for _, d := range w.dims {
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
	found := FoundPart{Part: p.ID, Name: p.Name, Kind: p.Kind, Feature: f.Name, Matches: []string{}}
	for _, d := range w.dims {
		spec, _ := fk.Dim(d.name)
		found.compare(spec, d, f.Dims[d.name])
	}
	return found, true
}

// offText says how far a reading is from what was asked: "outside 42 mm, 2 mm
// more". The distance is a share of what was asked, and large for words.
func offText(spec graph.DimSpec, d wantedDim, r graph.Reading) (string, float64) {
	text := d.name + " " + r.Text
	asked, errA := measure.Parse(d.text, spec.Type)
	has, errH := measure.Parse(r.Text, spec.Type)
	if errA != nil || errH != nil || !spec.Type.Measured() && spec.Type != measure.Count {
		return text, math.MaxFloat32
	}
	by := has.Quantity.Nominal - asked.Quantity.Nominal
	word := "more"
	if by < 0 {
		word = "less"
	}
	return fmt.Sprintf("%s, %s %s", text, measure.Format(math.Abs(by), spec.Type), word),
		math.Abs(by) / max(math.Abs(asked.Quantity.Nominal), 1e-9)
}
