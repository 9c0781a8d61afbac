package store

import (
	"cmp"
	"maps"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// What two layers say of one thing, put together: readings, sources and sets
// of both; of a single value, an ordered list, or a line kept by name, what the
// upper layer states, where it states any.

// either is the upper value unless it is zero.
func either[T comparable](lower, upper T) T {
	var zero T
	if upper == zero {
		return lower
	}
	return upper
}

// latest is the upper list unless it is empty: its order is its meaning.
func latest[T any](lower, upper []T) []T {
	if len(upper) == 0 {
		return lower
	}
	return upper
}

// both are the members of two sets, sorted, each once; nil when there is none.
func both[T cmp.Ordered](lower, upper []T) []T {
	all := slices.Concat(lower, upper)
	slices.Sort(all)
	return slices.Compact(all)
}

func bothCites(lower, upper []graph.Cite) []graph.Cite {
	all := slices.Concat(lower, upper)
	slices.SortFunc(all, graph.Cite.Compare)
	return slices.Compact(all)
}

func bothReadings(lower, upper []graph.Reading) []graph.Reading {
	return sortReadings(slices.Concat(lower, upper))
}

// lines puts together lists whose members have a key, sorted by it; join gives
// one for two of the same key.
func lines[T any, K comparable](lower, upper []T, key func(T) K, compare func(a, b K) int, join func(lower,
	upper T) T) []T {
	all := slices.Concat(lower, upper)
	slices.SortStableFunc(all, func(a, b T) int { return compare(key(a), key(b)) })
	kept := all[:0]
	for _, v := range all {
		if n := len(kept); n > 0 && key(kept[n-1]) == key(v) {
			kept[n-1] = join(kept[n-1], v)
			continue
		}
		kept = append(kept, v)
	}
	if len(kept) == 0 {
		return nil
	}
	return kept
}

func upperLine[T any](_, upper T) T { return upper }

func mergeScopes(a, b graph.Scope) graph.Scope {
	return graph.Scope{Years: measure.Years{From: either(a.Years.From, b.Years.From), To: either(a.Years.To, b.Years.To)},
		Markets: both(a.Markets, b.Markets), Marks: both(a.Marks, b.Marks), Frames: either(a.Frames, b.Frames)}
}

func mergeSources(a, b graph.Source) graph.Source {
	return graph.Source{ID: a.ID, Kind: either(a.Kind, b.Kind), Title: either(a.Title, b.Title), Date: either(a.Date,
		b.Date),
		Scope: mergeScopes(a.Scope, b.Scope), Origin: either(a.Origin, b.Origin), Pos: either(a.Pos, b.Pos)}
}

func mergeBrands(a, b graph.Brand) graph.Brand {
	return graph.Brand{ID: a.ID, Form: graph.NumberForm{Core: either(a.Form.Core, b.Form.Core),
		Revision: either(a.Form.Revision, b.Form.Revision), Colour: either(a.Form.Colour, b.Form.Colour)},
		Said: bothCites(a.Said, b.Said)}
}

func mergeKinds(a, b graph.Kind) graph.Kind {
	return graph.Kind{ID: a.ID, Name: either(a.Name, b.Name), Is: either(a.Is, b.Is), Safety: either(a.Safety, b.Safety),
		Road:     both(a.Road, b.Road),
		Joins:    a.Joins || b.Joins,
		Said:     bothCites(a.Said, b.Said),
		Features: lines(a.Features, b.Features, func(f graph.KindFeature) string { return f.Name }, cmp.Compare, upperLine)}
}

func mergeModels(a, b graph.Model) graph.Model {
	return graph.Model{ID: a.ID, Maker: either(a.Maker, b.Maker), Name: either(a.Name, b.Name), Said: bothCites(a.Said,
		b.Said)}
}

func mergeVariants(a, b graph.Variant) graph.Variant {
	return graph.Variant{ID: a.ID, Model: either(a.Model, b.Model), Year: either(a.Year, b.Year), Market: either(a.Market,
		b.Market),
		Mark: either(a.Mark, b.Mark), Frames: either(a.Frames, b.Frames), Schemes: both(a.Schemes, b.Schemes),
		Said: bothCites(a.Said, b.Said)}
}

func mergeAssemblies(a, b graph.Assembly) graph.Assembly {
	return graph.Assembly{ID: a.ID, Model: either(a.Model, b.Model), Name: either(a.Name, b.Name), Said: bothCites(a.Said,
		b.Said)}
}

func mergePositions(a, b graph.Position) graph.Position {
	return graph.Position{ID: a.ID, Assembly: either(a.Assembly, b.Assembly), Model: either(a.Model, b.Model),
		Name: either(a.Name, b.Name),
		Kind: either(a.Kind, b.Kind), Side: either(a.Side, b.Side), Index: either(a.Index, b.Index),
		Quantity: either(a.Quantity, b.Quantity),
		Safety:   either(a.Safety, b.Safety), Renew: a.Renew || b.Renew, Road: both(a.Road, b.Road),
		After: both(a.After, b.After), Takes: latest(a.Takes, b.Takes), On: both(a.On, b.On),
		Said: bothCites(a.Said, b.Said)}
}

func mergeParts(a, b graph.Part) graph.Part {
	return graph.Part{ID: a.ID, Brand: either(a.Brand, b.Brand), Kind: either(a.Kind, b.Kind), Name: either(a.Name,
		b.Name),
		Number: graph.Number{Text: either(a.Number.Text, b.Number.Text), Core: either(a.Number.Core, b.Number.Core),
			Revision: either(a.Number.Revision, b.Number.Revision), Colour: either(a.Number.Colour, b.Number.Colour)},
		Aliases: lines(a.Aliases, b.Aliases, func(v graph.Alias) graph.Alias { return v }, compareAliases, upperLine),
		Features: lines(a.Features, b.Features, func(f graph.Feature) string { return f.Name }, cmp.Compare,
			mergeFeatures),
		Contains: mergeContents(a.Contains, b.Contains), Matched: a.Matched || b.Matched, Price: bothReadings(a.Price,
			b.Price),
		Gone: a.Gone || b.Gone, Note: either(a.Note, b.Note), Said: bothCites(a.Said, b.Said)}
}

func compareAliases(a, b graph.Alias) int {
	return cmp.Or(cmp.Compare(a.Type, b.Type), cmp.Compare(a.Text, b.Text))
}

func mergeFeatures(a, b graph.Feature) graph.Feature {
	v := graph.Feature{Name: a.Name, Kind: either(a.Kind, b.Kind), Dims: maps.Clone(a.Dims)}
	for name, list := range b.Dims {
		if v.Dims == nil {
			v.Dims = map[string][]graph.Reading{}
		}
		v.Dims[name] = bothReadings(v.Dims[name], list)
	}
	return v
}

func mergeContents(a, b []graph.Content) []graph.Content {
	return lines(a, b, func(c graph.Content) graph.PartID { return c.Part }, cmp.Compare, upperLine)
}

func mergeFitments(a, b graph.Fitment) graph.Fitment {
	return graph.Fitment{ID: a.ID, Position: either(a.Position, b.Position), Part: either(a.Part, b.Part),
		Quantity: either(a.Quantity, b.Quantity),
		On:       both(a.On, b.On), Scheme: either(a.Scheme, b.Scheme), Note: either(a.Note, b.Note), Said: bothCites(a.Said,
			b.Said)}
}

func mergeJoints(a, b graph.Joint) graph.Joint {
	return graph.Joint{ID: a.ID, Model: either(a.Model, b.Model), A: either(a.A, b.A), B: either(a.B, b.B),
		Fasteners: both(a.Fasteners, b.Fasteners), Torque: bothReadings(a.Torque, b.Torque), Renew: both(a.Renew, b.Renew),
		Allow: either(a.Allow, b.Allow), On: both(a.On, b.On), Said: bothCites(a.Said, b.Said)}
}

func mergeRuns(a, b graph.Run) graph.Run {
	return graph.Run{ID: a.ID, Model: either(a.Model, b.Model), Line: either(a.Line, b.Line), From: either(a.From,
		b.From), To: either(a.To, b.To),
		Needs: lines(a.Needs, b.Needs, func(n graph.RunNeed) [2]string { return [2]string{n.Lock, n.Fork} }, compareAttitudes,
			func(a, b graph.RunNeed) graph.RunNeed {
				return graph.RunNeed{Lock: a.Lock, Fork: a.Fork, Length: bothReadings(a.Length, b.Length)}
			}),
		Inner: bothReadings(a.Inner, b.Inner), Spare: bothReadings(a.Spare, b.Spare), MovedBy: latest(a.MovedBy, b.MovedBy),
		LengthenedBy: latest(a.LengthenedBy, b.LengthenedBy), Guides: latest(a.Guides, b.Guides), Hot: both(a.Hot, b.Hot),
		Gap: bothReadings(a.Gap, b.Gap), LeastGap: bothReadings(a.LeastGap, b.LeastGap), On: both(a.On, b.On),
		Said: bothCites(a.Said, b.Said)}
}

func mergeCircuits(a, b graph.Circuit) graph.Circuit {
	return graph.Circuit{ID: a.ID, Model: either(a.Model, b.Model), Carries: either(a.Carries, b.Carries),
		Feeds: latest(a.Feeds, b.Feeds),
		Fed:   latest(a.Fed, b.Fed), Members: both(a.Members, b.Members), Wheel: either(a.Wheel, b.Wheel),
		Fill: bothReadings(a.Fill, b.Fill), On: both(a.On, b.On),
		Said: bothCites(a.Said, b.Said)}
}

func mergeStacks(a, b graph.Stack) graph.Stack {
	return graph.Stack{ID: a.ID, Model: either(a.Model, b.Model), Within: either(a.Within, b.Within), Row: latest(a.Row,
		b.Row),
		Centre: either(a.Centre, b.Centre), On: both(a.On, b.On), Said: bothCites(a.Said, b.Said)}
}

func mergeSupersessions(a, b graph.Supersession) graph.Supersession {
	return graph.Supersession{ID: a.ID, Old: either(a.Old, b.Old), New: either(a.New, b.New), NewOnOld: either(a.NewOnOld,
		b.NewOnOld),
		OldOnNew: either(a.OldOnNew, b.OldOnNew), Scope: mergeScopes(a.Scope, b.Scope),
		Companions: mergeContents(a.Companions, b.Companions),
		Reason:     either(a.Reason, b.Reason), Date: either(a.Date, b.Date), Said: bothCites(a.Said, b.Said)}
}

func mergeFindings(a, b graph.Finding) graph.Finding {
	return graph.Finding{ID: a.ID, Part: either(a.Part, b.Part), Position: either(a.Position, b.Position), On: both(a.On,
		b.On),
		Bike: either(a.Bike, b.Bike), Verdict: either(a.Verdict, b.Verdict), Changes: latest(a.Changes, b.Changes),
		Measured: latest(a.Measured, b.Measured), Method: either(a.Method, b.Method), Date: either(a.Date, b.Date),
		By:     either(a.By, b.By),
		Origin: either(a.Origin, b.Origin), Photos: latest(a.Photos, b.Photos), Note: either(a.Note, b.Note),
		Withdrawn: either(a.Withdrawn, b.Withdrawn), WithdrawnOn: either(a.WithdrawnOn, b.WithdrawnOn),
		Source: either(a.Source, b.Source),
		Pos:    either(a.Pos, b.Pos)}
}

// mergeJobs takes whole lists of the upper layer: half a list of steps is worse than
// none.
func mergeJobs(a, b graph.Job) graph.Job {
	return graph.Job{ID: a.ID, Name: either(a.Name, b.Name), Places: both(a.Places, b.Places),
		Kinds: both(a.Kinds, b.Kinds), Kits: latest(a.Kits, b.Kits),
		Parts: latest(a.Parts, b.Parts), Fill: latest(a.Fill, b.Fill), Look: latest(a.Look, b.Look), Steps: latest(a.Steps,
			b.Steps),
		Checks: latest(a.Checks, b.Checks), Cautions: latest(a.Cautions, b.Cautions), Said: bothCites(a.Said, b.Said)}
}

func mergeBikes(a, b graph.Bike) graph.Bike {
	fitted := func(a, b []graph.Fitted) []graph.Fitted {
		return lines(a, b, func(f graph.Fitted) graph.PositionID { return f.Position }, cmp.Compare, upperLine)
	}
	return graph.Bike{ID: a.ID, Variant: either(a.Variant, b.Variant), Frame: either(a.Frame, b.Frame),
		Scheme: either(a.Scheme, b.Scheme), Apart: a.Apart || b.Apart, Found: fitted(a.Found, b.Found),
		Planned: fitted(a.Planned, b.Planned),
		Assemblies: lines(a.Assemblies, b.Assemblies, func(n graph.AssemblyNote) graph.AssemblyID { return n.Assembly },
			cmp.Compare, upperLine),
		Moved: lines(a.Moved, b.Moved, func(m graph.Moved) graph.PositionID { return m.Position }, cmp.Compare, upperLine),
		Boxes: latest(a.Boxes, b.Boxes), Bags: latest(a.Bags, b.Bags), Note: either(a.Note, b.Note),
		Pos: either(a.Pos, b.Pos)}
}
