package machine

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// OwnScheme is the colour scheme of a user's machine of a variant: what its owner noted,
// else the one that most of the pieces noted on it and in its boxes are listed in, those
// on it before those in boxes where as many are of two. By are those pieces, sorted. It is
// empty where nothing tells. Errors come from the reader.
func OwnScheme(ctx context.Context, l *Library, b graph.Bike, v graph.Variant) (scheme string, by []graph.PartID,
	err error) {
	if b.Scheme != "" || len(v.Schemes) < 2 {
		return b.Scheme, nil, nil
	}
	var on, loose []graph.PartID
	for _, f := range b.Found {
		if f.Part != "" {
			on = append(on, f.Part)
		}
	}
	for _, box := range b.Boxes {
		loose = append(loose, lists.Mapped(box.Items, func(i graph.BoxItem) graph.PartID { return i.Part })...)
	}
	fitments, err := l.Reader().FitmentsOn(ctx, v.ID) // a bolt is listed on thousands of others
	if err != nil {
		return "", nil, err
	}
	of := map[graph.PartID]string{}
	for _, f := range fitments {
		switch was, seen := of[f.Part]; {
		case seen && was != f.Scheme:
			of[f.Part] = "" // it tells nothing
		default:
			of[f.Part] = f.Scheme
		}
	}
	best := 0
	for _, one := range v.Schemes {
		isOf := func(id graph.PartID) bool { return of[id] == one }
		mounted := lists.Kept(slices.Clone(on), isOf)
		all := append(slices.Clone(mounted), lists.Kept(slices.Clone(loose), isOf)...)
		// twice each, and one more where any of them is on the machine
		if weight := 2*len(all) + min(1, len(mounted)); weight > best {
			best, scheme, by = weight, one, lists.Unique(all)
		}
	}
	return scheme, by, nil
}
