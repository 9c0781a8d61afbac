package loader

import (
	"math"
	"strconv"
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
			fault := w.Errorf(b.Pos, "impossible-feature", "feature %q of %q: %s %q is not more than %s %q", f.name, d.id,
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
	switch f.kind.Name {
	case "female-thread":
		checkFlats(w, d, f)
	case "male-thread":
		checkThreadOfShaft(w, d, f)
		checkPlainOfShaft(w, d, f)
	case "bolt-pattern":
		checkLoneHole(w, d, f)
	case "bore":
		checkWall(w, d, f)
	case "pad":
		checkLayers(w, d, f)
	case "drum":
		checkDrumWear(w, d, f)
	case "tyre":
		checkTyreRadius(w, d, f)
		checkTyreMarks(w, d, f)
	}
}

// checkWall reports a bore that is no less than the surface around it, on a part that
// is a ring or sleeve by the names of its two features: bore and surface.
func checkWall(w *world, d *partDraft, f *featureDraft) {
	around := d.features["surface"]
	if f.name != "bore" || around == nil || around.kind.Name != "shaft" {
		return
	}
	for _, in := range f.dims["diameter"] {
		for _, out := range around.dims["diameter"] {
			if in.Source != out.Source || in.layer != out.layer || in.value.Quantity.Low < out.value.Quantity.High {
				continue
			}
			fault := w.Errorf(out.Pos, "impossible-feature", "feature %q of %q: diameter %q is not more than that of its "+
				"bore %q",
				around.name, d.id, out.Text, in.Text)
			fault.Related = []diag.Pos{in.Pos}
		}
	}
}

// checkThreadOfShaft reports a thread that is thicker than the shaft it is cut on, of a
// part that is a shaft with a thread by the names of its two features: it does not go
// where the shaft goes, unless it stands under the head. Source: plain geometry.
func checkThreadOfShaft(w *world, d *partDraft, f *featureDraft) {
	shaft := d.features["shaft"]
	if f.name != "thread" || shaft == nil || shaft.kind.Name != "shaft" {
		return
	}
	for _, thread := range f.dims["thread"] {
		for _, across := range shaft.dims["diameter"] {
			if thread.Source != across.Source || thread.layer != across.layer ||
				thread.value.Thread.Nominal <= across.value.Quantity.High+threadRead {
				continue
			}
			fault := w.Warnf(thread.Pos, "thick-thread", "feature %q of %q: thread %q is thicker than its shaft %q",
				f.name, d.id, thread.Text, across.Text)
			fault.Hint = "one of the two is misread"
			fault.Related = []diag.Pos{across.Pos}
		}
	}
}

// checkPlainOfShaft reports a shaft whose plain length is more than all that there is
// under its head, or than what its thread leaves plain. Source: plain geometry.
func checkPlainOfShaft(w *world, d *partDraft, f *featureDraft) {
	shaft := d.features["shaft"]
	if f.name != "thread" || shaft == nil || shaft.kind.Name != "shaft" {
		return
	}
	for _, plain := range shaft.dims["length"] {
		for _, dim := range []string{"length", "grip"} {
			for _, other := range f.dims[dim] {
				if plain.Source != other.Source || plain.layer != other.layer ||
					plain.value.Quantity.Low <= other.value.Quantity.High+plainRead {
					continue
				}
				spec, _ := f.kind.Dim(dim)
				fault := w.Errorf(plain.Pos, "impossible-feature", "feature %q of %q: length %q is more than %s %q",
					shaft.name, d.id, plain.Text, spec.Is, other.Text)
				fault.Hint = "one of the two is misread"
				fault.Related = []diag.Pos{other.Pos}
			}
		}
	}
}

// padRead is how far plate and lining together may pass the whole, in mm: each is read to
// a tenth or two, and a lining has a slope. Common practice, no source.
const padRead = 0.5

// checkLayers reports a pad whose plate and lining are thicker than the whole. Source:
// plain geometry.
func checkLayers(w *world, d *partDraft, f *featureDraft) {
	together(f, "plate", "thickness", func(plate, whole readingDraft) {
		together(f, "lining", "thickness", func(lining, other readingDraft) {
			if other.Pos != whole.Pos || lining.Source != plate.Source || lining.layer != plate.layer ||
				plate.value.Quantity.Low+lining.value.Quantity.Low <= whole.value.Quantity.High+padRead {
				return
			}
			fault := w.Errorf(whole.Pos, "impossible-feature", "feature %q of %q: plate %q and lining %q are more than the "+
				"thickness %q of both", f.name, d.id, plate.Text, lining.Text, whole.Text)
			fault.Hint = "one of the three is misread"
			fault.Related = []diag.Pos{plate.Pos, lining.Pos}
		})
	})
}

// drumWear is how much larger than new a drum may be worn, as a share of its diameter.
// Common practice, no source: 1 to 2 mm are cast on drums of 110 to 200 mm.
const drumWear = 0.05

// checkDrumWear reports a largest diameter that no drum of that size is worn to.
func checkDrumWear(w *world, d *partDraft, f *featureDraft) {
	together(f, "diameter", "most", func(size, most readingDraft) {
		if most.value.Quantity.Low <= size.value.Quantity.High*(1+drumWear) {
			return
		}
		fault := w.Errorf(most.Pos, "impossible-feature", "feature %q of %q: a drum of %q is not worn to %q", f.name,
			d.id, size.Text, most.Text)
		fault.Hint = "one of the two is misread"
		fault.Related = []diag.Pos{size.Pos}
	})
}

// plainRead is how far two lengths of one shaft may be apart, in mm: each is read to half
// a millimetre. Common practice, no source.
const plainRead = 1.0

// threadRead is how much thinner than its thread a shaft may be written, in mm: shafts
// are ground some tenths below the size that they are called by.
const threadRead = 0.3

// tyreVaries is how far the radius of a fitted tyre may lie off that of its size, as a
// share of it: makers may be some hundredths off, and tread and speed add to it. Common
// practice, no source.
const tyreVaries = 0.07

// checkTyreRadius reports a tyre whose radius is not that of its size.
func checkTyreRadius(w *world, d *partDraft, f *featureDraft) {
	together(f, "size", "radius", func(size, radius readingDraft) {
		want, known := measure.TyreRadius(size.value.Text)
		q := radius.value.Quantity
		if !known || q.High >= want*(1-tyreVaries) && q.Low <= want*(1+tyreVaries) {
			return
		}
		fault := w.Errorf(radius.Pos, "impossible-feature", "feature %q of %q: a tyre %q has a radius of about %s, not %q",
			f.name, d.id, size.Text, measure.Format(math.Round(want), measure.Length), radius.Text)
		fault.Hint = "one of the two is misread"
		fault.Related = []diag.Pos{size.Pos}
	})
}

// checkTyreMarks reports a load index or speed symbol that is not the one which the size
// carries behind its rim. Source of the marks: UN R75.
func checkTyreMarks(w *world, d *partDraft, f *featureDraft) {
	fault := func(size, mark readingDraft, what, carried string) {
		at := w.Errorf(mark.Pos, "impossible-feature", "feature %q of %q: a tyre %q has the %s %s, not %q", f.name, d.id,
			size.Text, what, carried, mark.Text)
		at.Hint = "one of the two is misread"
		at.Related = []diag.Pos{size.Pos}
	}
	together(f, "size", "load", func(size, load readingDraft) {
		carried, _ := measure.TyreMarks(size.value.Text)
		if carried != 0 && load.value.Quantity.Nominal != float64(carried) {
			fault(size, load, "load index", strconv.Itoa(carried))
		}
	})
	together(f, "size", "speed", func(size, speed readingDraft) {
		_, carried := measure.TyreMarks(size.value.Text)
		if carried != "" && strings.ToUpper(strings.Trim(speed.value.Text, "() ")) != carried {
			fault(size, speed, "speed symbol", carried)
		}
	})
}

// checkLoneHole reports one hole that is said to be apart from itself.
func checkLoneHole(w *world, d *partDraft, f *featureDraft) {
	together(f, "count", "spacing", func(count, spacing readingDraft) {
		if count.value.Quantity.Nominal != 1 || spacing.value.Quantity.Low < 1 { // mm: nothing, written as something
			return
		}
		fault := w.Errorf(spacing.Pos, "impossible-feature", "feature %q of %q: 1 hole is not %q apart", f.name, d.id,
			spacing.Text)
		fault.Hint = "say how many holes there are"
		fault.Related = []diag.Pos{count.Pos}
	})
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
			f.name, d.id, flats.Text, thread.Text)
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
		if want, known := measure.BearingForm(number.value.Text); known && form.value.Text != want {
			otherSizes(w, d, f, number, form, "form", want)
		}
	})
}

func otherSizes(w *world, d *partDraft, f *featureDraft, number, given readingDraft, what, want string) {
	fault := w.Errorf(given.Pos, "other-sizes", "feature %q of %q: a bearing %q has the %s %s, not %q", f.name, d.id,
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
