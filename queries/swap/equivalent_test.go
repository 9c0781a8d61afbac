package swap_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// equivalent are parts of a machine under other numbers, changed in some dimensions
// ("front-brake/shoes shoes.diameter=139.4 mm"; a text of nothing is not recorded; a place
// alone is a part that is the same), and what they come to where they are put on together.
type equivalent struct {
	name string
	// from says that a sister of the machine is listed with these very parts, so that they
	// come over together.
	from   bool
	lacked string // "place feature.dim" which nobody recorded of the part built in either
	parts  []string
	want   graph.Verdict
	says   string // among the reasons of what is not "fits"
}

// What is as good as the part that goes off, or better by a standard, fits: too strict is
// wrong too. Beside each stands what is a little off.
func TestEquivalentOnTheSingle(t *testing.T) {
	drum := []string{"front-wheel/hub drum.diameter=140 mm", "front-brake/shoes shoes.diameter=139.4 mm"}
	cable := "front-brake/cable line.inner"
	tryEquivalents(t, demotest.Single(t), "tern-125/1974/any", []equivalent{
		{name: "a higher speed symbol", parts: []string{"front-wheel/tyre size.speed=S"}, want: graph.Fits},
		{name: "a higher load index and symbol", parts: []string{"rear-wheel/tyre size.speed=H",
			"rear-wheel/tyre size.load=62"}, want: graph.Fits},
		{name: "a lower speed symbol", parts: []string{"front-wheel/tyre size.speed=L"}, want: graph.Unknown,
			says: "less, and nobody recorded"},
		{name: "a speed symbol that nobody recorded", parts: []string{"front-wheel/tyre size.speed="},
			want: graph.Unknown, says: "speed"},
		{name: "an axle of a higher class in the nut built in", parts: []string{"front-wheel/axle thread.class=10.9"},
			want: graph.Fits},
		{name: "with a nut of a lower one too", parts: []string{"front-wheel/axle thread.class=10.9",
			"front-wheel/axle-nut thread.class=6"}, want: graph.DoesNotFit, says: "strips first"},
		{name: "link and chain of one size, no longer", parts: []string{"final-drive/chain ",
			"final-drive/chain-link link.form=clip"}, want: graph.Fits},
		{name: "a link for another chain", parts: []string{"final-drive/chain ",
			"final-drive/chain-link link.inner-width=6.35 mm"}, want: graph.DoesNotFit, says: "6.35 mm against 7.94 mm inside"},
		{name: "link and chain each of its own make", parts: []string{"final-drive/chain links.make=Brenko",
			"final-drive/chain-link link.make=Another"}, want: graph.Unknown, says: "must be compared"},
		{name: "lever and perch with a wider eye", parts: []string{"front-brake/lever pivot.width=9 mm",
			"front-brake/perch blade-pivot.gap=9.2 mm"}, want: graph.Fits},
		{name: "a lever with a wider eye alone", parts: []string{"front-brake/lever pivot.width=9 mm"},
			want: graph.FitsWithChanges, says: "too wide"},
		{name: "drum, shoes and plate of a sister", from: true, parts: append(slices.Clone(drum), "front-brake/plate "),
			want: graph.Fits},
		{name: "drum and shoes alone, in the plate that closes another drum", from: true, parts: drum,
			want: graph.Unknown, says: "diameter of shoes"},
		{name: "shoes alone", from: true, parts: drum[1:], want: graph.DoesNotFit, says: "too large for the drum"},
		{name: "the same cable, of which nobody knows the inner length either", lacked: cable,
			parts: []string{"front-brake/cable "}, want: graph.Unknown, says: "inner"},
		{name: "nor how long its outer is", lacked: cable,
			parts: []string{"front-brake/cable line.outer="}, want: graph.Unknown, says: "line"},
		{name: "and another end", lacked: cable,
			parts: []string{"front-brake/cable end-upper.diameter=7.9 mm"}, want: graph.Unknown, says: "inner"},
		{name: "nor the form of an end, which tells one sort from another", lacked: "front-brake/cable end-lower.form",
			parts: []string{"front-brake/cable "}, want: graph.Unknown, says: "form"},
	})
}

func TestEquivalentOnTheDemonstration(t *testing.T) {
	fork := []string{"lamps/headlamp-bracket leg-left.diameter=44 mm",
		"lamps/headlamp-bracket leg-right.diameter=44 mm"}
	for _, side := range []string{"left", "right"} {
		fork = append(fork, "yokes/upper leg-clamp-"+side+".diameter=44 mm", "yokes/lower leg-clamp-"+side+".diameter=44 mm",
			"fork/leg-"+side+" tube-upper.diameter=44 mm", "fork/leg-"+side+" tube-lower.diameter=44 mm")
	}
	seal := []string{"front-wheel/spacer-left surface.diameter=26 mm", "front-wheel/seal-left lip.inside=26 mm"}
	tryEquivalents(t, demotest.Facts(t), "skerry-620/2004/uk", []equivalent{
		{name: "legs, yokes and bracket of a sister", from: true, parts: fork, want: graph.Fits},
		{name: "with the bracket that was there", from: true, parts: fork[2:], want: graph.DoesNotFit,
			says: "too thick for the clamp"},
		{name: "those of nobody's machine", parts: fork, want: graph.Unknown, says: "diameter of "},
		{name: "a seal that runs on the new spacer", parts: seal, want: graph.Fits},
		{name: "a seal for a spacer that is not there", parts: seal[1:], want: graph.DoesNotFit},
		{name: "a spacer thicker than the one built in, with its seal",
			parts: []string{"front-wheel/spacer-left surface.diameter=33 mm", "front-wheel/seal-left lip.inside=33 mm"},
			want:  graph.Unknown, says: "inside of lip"},
	})
}

func tryEquivalents(t *testing.T, facts graph.Facts, on graph.VariantID, cases []equivalent) {
	t.Helper()
	demotest.Alone(t)
	v := variantNamed(t, facts, on)
	for _, tt := range cases {
		t.Run(tt.name, func(t *testing.T) {
			facts := facts
			facts.Parts = slices.Clone(facts.Parts)
			built := func(at graph.PositionID) graph.Part {
				s := machine.StartIn(machine.NewLibrary(once.New(readertest.New(facts))), v, "")
				if err := s.Load(t.Context(), at); err != nil {
					t.Fatal(err)
				}
				return s.Seat(at).Part
			}
			if place, dim, ok := strings.Cut(tt.lacked, " "); ok {
				lacking := changedPart(t, built(graph.PositionID(string(v.Model)+":"+place)), dim+"=")
				i := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == lacking.ID })
				facts.Parts[i].Features = lacking.Features
			}
			own := map[graph.PositionID]graph.Part{}
			for _, text := range tt.parts {
				place, change, _ := strings.Cut(text, " ")
				at := graph.PositionID(string(v.Model) + ":" + place)
				part, begun := own[at]
				if !begun {
					part = built(at)
					part.ID, part.Aliases = graph.PartID(fmt.Sprintf("%s 9%08d", part.Brand, len(own)+1)), nil
				}
				own[at] = changedPart(t, part, change)
			}
			facts.Parts = append(facts.Parts, lists.Mapped(lists.KeysOf(own),
				func(at graph.PositionID) graph.Part { return own[at] })...)
			slices.SortFunc(facts.Parts, func(a, b graph.Part) int { return strings.Compare(string(a.ID), string(b.ID)) })
			if tt.from {
				facts = withSister(facts, v.Model, own)
			}
			wantEquivalent(t, facts, v, own, tt)
		})
	}
}

func wantEquivalent(t *testing.T, facts graph.Facts, v graph.Variant, own map[graph.PositionID]graph.Part,
	tt equivalent) {
	t.Helper()
	before := machine.StartIn(machine.NewLibrary(once.New(readertest.New(facts))), v, "")
	put := map[graph.PositionID]graph.PartID{}
	for at, part := range own {
		put[at] = part.ID
	}
	if err := before.Load(t.Context(), lists.KeysOf(put)...); err != nil {
		t.Fatal(err)
	}
	after, err := before.With(t.Context(), put)
	if err != nil {
		t.Fatal(err)
	}
	j, err := swap.Judge(t.Context(), examine.From(before), after, swap.Asked{})
	if err != nil {
		t.Fatal(err)
	}
	var why []string
	for _, o := range slices.Concat(j.Answer.DoesNotMate, j.Answer.Unknown, j.Answer.WithChanges) {
		why = append(why, fmt.Sprintf("%s: %s (%s)", o.Key(), o.After, o.Why))
	}
	if all := strings.Join(why, "\n"); j.Answer.Verdict != tt.want || !strings.Contains(all, tt.says) {
		t.Errorf("%s, want %s, saying %q:\n%s", j.Answer.Verdict, tt.want, tt.says, all)
	}
}

// changedPart is a part with "feature.dim=text", or without that dimension.
func changedPart(t *testing.T, part graph.Part, change string) graph.Part {
	t.Helper()
	if change == "" {
		return part
	}
	ref, text, _ := strings.Cut(change, "=")
	name, dim, _ := strings.Cut(ref, ".")
	f, ok := part.Feature(name)
	if !ok || text == "" && len(f.Dims[dim]) == 0 {
		t.Fatalf("%s has no %s", part.ID, ref)
	}
	if text != "" {
		return machine.With(part, name, dim, text)
	}
	f.Dims = maps.Clone(f.Dims)
	delete(f.Dims, dim)
	part.Features = slices.Clone(part.Features)
	part.Features[graph.FeatureNamed(part.Features, name)] = f
	return part
}

// withSister are facts with another model beside one: it has the same places, joints and
// lists, but for parts of its own at some places.
func withSister(facts graph.Facts, of graph.ModelID, own map[graph.PositionID]graph.Part) graph.Facts {
	const name = "sister-1"
	moved := func(id string) string {
		if rest, ok := strings.CutPrefix(id, string(of)); ok && (rest == "" || strings.ContainsAny(rest[:1], ":/")) {
			return name + rest
		}
		return id
	}
	at := func(id graph.PositionID) graph.PositionID { return graph.PositionID(moved(string(id))) }
	every := func(ids []graph.PositionID) []graph.PositionID { return lists.Mapped(ids, at) }
	on := func(ids []graph.VariantID) []graph.VariantID {
		return lists.Mapped(ids, func(id graph.VariantID) graph.VariantID { return graph.VariantID(moved(string(id))) })
	}
	for _, m := range facts.Models {
		if m.ID == of {
			m.ID, m.Name = name, "Sister"
			facts.Models = append(slices.Clone(facts.Models), m)
		}
	}
	for _, v := range facts.Variants {
		if v.Model == of {
			v.ID, v.Model = graph.VariantID(moved(string(v.ID))), name
			facts.Variants = append(slices.Clone(facts.Variants), v)
		}
	}
	facts.Positions, facts.Joints = slices.Clone(facts.Positions), slices.Clone(facts.Joints)
	for _, p := range facts.Positions {
		if p.Model == of {
			p.ID, p.Model, p.On, p.After = at(p.ID), name, on(p.On), every(p.After)
			facts.Positions = append(facts.Positions, p)
		}
	}
	for _, j := range facts.Joints {
		if j.Model == of {
			j.ID, j.Model, j.On = graph.JointID(moved(string(j.ID))), name, on(j.On)
			j.A.Position, j.B.Position = at(j.A.Position), at(j.B.Position)
			j.Fasteners, j.Renew = every(j.Fasteners), every(j.Renew)
			facts.Joints = append(facts.Joints, j)
		}
	}
	facts.Fitments = slices.Clone(facts.Fitments)
	for _, f := range facts.Fitments {
		if place := at(f.Position); place != f.Position {
			if part, ok := own[f.Position]; ok {
				f.Part = part.ID
			}
			f.ID, f.Position, f.On = f.ID+"-sister", place, on(f.On)
			facts.Fitments = append(facts.Fitments, f)
		}
	}
	return facts
}
