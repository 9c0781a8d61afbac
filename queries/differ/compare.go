package differ

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/article"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// comparison is what two parts have in common and what not.
type comparison struct {
	class       Class
	why         string
	differences []Difference
	notKnown    []string
	// alike counts the dimensions that were compared and are the same.
	alike int
	// disputed are the compared dimensions whose readings disagree.
	disputed []disputedReadings
	// onlyColour is true when the numbers are of one core and one revision, and
	// no difference but looks was found.
	onlyColour bool
}

// compareParts compares two parts whose readings are in rank order, feature by
// feature. Numbers alone say one thing only: that nothing but the colour is
// another.
func compareParts(a, b graph.Part, kindA, kindB graph.Kind) comparison {
	c := comparison{class: ClassSame}
	if a.Kind != b.Kind {
		c.add(Difference{Class: ClassFunctional, A: string(a.Kind), B: string(b.Kind),
			Text: fmt.Sprintf("another kind of part: %s, not %s", kindB.Name, kindA.Name)})
	}
	var names []string
	for _, f := range a.Features {
		names = append(names, f.Name)
	}
	for _, f := range b.Features {
		names = append(names, f.Name)
	}
	for _, kf := range kindA.Features {
		if !kf.May {
			names = append(names, kf.Name)
		}
	}
	for _, name := range lists.Unique(names) {
		c.compareFeature(name, a, b, kindA, kindB)
	}
	c.conclude(a.Number, b.Number)
	return c
}

func (c *comparison) add(d Difference) {
	c.differences = append(c.differences, d)
	c.class = c.class.worst(d.Class)
}

func (c *comparison) compareFeature(name string, a, b graph.Part, kindA, kindB graph.Kind) {
	fa, hasA := a.Feature(name)
	fb, hasB := b.Feature(name)
	switch {
	case hasA && hasB && fa.Kind == fb.Kind:
		c.compareDims(name, fa, fb, a, b)
	case hasA && hasB:
		c.add(Difference{Feature: name, Class: ClassFunctional, A: fa.Kind, B: fb.Kind,
			Text: article.Sprintf("%s is a %s, not a %s", name, fb.Kind, fa.Kind)})
	case !hasA && !mayLack(kindA, name):
		c.notKnown = append(c.notKnown, fmt.Sprintf("%s of %s", name, a.ID))
		if !hasB {
			c.notKnown = append(c.notKnown, fmt.Sprintf("%s of %s", name, b.ID))
		}
	case !hasB && !mayLack(kindB, name):
		c.notKnown = append(c.notKnown, fmt.Sprintf("%s of %s", name, b.ID))
	default:
		c.oneSided(name, fa, fb, hasA)
	}
}

// mayLack reports whether a part of the kind may do without the feature: then
// one that does not list it has none. A feature that every part of the kind has
// is only not recorded.
func mayLack(kind graph.Kind, name string) bool {
	for _, f := range kind.Features {
		if f.Name == name {
			return f.May
		}
	}
	return true
}

// oneSided adds a feature that one part has and the other does not. A finish
// that only one of them has recorded is looks.
func (c *comparison) oneSided(name string, fa, fb graph.Feature, onA bool) {
	d := Difference{Feature: name, Class: ClassFunctional, B: fb.Kind, Text: fmt.Sprintf("%s added (%s)", name, fb.Kind)}
	if onA {
		d.A, d.B, d.Text = fa.Kind, "", fmt.Sprintf("%s gone (%s)", name, fa.Kind)
	}
	if looksOnly(d.A + d.B) {
		d.Class = ClassCosmetic
	}
	c.add(d)
}

// looksOnly reports whether every dimension of a feature kind is about looks.
func looksOnly(kind string) bool {
	spec, ok := graph.FeatureKindNamed(kind)
	for _, d := range spec.Dims {
		ok = ok && d.Looks
	}
	return ok
}

// compareDims compares the best readings of each dimension.
func (c *comparison) compareDims(name string, fa, fb graph.Feature, a, b graph.Part) {
	spec, _ := graph.FeatureKindNamed(fa.Kind)
	for _, dim := range spec.Dims {
		ra, rb := fa.Dims[dim.Name], fb.Dims[dim.Name]
		if len(ra) > 0 && len(rb) > 0 {
			c.dispute(dim, a, name, ra)
			c.dispute(dim, b, name, rb)
		}
		switch {
		case len(ra) > 0 && len(rb) > 0:
			if evidence.SameReading(dim, ra[0], rb[0]) {
				c.alike++
				continue
			}
			c.add(differenceOf(name, fa.Kind, dim, ra[0], rb[0]))
		case dim.Must:
			if len(ra) == 0 {
				c.notKnown = append(c.notKnown, fmt.Sprintf("%s of %s of %s", dim.Name, name, a.ID))
			}
			if len(rb) == 0 {
				c.notKnown = append(c.notKnown, fmt.Sprintf("%s of %s of %s", dim.Name, name, b.ID))
			}
		case dim.Looks && len(ra)+len(rb) > 0:
			c.add(Difference{Feature: name, Dim: dim.Name, Class: ClassCosmetic,
				A: evidence.FirstText(ra), B: evidence.FirstText(rb),
				Text: fmt.Sprintf("%s of %s: %s, not %s", dim.Name, name, evidence.OrNone(evidence.FirstText(rb)),
					evidence.OrNone(evidence.FirstText(ra)))})
		}
	}
}

func differenceOf(feature, kind string, dim graph.DimSpec, a, b graph.Reading) Difference {
	d := Difference{Feature: feature, Dim: dim.Name, Class: classOfDim(dim), A: a.Text, B: b.Text}
	x, errX := measure.Parse(a.Text, dim.Type)
	y, errY := measure.Parse(b.Text, dim.Type)
	if errX == nil && errY == nil {
		d.By = stepText(dim.Type, x, y)
	}
	d.Text = fmt.Sprintf("%s of %s: %s", dim.Name, feature, notTheSame(dim.Type, a.Text, b.Text))
	if d.By != "" {
		d.Text += " (" + d.By + ")"
	}
	return d
}

// notTheSame says what is another about a value. Of a list that has something in
// common with the other only what is more and what is gone is said.
func notTheSame(t measure.Type, a, b string) string {
	separator := map[measure.Type]string{measure.Pins: ", ", measure.Words: ", ", measure.Points: "; "}[t]
	if separator == "" {
		return b + ", not " + a
	}
	was, is := strings.Split(a, separator), strings.Split(b, separator)
	more := lists.Kept(slices.Clone(is), func(item string) bool { return !slices.Contains(was, item) })
	gone := lists.Kept(slices.Clone(was), func(item string) bool { return !slices.Contains(is, item) })
	switch {
	case len(more) == len(is) || len(more) == 0 && len(gone) == 0:
		return b + ", not " + a
	case len(gone) == 0:
		return strings.Join(more, separator) + " more"
	case len(more) == 0:
		return strings.Join(gone, separator) + " gone"
	}
	return strings.Join(more, separator) + ", not " + strings.Join(gone, separator)
}

// stepText is how much more the second value is: "+1 mm". It is empty for
// values that have no difference, and where only the limits are others.
func stepText(t measure.Type, a, b measure.Value) string {
	if t == measure.Thread {
		return threadStep(a.Thread, b.Thread)
	}
	if !t.Measured() && t != measure.Count && t != measure.Ratio {
		return ""
	}
	by := b.Quantity.Nominal - a.Quantity.Nominal
	switch {
	case by == 0:
		return "other limits"
	case by > 0:
		return "+" + measure.Format(by, t)
	}
	return "-" + measure.Format(-by, t)
}

// threadStep says what is another about a thread: the hand, the diameter, the
// pitch.
func threadStep(a, b measure.ThreadSize) string {
	var words []string
	if a.LeftHand != b.LeftHand {
		words = append(words, "other hand")
	}
	if a.Nominal != b.Nominal {
		words = append(words, fmt.Sprintf("diameter %s, not %s", measure.Format(b.Nominal, measure.Length),
			measure.Format(a.Nominal, measure.Length)))
	}
	if a.Pitch != b.Pitch {
		words = append(words, fmt.Sprintf("pitch %s, not %s", measure.Format(b.Pitch, measure.Length),
			measure.Format(a.Pitch, measure.Length)))
	}
	return strings.Join(words, ", ")
}

// classOfDim says what sort of difference another value of a dimension is: what
// can only be named, and what a plug or a fluid depends on, is another
// function; what can be measured, and what a size is named by, is another
// dimension.
func classOfDim(dim graph.DimSpec) Class {
	if dim.Looks {
		return ClassCosmetic
	}
	switch dim.Type {
	case measure.Pins, measure.Words, measure.YesNo:
		return ClassFunctional
	case measure.Word:
		switch dim.Name {
		case "size", "speed", "class", "head", "material", "designation", "approval":
			return ClassDimensional
		}
		return ClassFunctional
	case measure.Count:
		if dim.Name == "banjos" {
			return ClassFunctional
		}
	}
	return ClassDimensional
}

// conclude names the class when no difference was found, and says why.
func (c *comparison) conclude(a, b graph.Number) {
	c.onlyColour = a.CoreKey() == b.CoreKey() && a.Revision == b.Revision && a.Colour != b.Colour &&
		c.class.worst(ClassCosmetic) == ClassCosmetic
	switch {
	case c.onlyColour:
		c.class, c.notKnown = ClassCosmetic, nil
		c.why = fmt.Sprintf("only the colour: %s, not %s", evidence.OrNone(b.Colour), evidence.OrNone(a.Colour))
	case len(c.notKnown) > 0 && c.class.worst(ClassNotKnown) == ClassNotKnown:
		c.class = ClassNotKnown
		c.why = "not recorded: " + strings.Join(c.notKnown, ", ")
	case len(c.differences) > 0:
		texts := make([]string, 0, len(c.differences))
		for _, d := range c.differences {
			if d.Class == c.class {
				texts = append(texts, d.Text)
			}
		}
		c.why = strings.Join(texts, "; ")
	case c.alike == 0:
		c.class = ClassNotKnown
		c.why = "nothing is recorded that could be compared"
	default:
		c.class = ClassCosmetic
		c.why = "another number, the same measures"
	}
}

// dispute notes a dimension whose readings disagree.
func (c *comparison) dispute(dim graph.DimSpec, part graph.Part, feature string, readings []graph.Reading) {
	if slices.ContainsFunc(readings, func(r graph.Reading) bool { return !evidence.Agree(dim, readings[0], r) }) {
		c.disputed = append(c.disputed, disputedReadings{part, feature, dim, readings})
	}
}
