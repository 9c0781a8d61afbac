package loader

import (
	"maps"
	"slices"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// checkWithin reports features of one part of which one must lie inside the other and
// does not: holes in their metal, a spline or drum in what is around it. Only what one
// source says in one layer is held against each other.
func checkWithin(w *world, d *partDraft) {
	for _, name := range slices.Sorted(maps.Keys(d.features)) {
		switch f := d.features[name]; f.kind.Name {
		case "bolt-pattern":
			checkHoles(w, d, f)
		case "disc-rim":
			checkBand(w, d, f)
		case "drum", "spline":
			checkInside(w, d, f, map[string]string{"drum": "diameter", "spline": "major"}[f.kind.Name])
		}
	}
}

// around are the sizes of a part that all else of it lies in, with what each is called.
type around struct {
	what string
	size float64
	said readingDraft
}

// edgesOf are the edges of a part that its middle lies in: of a disc or rim the outside, of
// a sprocket the roots of its teeth.
func edgesOf(d *partDraft, said readingDraft) []around {
	var all []around
	for _, name := range slices.Sorted(maps.Keys(d.features)) {
		f := d.features[name]
		switch f.kind.Name {
		case "disc-rim", "rim":
			for _, r := range f.dims["diameter"] {
				if isSaidWith(r, said) {
					all = append(all, around{"diameter " + r.Text + " of " + name, r.value.Quantity.High, r})
				}
			}
		case "sprocket":
			teeth, okTeeth := saidWith(f, "teeth", said)
			pitch, okPitch := saidWith(f, "pitch", said)
			roller, okRoller := saidWith(f, "roller", said)
			if !okTeeth || !okPitch || !okRoller {
				continue
			}
			root := graph.RootCircle(int(teeth.value.Quantity.Nominal), pitch.value.Quantity.High, roller.value.Quantity.Low)
			if root <= 0 {
				continue // too few teeth to be a sprocket: told by its own range
			}
			all = append(all, around{"root circle " + measure.Format(root, measure.Length) + " of " + name, root, teeth})
		}
	}
	return all
}

// hollowsOf are what is open in the middle of a hub.
func hollowsOf(d *partDraft, said readingDraft) []around {
	var all []around
	hub := slices.ContainsFunc(slices.Collect(maps.Values(d.features)),
		func(f *featureDraft) bool { return f.kind.Name == "hub-row" })
	for _, name := range slices.Sorted(maps.Keys(d.features)) {
		f := d.features[name]
		if !hub || f.kind.Name != "bearing-seat" {
			continue
		}
		if r, ok := saidWith(f, "diameter", said); ok {
			all = append(all, around{"seat " + r.Text + " of " + name, r.value.Quantity.Low, r})
		}
	}
	return all
}

// checkHoles reports holes that run into one another, out of the edge of their part, or
// into the hole or spigot in its middle. Holes in a rectangle, and two that need not lie
// round the middle, are held against one another alone; so are those of spokes, which
// slant.
func checkHoles(w *world, d *partDraft, f *featureDraft) {
	together(f, "count", "spacing", func(count, spacing readingDraft) {
		hole, wide := 0.0, spacing
		if r, ok := saidWith(f, "hole", spacing); ok {
			hole, wide = r.value.Quantity.Low, r
		}
		n, circle := int(count.value.Quantity.Nominal), spacing.value.Quantity
		if len(f.dims["spacing-2"]) == 0 && hole > 0 && graph.HolesTouch(n, circle.High, hole) {
			impossiblePair(w, d, f, spacing, wide, "holes "+wide.Text+" wide run into one another")
		}
		if n < 3 || len(f.dims["spacing-2"]) > 0 || f.name == "spoke-holes" {
			return
		}
		if r, ok := saidWith(f, "spigot", spacing); ok && !graph.LeavesMetal(circle.High, hole, 0, r.value.Quantity.Low) {
			impossiblePair(w, d, f, spacing, r, "the circle lies in spigot "+r.Text)
		}
		for _, edge := range edgesOf(d, spacing) {
			if !graph.LeavesMetal(circle.Low, hole, edge.size, 0) {
				impossiblePair(w, d, f, spacing, edge.said, "the holes lie outside "+edge.what)
			}
		}
		for _, hollow := range hollowsOf(d, spacing) {
			if !graph.LeavesMetal(circle.High, hole, 0, hollow.size) {
				impossiblePair(w, d, f, spacing, hollow.said, "the circle lies in "+hollow.what)
			}
		}
	})
}

// checkBand reports a braking band that leaves nothing in the middle of its disc.
func checkBand(w *world, d *partDraft, f *featureDraft) {
	together(f, "band", "diameter", func(band, across readingDraft) {
		if 2*band.value.Quantity.Low < across.value.Quantity.High {
			return
		}
		impossiblePair(w, d, f, band, across, "twice the band is not less than diameter "+across.Text)
	})
}

// checkInside reports what lies in the middle of a part and is no smaller than its edge.
func checkInside(w *world, d *partDraft, f *featureDraft, dim string) {
	for _, r := range f.dims[dim] {
		for _, edge := range edgesOf(d, r) {
			if r.value.Quantity.Low >= edge.size {
				impossiblePair(w, d, f, r, edge.said, "it is not less than "+edge.what)
			}
		}
	}
}

func impossiblePair(w *world, d *partDraft, f *featureDraft, at, other readingDraft, why string) {
	fault := w.Errorf(at.Pos, "impossible-feature", "feature %q of %q: %q can't be: %s", f.name, d.id, at.Text, why)
	fault.Hint = "one of the two is misread"
	fault.Related = []diag.Pos{other.Pos}
}

// saidWith is the reading of a dimension that the same source gives in the same layer.
func saidWith(f *featureDraft, dim string, said readingDraft) (readingDraft, bool) {
	i := slices.IndexFunc(f.dims[dim], func(r readingDraft) bool { return isSaidWith(r, said) })
	if i < 0 {
		return readingDraft{}, false
	}
	return f.dims[dim][i], true
}

func isSaidWith(a, b readingDraft) bool { return a.Source == b.Source && a.layer == b.layer }
