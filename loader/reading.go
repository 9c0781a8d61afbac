package loader

import (
	"errors"
	"slices"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// measured takes a quantity of one type, not below zero.
func measured(t measure.Type) scalar[word] {
	return scalar[word]{schema: scalarSchema, check: func(r reading, w word) (word, bool) {
		q, err := measure.ParseQuantity(w.text, t)
		var unit *measure.UnitError
		switch {
		case errors.As(err, &unit):
			r.Errorf(w.pos, "wrong-unit", "%s", inner(err))
		case err != nil:
			rangeFault(r, w, err, "bad-value", "")
		case min(q.Low, q.Nominal) < 0:
			r.Errorf(w.pos, "impossible-value", "%s %q is impossible: it is below zero", t, w.text)
		case t == measure.Torque && max(q.High, q.Nominal) == 0:
			r.Errorf(w.pos, "impossible-value", "%s %q is impossible: it is zero", t, w.text)
		default:
			return w, true
		}
		return w, false
	}}
}

// allReadings is readings for a list of them.
func allReadings(w *world, f *dataFile, raw []rawReading, outer ...[]word) []graph.Reading {
	var list []graph.Reading
	for _, r := range raw {
		list = append(list, readings(w, f, r, outer...)...)
	}
	slices.SortFunc(list, compareReadings)
	return list
}

// oneValuePerSource reports a source that gives two different values.
func oneValuePerSource(w *world, sorted []graph.Reading, t measure.Type, what string) {
	for i := 1; i < len(sorted); i++ {
		a, b := sorted[i-1], sorted[i]
		if a.Source == b.Source && !sameQuantity(a.Text, b.Text, t) {
			d := w.Errorf(b.Pos, "two-values", "source %q gives %s two values, %q and %q", b.Source, what, a.Text, b.Text)
			d.Hint = "one of them is wrong, or comes from another source"
			d.Related = []diag.Pos{a.Pos}
		}
	}
}

func sameQuantity(a, b string, t measure.Type) bool {
	x, errX := measure.ParseQuantity(a, t)
	y, errY := measure.ParseQuantity(b, t)
	return errX == nil && errY == nil && x.Same(y)
}

// uniteReadings adds readings of another file to those already there. In the
// same layer a source may give one value only; a later layer may contradict.
func uniteReadings(w *world, a, b []graph.Reading, t measure.Type, what string, sameLayer bool) []graph.Reading {
	all := append(slices.Clip(a), b...)
	slices.SortFunc(all, compareReadings)
	if sameLayer {
		oneValuePerSource(w, all, t, what)
	}
	return all
}
