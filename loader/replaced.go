package loader

import (
	"context"
	"reflect"
	"slices"
	"strings"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
)

// Replaced reads what some files of a layer said and what they say now, over the
// graph that was read from all of it. ok tells that nothing else of that graph can
// depend on the difference, and that nothing is to be said about the files: then
// what the files said may be replaced by what they say. Where it is false the whole
// layer is to be read again. The layer must be the only one above the standard set,
// and its last reading must have had no faults. old and now are the contents by
// path; a file that is new or gone stands in one of them only.
func Replaced(ctx context.Context, base graph.Reader, layer string,
	old, now map[string][]byte) (was, is graph.Facts, ok bool, err error) {
	if was, ok, err = saidBy(ctx, base, layer, old); err != nil || !ok {
		return was, is, false, err
	}
	if is, ok, err = saidBy(ctx, newLacking(base, was), layer, now); err != nil || !ok {
		return was, is, false, err
	}
	if !alone(was, is) {
		return was, is, false, nil
	}
	ok, err = fitmentsAlone(ctx, base, was.Fitments, is.Fitments)
	return was, is, ok, err
}

// saidBy is what some files say over a graph; ok is false when a fault is found in
// them, be it a warning.
func saidBy(ctx context.Context, base graph.Reader, layer string, files map[string][]byte) (graph.Facts, bool, error) {
	if len(files) == 0 {
		return graph.Facts{}, true, nil
	}
	folder := fstest.MapFS{}
	for name, content := range files {
		folder[name] = &fstest.MapFile{Data: content}
	}
	var probs diag.List
	facts, err := LoadOver(ctx, base, []Layer{{Name: layer, FS: folder}}, &probs)
	return facts, err == nil && probs.Len() == 0, err
}

// alone reports whether two data sets differ only in what nobody else's reading
// looks at: names are defined and what others ask of a thing is the same.
func alone(was, is graph.Facts) bool {
	return alike(was.Sources, is.Sources, func(v graph.Source) graph.SourceID { return v.ID }, func(v *graph.Source) {
		v.Title, v.Date, v.Pos = "", "", diag.Pos{}
	}) && alike(was.Brands, is.Brands, func(v graph.Brand) graph.BrandID { return v.ID }, func(v *graph.Brand) {
		v.Said = nil
	}) && alike(was.Kinds, is.Kinds, func(v graph.Kind) graph.KindID { return v.ID }, func(v *graph.Kind) {
		v.Said = nil
	}) && alike(was.Models, is.Models, func(v graph.Model) graph.ModelID { return v.ID }, func(v *graph.Model) {
		v.Name, v.Said = "", nil
	}) && alike(was.Variants, is.Variants, func(v graph.Variant) graph.VariantID { return v.ID }, func(v *graph.Variant) {
		v.Said = nil
	}) && alike(was.Assemblies, is.Assemblies, func(v graph.Assembly) graph.AssemblyID { return v.ID },
		func(v *graph.Assembly) { v.Name, v.Said = "", nil },
	) && alike(was.Positions, is.Positions, func(v graph.Position) graph.PositionID { return v.ID },
		func(v *graph.Position) { v.Name, v.Takes, v.Said = "", nil, nil },
	) && alike(was.Findings, is.Findings, func(v graph.Finding) graph.FindingID { return v.ID }, func(v *graph.Finding) {
		*v = graph.Finding{ID: v.ID}
	}) && alike(was.Bikes, is.Bikes, func(v graph.Bike) graph.BikeID { return v.ID }, func(v *graph.Bike) {
		*v = graph.Bike{ID: v.ID, Variant: v.Variant}
	}) && partsAlone(was.Parts, is.Parts)
}

// alike reports whether two sorted lists have the same things, but for what blank
// clears of each.
func alike[K comparable, T any](was, is []T, id func(T) K, blank func(*T)) bool {
	return slices.EqualFunc(was, is, func(a, b T) bool {
		if id(a) != id(b) {
			return false
		}
		blank(&a)
		blank(&b)
		return reflect.DeepEqual(a, b)
	})
}

// partsAlone lets parts be added, and sizes, prices and names of parts change.
func partsAlone(was, is []graph.Part) bool {
	known := map[graph.PartID]bool{}
	for _, p := range was {
		known[p.ID] = true
	}
	kept := slices.DeleteFunc(slices.Clone(is), func(p graph.Part) bool { return !known[p.ID] })
	return alike(was, kept, func(v graph.Part) graph.PartID { return v.ID }, func(p *graph.Part) {
		p.Name, p.Note, p.Price, p.Gone, p.Said = "", "", nil, false, nil
		p.Features = slices.Clone(p.Features)
		for i := range p.Features {
			p.Features[i].Dims = nil
		}
	})
}

// fitmentsAlone reports whether what is listed changed where no other file looks
// at it: joints, runs and stacks ask what features the parts at a place
// have, and a source may not say a thing twice.
func fitmentsAlone(ctx context.Context, base graph.Reader, was, is []graph.Fitment) (bool, error) {
	id := func(f graph.Fitment) graph.FitmentID { return f.ID }
	gone, fresh := without(was, is, id), without(is, was, id)
	at := map[graph.PositionID]bool{}
	for _, f := range slices.Concat(gone, fresh) {
		at[f.Position] = true
	}
	if len(at) == 0 {
		return true, nil
	}
	places := sorted(at)
	told, err := base.FitmentsAt(ctx, places...)
	if err != nil || toldTwice(fresh, without(told, was, id)) {
		return false, err
	}
	return sameFeatures(ctx, base, places, gone, fresh)
}

// without is what a list has and another does not.
func without[K comparable, T any](list, other []T, id func(T) K) []T {
	has := map[K]bool{}
	for _, v := range other {
		has[id(v)] = true
	}
	return slices.DeleteFunc(slices.Clone(list), func(v T) bool { return has[id(v)] })
}

// toldTwice reports whether a source says something of a part at a place that it
// says in another file too.
func toldTwice(fresh, others []graph.Fitment) bool {
	for _, f := range fresh {
		for _, o := range others {
			same := f.Position == o.Position && f.Part == o.Part && f.Scheme == o.Scheme && slices.Equal(f.On, o.On)
			if same && slices.ContainsFunc(f.Said, func(c graph.Cite) bool {
				return slices.ContainsFunc(o.Said, func(d graph.Cite) bool { return c.Source == d.Source })
			}) {
				return true
			}
		}
	}
	return false
}

// sameFeatures reports whether the parts that are newly listed at places that touch
// others have the features of those that went.
func sameFeatures(ctx context.Context, base graph.Reader, places []graph.PositionID,
	gone, fresh []graph.Fitment) (bool, error) {
	touching, err := touchingPlaces(ctx, base, places)
	if err != nil || len(touching) == 0 {
		return err == nil, err
	}
	var ids []graph.PartID
	for _, f := range slices.Concat(gone, fresh) {
		ids = append(ids, f.Part)
	}
	parts, err := base.Parts(ctx, ids...)
	if err != nil {
		return false, err
	}
	looks := map[graph.PartID]string{}
	for _, p := range parts {
		looks[p.ID] = lookOf(p)
	}
	of := func(list []graph.Fitment, at graph.PositionID) map[string]bool {
		set := map[string]bool{}
		for _, f := range list {
			if f.Position == at {
				set[looks[f.Part]] = looks[f.Part] != "" // empty for a part that is new too
			}
		}
		return set
	}
	for at := range touching {
		before, now := of(gone, at), of(fresh, at)
		if !reflect.DeepEqual(before, now) || before[""] || len(before) != len(now) {
			return false, nil
		}
		if _, unknown := now[""]; unknown {
			return false, nil
		}
	}
	return true, nil
}

// lookOf is what joints can ask of a part.
func lookOf(p graph.Part) string {
	look := []string{string(p.Kind)}
	for _, f := range p.Features {
		look = append(look, f.Name+"="+f.Kind)
	}
	for _, c := range p.Contains {
		look = append(look, "holds "+string(c.Part))
	}
	slices.Sort(look[1:])
	return strings.Join(look, "\x00")
}

// touchingPlaces are those of the places at which a joint, run or stack looks for
// a feature: see noteFeatured.
func touchingPlaces(ctx context.Context, base graph.Reader,
	places []graph.PositionID) (map[graph.PositionID]bool, error) {
	joints, err := base.JointsAt(ctx, places...)
	if err != nil {
		return nil, err
	}
	runs, err := base.RunsAt(ctx, places...)
	if err != nil {
		return nil, err
	}
	stacks, err := base.StacksAt(ctx, places...)
	if err != nil {
		return nil, err
	}
	var looked []graph.FeatureRef
	for _, j := range joints {
		looked = append(looked, j.A, j.B)
	}
	for _, r := range runs {
		looked = append(looked, slices.Concat([]graph.FeatureRef{r.From, r.To}, r.MovedBy, r.LengthenedBy)...)
	}
	for _, s := range stacks {
		looked = append(looked, slices.Concat([]graph.FeatureRef{s.Within, s.Centre}, s.Row)...)
	}
	touching := map[graph.PositionID]bool{}
	for _, ref := range looked {
		if slices.Contains(places, ref.Position) {
			touching[ref.Position] = true
		}
	}
	return touching, nil
}
