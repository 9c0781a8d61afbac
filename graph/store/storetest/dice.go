package storetest

import (
	"cmp"
	"slices"
	"strings"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// dice draws values of one data set. Texts are awkward on purpose: quotes,
// backslashes, line ends, letters of several scripts, separators of
// identities and places, but none that no data file may hold.
type dice struct {
	t       *rapid.T
	sources []graph.SourceID
	at      []graph.PositionID
	on      []graph.VariantID
	parts   []graph.PartID
	kinds   []graph.KindID
}

func awkward() []string {
	return []string{"a", "84 mm +0/-0.1", `"quoted"`, `back\slash\n`, "two\nlines\r\n\ttab", "å¡世界🛵", "a:12", "a:1:2",
		"#", "/", "a/b#c:d",
		"%41%", " ", "<x>", "http://a.example/b", "_:b", "~\u00a0", "'", "with", "dim/a/with", "-"}
}

func texts() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom(awkward()),
		rapid.StringOfN(rapid.RuneFrom([]rune("abcXYZ019 .-/:#%\\\"å世")), 1, 12, -1),
	)
}

func (d *dice) text() string   { return texts().Draw(d.t, "text") }
func (d *dice) maybe() string  { return rapid.OneOf(rapid.Just(""), texts()).Draw(d.t, "maybe") }
func (d *dice) yes() bool      { return rapid.Bool().Draw(d.t, "yes") }
func (d *dice) from1() int     { return rapid.IntRange(1, 99).Draw(d.t, "from1") }
func (d *dice) upTo(n int) int { return rapid.IntRange(0, n).Draw(d.t, "upTo") }

func (d *dice) pos() diag.Pos {
	if d.upTo(4) == 0 {
		return diag.Pos{}
	}
	pos := diag.Pos{File: d.text(), Line: d.upTo(300)}
	if pos.Line > 0 {
		pos.Col = d.upTo(80)
	}
	return pos
}

// names draws some distinct identities, sorted.
func names[T ~string](d *dice, least, most int) []T {
	drawn := rapid.SliceOfNDistinct(texts(), least, most, rapid.ID[string]).Draw(d.t, "names")
	var ids []T
	for _, name := range drawn {
		ids = append(ids, T(name))
	}
	slices.Sort(ids)
	return ids
}

// some draws a sorted subset; nil when it is empty.
func some[T cmp.Ordered](d *dice, pool []T) []T {
	var list []T
	for _, v := range pool {
		if d.yes() {
			list = append(list, v)
		}
	}
	return list
}

// pick draws one of a pool.
func pick[T any](d *dice, pool []T) T { return rapid.SampledFrom(pool).Draw(d.t, "pick") }

// row draws a list whose order matters and that may hold a value twice.
func row[T any](d *dice, draw func() T) []T {
	var list []T
	for range d.upTo(3) {
		list = append(list, draw())
	}
	return list
}

func (d *dice) cite() graph.Cite {
	return graph.Cite{Source: pick(d, d.sources), Pos: d.pos()}
}

func (d *dice) said() []graph.Cite {
	list := row(d, d.cite)
	slices.SortFunc(list, graph.Cite.Compare)
	return slices.Compact(list)
}

// readings draws at least one reading, often several of one source.
func (d *dice) readings() []graph.Reading {
	list := []graph.Reading{{Text: d.text(), Method: d.maybe(), Cite: d.cite()}}
	for range d.upTo(3) {
		list = append(list, graph.Reading{Text: d.text(), Method: d.maybe(), Cite: d.cite()})
	}
	slices.SortFunc(list, func(a, b graph.Reading) int {
		return cmp.Or(a.Cite.Compare(b.Cite), cmp.Compare(a.Text, b.Text), cmp.Compare(a.Method, b.Method))
	})
	return slices.Compact(list)
}

func (d *dice) maybeReadings() []graph.Reading {
	if d.yes() {
		return nil
	}
	return d.readings()
}

func (d *dice) ref() graph.FeatureRef {
	return graph.FeatureRef{Position: pick(d, d.at), Feature: d.text()}
}

func (d *dice) contents() []graph.Content {
	var list []graph.Content
	for _, part := range some(d, d.parts) {
		list = append(list, graph.Content{Part: part, Quantity: d.from1()})
	}
	return list
}

func (d *dice) scope() graph.Scope {
	return graph.Scope{Years: measure.Years{From: d.upTo(2) * 1001, To: d.upTo(2) * 1002}, Markets: some(d, []string{"eu",
		"uk", "å/b"}),
		Marks: some(d, []string{"early", "late"}), Frames: d.frames()}
}

func (d *dice) frames() measure.Frames {
	if d.yes() {
		return measure.Frames{}
	}
	return measure.Frames{Prefix: d.maybe(), From: d.upTo(99999), To: d.upTo(99999), Width: d.upTo(6)}
}

func (d *dice) addCatalogue(f *graph.Facts) {
	for _, id := range d.sources {
		f.Sources = append(f.Sources, graph.Source{ID: id, Kind: pick(d, graph.SourceKinds()), Title: d.maybe(),
			Date:  d.maybe(),
			Scope: d.scope(), Origin: pick(d, append([]graph.SourceID{""}, d.sources...)), Pos: d.pos()})
	}
	brands := names[graph.BrandID](d, 1, 3)
	for _, id := range brands {
		f.Brands = append(f.Brands, graph.Brand{ID: id, Form: graph.NumberForm{Core: d.maybe(), Revision: d.maybe(),
			Colour: d.maybe()}, Said: d.said()})
	}
	for _, id := range d.kinds {
		kind := graph.Kind{ID: id, Name: d.maybe(), Is: d.maybe(), Safety: pick(d, graph.SafetyClasses()),
			Joins: d.yes(), Said: d.said()}
		for _, name := range names[string](d, 0, 2) {
			feature := graph.KindFeature{Name: name, Kind: d.text(), May: d.yes(), Direct: d.yes()}
			if d.yes() {
				feature.Informs = []graph.Informing{{Dim: "diameter", Why: d.text()}}
			}
			kind.Features = append(kind.Features, feature)
		}
		f.Kinds = append(f.Kinds, kind)
	}
	for _, id := range d.parts {
		f.Parts = append(f.Parts, d.part(id, pick(d, brands)))
	}
	for _, id := range names[graph.SupersessionID](d, 0, 2) {
		f.Supersessions = append(f.Supersessions, graph.Supersession{ID: id, Old: pick(d, d.parts), New: pick(d, d.parts),
			NewOnOld: graph.Usable(d.upTo(2)), OldOnNew: graph.Usable(d.upTo(2)), Scope: d.scope(), Companions: d.contents(),
			Reason: d.maybe(), Date: d.maybe(), Said: d.said()})
	}
}

func (d *dice) part(id graph.PartID, brand graph.BrandID) graph.Part {
	part := graph.Part{ID: id, Brand: brand, Number: graph.Number{Text: d.text(), Core: d.maybe(), Revision: d.maybe(),
		Colour: d.maybe()},
		Kind: pick(d, d.kinds), Name: d.maybe(), Contains: d.contents(), Matched: d.yes(), Price: d.maybeReadings(),
		Gone: d.yes(),
		Note: d.maybe(), Said: d.said()}
	for _, kind := range []graph.AliasType{graph.AliasCasting, graph.AliasSize} {
		for _, text := range names[string](d, 0, 2) {
			part.Aliases = append(part.Aliases, graph.Alias{Type: kind, Text: text})
		}
	}
	for _, name := range names[string](d, 0, 2) {
		feature := graph.Feature{Name: name, Kind: d.text()}
		for _, dim := range names[string](d, 0, 2) {
			if feature.Dims == nil {
				feature.Dims = map[string][]graph.Reading{}
			}
			feature.Dims[dim] = d.readings()
		}
		part.Features = append(part.Features, feature)
	}
	return part
}

func (d *dice) consumable() graph.Consumable {
	return graph.Consumable{What: d.text(), Grade: d.maybe(), Amount: d.maybeReadings()}
}

func (d *dice) addMachines(f *graph.Facts) {
	models := names[graph.ModelID](d, 1, 2)
	for _, id := range models {
		f.Models = append(f.Models, graph.Model{ID: id, Maker: pick(d, f.Brands).ID, Name: d.maybe(), Said: d.said()})
	}
	for _, id := range d.on {
		f.Variants = append(f.Variants, graph.Variant{ID: id, Model: pick(d, models), Year: d.upTo(2) * 1001,
			Market: d.maybe(), Mark: d.maybe(),
			Frames: d.frames(), Schemes: names[string](d, 0, 2), Said: d.said()})
	}
	assemblies := names[graph.AssemblyID](d, 1, 2)
	for _, id := range assemblies {
		f.Assemblies = append(f.Assemblies, graph.Assembly{ID: id, Model: pick(d, models), Name: d.maybe(), Said: d.said()})
	}
	for _, id := range d.at {
		f.Positions = append(f.Positions, graph.Position{ID: id, Assembly: pick(d, assemblies), Model: pick(d, models),
			Name: d.maybe(),
			Kind: pick(d, d.kinds), Side: d.maybe(), Index: d.upTo(4), Quantity: d.from1(), Safety: pick(d,
				graph.SafetyClasses()), Renew: d.yes(),
			Road: names[string](d, 0, 2), After: some(d, d.at), Takes: row(d, d.consumable), On: some(d, d.on), Said: d.said()})
	}
	for _, id := range names[graph.FitmentID](d, 0, 4) {
		f.Fitments = append(f.Fitments, graph.Fitment{ID: id, Position: pick(d, d.at), Part: pick(d, d.parts),
			Quantity: d.from1(),
			On:       some(d, d.on), Scheme: d.maybe(), Note: d.maybe(), Said: d.said()})
	}
}

func (d *dice) addJoints(f *graph.Facts) {
	model := pick(d, f.Models).ID
	for _, id := range names[graph.JointID](d, 0, 2) {
		f.Joints = append(f.Joints, graph.Joint{ID: id, Model: model, A: d.ref(), B: d.ref(), Fasteners: some(d, d.at),
			Torque: d.maybeReadings(),
			Renew:  some(d, d.at), Allow: d.maybe(), On: some(d, d.on), Said: d.said()})
	}
	for _, id := range names[graph.RunID](d, 0, 2) {
		run := graph.Run{ID: id, Model: model, Line: pick(d, d.at), From: d.ref(), To: d.ref(), Inner: d.maybeReadings(),
			Spare:   d.maybeReadings(),
			MovedBy: row(d, d.ref), LengthenedBy: row(d, d.ref), Guides: row(d, d.maybe), Hot: some(d, d.at),
			Gap:      d.maybeReadings(),
			LeastGap: d.maybeReadings(), On: some(d, d.on), Said: d.said()}
		for _, lock := range []string{"left", "centre", "right"} {
			for _, fork := range []string{"extended", "compressed"} {
				if length := d.maybeReadings(); length != nil {
					run.Needs = append(run.Needs, graph.RunNeed{Lock: lock, Fork: fork, Length: length})
				}
			}
		}
		f.Runs = append(f.Runs, run)
	}
	position := func() graph.PositionID { return pick(d, d.at) }
	for _, id := range names[graph.CircuitID](d, 0, 2) {
		f.Circuits = append(f.Circuits, graph.Circuit{ID: id, Model: model, Carries: d.maybe(), Feeds: row(d, position),
			Fed:     row(d, position),
			Members: some(d, d.at), Wheel: d.maybe(), Fill: d.maybeReadings(), On: some(d, d.on), Said: d.said()})
	}
	for _, id := range names[graph.StackID](d, 0, 2) {
		f.Stacks = append(f.Stacks, graph.Stack{ID: id, Model: model, Within: d.ref(), Row: row(d, d.ref), Centre: d.ref(),
			On: some(d, d.on), Said: d.said()})
	}
}

func (d *dice) addPeople(f *graph.Facts) {
	for _, id := range names[graph.BikeID](d, 0, 2) {
		f.Bikes = append(f.Bikes, graph.Bike{ID: id, Variant: pick(d, d.on), Frame: d.maybe(), Scheme: d.maybe(),
			Found:   d.fitted(),
			Planned: d.fitted(),
			Apart:   d.yes(), Assemblies: d.notes(), Moved: d.moved(),
			Boxes: row(d, d.box), Bags: row(d, d.bag), Note: d.maybe(),
			Pos: d.pos()})
	}
	for _, id := range names[graph.JobID](d, 0, 2) {
		f.Jobs = append(f.Jobs, graph.Job{ID: id, Name: d.maybe(), Places: some(d, d.at), Kinds: names[graph.KindID](d, 0, 2),
			Kits: row(d, d.jobPart), Parts: row(d, d.jobPart),
			Fill: row(d, func() graph.JobFill {
				return graph.JobFill{JobLine: d.jobLine(), Spec: d.maybe(), Amount: d.maybe(), Where: d.maybe()}
			}),
			Look: row(d, func() graph.JobLook {
				return graph.JobLook{JobLine: d.jobLine(), For: d.maybe(), Limit: d.maybe(), Gauge: d.maybe()}
			}),
			Steps: row(d, d.jobLine), Checks: row(d, d.jobLine), Cautions: row(d, d.jobLine), Said: d.said()})
	}
	for _, id := range names[graph.FindingID](d, 0, 3) {
		finding := graph.Finding{ID: id, Part: pick(d, d.parts), Position: pick(d, d.at), On: some(d, d.on),
			Verdict: graph.Verdict(d.upTo(4)),
			Changes: row(d, d.change), Measured: row(d, d.measured), Method: pick(d, graph.Methods()), Date: d.maybe(),
			By: d.maybe(), Origin: d.maybe(),
			Photos: row(d, d.text), Note: d.maybe(), Withdrawn: d.maybe(), WithdrawnOn: d.maybe(), Pos: d.pos()}
		if len(f.Bikes) > 0 {
			finding.Bike = pick(d, f.Bikes).ID
		}
		if d.yes() {
			finding.Source = pick(d, d.sources)
		}
		f.Findings = append(f.Findings, finding)
	}
}

func (d *dice) change() graph.Change {
	return graph.Change{Do: d.text(), Effort: graph.Effort(d.upTo(4)), Part: pick(d, append(slices.Clone(d.parts), ""))}
}

func (d *dice) measured() graph.Measured {
	return graph.Measured{Feature: d.maybe(), Dim: d.maybe(), Text: d.text(), With: d.maybe()}
}

func (d *dice) fitted() []graph.Fitted {
	var list []graph.Fitted
	for _, at := range some(d, d.at) {
		list = append(list, graph.Fitted{Position: at, Part: pick(d, append(slices.Clone(d.parts), "")), AsBuilt: d.yes(),
			Specimen: d.specimen(), Note: d.maybe(), Pos: d.pos()})
	}
	return list
}

func (d *dice) specimen() graph.Specimen {
	return graph.Specimen{Condition: d.maybe(), Measured: row(d, d.measured)}
}

func (d *dice) notes() []graph.AssemblyNote {
	var list []graph.AssemblyNote
	for _, at := range some(d, d.at) {
		if strings.TrimSpace(string(at.Assembly())) == "" {
			continue // the place is in no assembly
		}
		list = append(list, graph.AssemblyNote{Assembly: at.Assembly(), AsBuilt: d.yes(), Note: d.maybe(), Pos: d.pos()})
	}
	// Places in order are not their assemblies in order: "a-/x" stands before "a/x".
	slices.SortStableFunc(list, func(a, b graph.AssemblyNote) int { return cmp.Compare(a.Assembly, b.Assembly) })
	return slices.CompactFunc(list, func(a, b graph.AssemblyNote) bool { return a.Assembly == b.Assembly })
}

func (d *dice) moved() []graph.Moved {
	var list []graph.Moved
	for _, at := range some(d, d.at) {
		list = append(list, graph.Moved{Position: at, On: pick(d, append(slices.Clone(d.at), "")), Nothing: d.yes(),
			Up: d.maybe(), Forward: d.maybe(), Left: d.maybe(), Above: d.maybe(), Note: d.maybe(), Pos: d.pos()})
	}
	return list
}

func (d *dice) box() graph.Box {
	return graph.Box{Name: d.text(), Pos: d.pos(), Items: row(d, func() graph.BoxItem {
		return graph.BoxItem{Part: pick(d, d.parts), Quantity: d.from1(), Sure: d.maybe(), Specimen: d.specimen(),
			Note: d.maybe(), Pos: d.pos()}
	})}
}

func (d *dice) bag() graph.Bag {
	return graph.Bag{Name: d.text(), Label: d.maybe(), Pos: d.pos(), Contents: row(d, func() graph.BagItem {
		item := graph.BagItem{Kind: pick(d, d.kinds), Quantity: d.from1(), Pos: d.pos()}
		for _, dim := range names[string](d, 0, 2) {
			if item.Dims == nil {
				item.Dims = map[string]string{}
			}
			item.Dims[dim] = d.text()
		}
		return item
	})}
}

func (d *dice) jobLine() graph.JobLine {
	return graph.JobLine{Text: d.text(), Scope: d.scope(), Said: d.said(),
		Legs: graph.LegForm(d.maybe())}
}

func (d *dice) jobPart() graph.JobPart {
	return graph.JobPart{JobLine: d.jobLine(), Part: pick(d, d.parts), Feature: d.text(),
		Kinds: some(d, d.kinds), Of: some(d, d.kinds), Quantity: d.from1(), Renew: d.yes()}
}
