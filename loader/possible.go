package loader

import (
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// checkPossible reports sizes of a feature that can't be together. Only what one
// source says in one layer is held against each other: two sources may disagree.
func checkPossible(w *world, d *partDraft, f *featureDraft) {
	for _, o := range graph.Orders(f.kind.Name) {
		less, _ := f.kind.Dim(o.Less)
		more, _ := f.kind.Dim(o.More)
		together(f, o.Less, o.More, func(a, b readingDraft) {
			low, high := a.value.Quantity.Low, b.value.Quantity.High
			if low < high || o.MayEqual && low == high {
				return
			}
			fault := w.Errorf(b.Pos, "impossible-feature", "feature %q of %q: %s %q is not more than %s %q", f.name, d.part.ID,
				more.Is, b.Text, less.Is, a.Text)
			if o.MayEqual {
				fault.Message = strings.Replace(fault.Message, "is not more than", "is less than", 1)
			}
			fault.Related = []diag.Pos{a.Pos}
		})
	}
	if f.kind.Name == "bearing" {
		checkDesignation(w, d, f)
	}
	if f.kind.Name == "female-thread" {
		checkFlats(w, d, f)
	}
}

// checkFlats reports a spanner size of a nut that is no more than its thread: there
// would be no metal around it. A cap may well be turned by a hexagon smaller than its
// thread. Source: plain geometry.
func checkFlats(w *world, d *partDraft, f *featureDraft) {
	together(f, "thread", "across-flats", func(thread, flats readingDraft) {
		if flats.value.Quantity.High > thread.value.Thread.Nominal {
			return
		}
		fault := w.Errorf(flats.Pos, "impossible-feature", "feature %q of %q: spanner size %q is not more than thread %q",
			f.name, d.part.ID, flats.Text, thread.Text)
		fault.Related = []diag.Pos{thread.Pos}
	})
}

// together visits readings of two dimensions that one source gives in one layer.
func together(f *featureDraft, one, other string, visit func(a, b readingDraft)) {
	for _, a := range f.dims[one] {
		for _, b := range f.dims[other] {
			if a.Source == b.Source && a.layer == b.layer {
				visit(a, b)
			}
		}
	}
}

// designationMatch is how far a size may be off what the number on the ring
// says, in mm. Source: ISO 492 allows hundredths on the diameters and 0.12 mm on
// the width.
const designationMatch = 0.15

// checkDesignation holds the sizes of a bearing against the number on its ring.
// Of a number that is in no table here only the bore is known.
func checkDesignation(w *world, d *partDraft, f *featureDraft) {
	for _, dim := range []string{"inside", "outside", "width"} {
		together(f, "designation", dim, func(number, size readingDraft) {
			want, known := designatedSize(number.value.Text, dim)
			q := size.value.Quantity
			if known && (q.Low > want+designationMatch || q.High < want-designationMatch) {
				spec, _ := f.kind.Dim(dim)
				otherSizes(w, d, f, number, size, spec.Is, measure.Format(want, measure.Length))
			}
		})
	}
	together(f, "designation", "form", func(number, form readingDraft) {
		if std, known := measure.DesignatedBearing(number.value.Text); known && form.value.Text != std.Form {
			otherSizes(w, d, f, number, form, "form", std.Form)
		}
	})
}

func otherSizes(w *world, d *partDraft, f *featureDraft, number, given readingDraft, what, want string) {
	fault := w.Errorf(given.Pos, "other-sizes", "feature %q of %q: a bearing %q has the %s %s, not %q", f.name, d.part.ID,
		number.Text, what, want, given.Text)
	fault.Hint = "one of the two is misread"
	fault.Related = []diag.Pos{number.Pos}
}

// designatedSize is the size in mm that a number on a ring stands for.
func designatedSize(text, dim string) (float64, bool) {
	if std, known := measure.DesignatedBearing(text); known {
		return map[string]float64{"inside": std.Inside, "outside": std.Outside, "width": std.Width}[dim], true
	}
	if dim == "inside" {
		return measure.DesignatedBore(text)
	}
	return 0, false
}
