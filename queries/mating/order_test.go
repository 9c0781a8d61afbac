package mating

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/measure"
)

// orderNeeds is what each kind of order must say for somebody at a counter or a
// lathe; alternatives are parted by "|". Common practice, no source.
func orderNeeds() map[string][]string {
	return map[string][]string{
		"spacer": {"length|thickness", "bore|bore and outside|to suit", "outside|bore and outside|outside, at least|to suit",
			"material", "finish"},
		"shim":         {"count", "thickness", "bore", "outside", "faces", "material", "finish"},
		"bush":         {"count", "inside", "outside", "length", "wall", "material", "finish"},
		"sleeve":       {"inside", "outside", "length", "wall", "material", "finish"},
		"ring":         {"thickness|inside", "to suit|outside", "material", "finish"},
		"bearing":      {"designation", "size", "kind", "behind the number"},
		"seal":         {"inside", "outside", "width", "form"},
		"bracket":      {"to suit", "finish"},
		"adapter":      {"to suit", "finish"},
		"adapter lead": {"one end", "other end", "wire|one end", "wires"},
		"bolt":         {"thread", "length", "class"},
		"banjo bolt":   {"thread", "length under the head", "takes", "material"},
		"chain":        {"pitch|size", "links"},
		"hose":         {"length", "sort"},
		"cable":        {"outer", "free inner", "ends of the outer"},
		"lead":         {"length", "wires"},
		"circlip":      {"size", "standard"},
		"making list":  nil,
	}
}

func missingIn(o Order) []string {
	var missing []string
	for _, needed := range orderNeeds()[o.Kind] {
		if !slices.ContainsFunc(o.Spec, func(f Field) bool {
			return f.Value != "" && slices.ContainsFunc(strings.Split(needed, "|"), func(n string) bool {
				return f.Name == n || n == "to suit" && strings.HasPrefix(f.Name, "to suit ")
			})
		}) {
			missing = append(missing, needed)
		}
	}
	return missing
}

func TestOrdersAreComplete(t *testing.T) {
	eachRule(t, func(t *rapid.T, r rule) {
		for _, c := range Judge(untangled(drawMeeting(t, r, always))) {
			for _, o := range c.Orders {
				if _, known := orderNeeds()[o.Kind]; !known {
					t.Fatalf("nobody said what an order for a %s must hold", o.Kind)
				}
				if missing := missingIn(o); len(missing) > 0 || o.Text == "" {
					t.Fatalf("%s lacks %v: %+v", o.Kind, missing, o)
				}
				fitsPrinted(t, o)
				suits := kept(o.Spec, func(f Field) bool { return strings.HasPrefix(f.Name, "to suit ") })
				if (o.Kind == "bracket" || o.Kind == "adapter") && len(suits) != 2 {
					t.Fatalf("a %s joins two patterns: %+v", o.Kind, o)
				}
			}
		}
	})
}

// fitsPrinted checks that what is turned to fit says its limits, where the table has the size:
// bore and outside each with the class and its values. Source: ISO 286-2, 3 to 120 mm.
func fitsPrinted(t *rapid.T, o Order) {
	if o.Kind != "bush" && o.Kind != "sleeve" {
		return
	}
	for field, printed := range map[string]string{"inside": "bore, by ISO 286", "outside": "outside, by ISO 286"} {
		at := slices.IndexFunc(o.Spec, func(f Field) bool { return f.Name == field })
		size, err := measure.ParseQuantity(o.Spec[at].Value, measure.Length)
		inTable := err == nil && size.Nominal > 3.5 && size.Nominal <= 119
		if inTable && !slices.ContainsFunc(o.Spec, func(f Field) bool {
			return f.Name == printed && strings.Contains(f.Value, "-") && strings.Contains(f.Value, " to the ")
		}) {
			t.Fatalf("%s %s: its limits are not printed: %+v", field, o.Spec[at].Value, o)
		}
	}
}

func kept(fields []Field, keep func(Field) bool) []Field {
	return slices.DeleteFunc(slices.Clone(fields), func(f Field) bool { return !keep(f) })
}

// What a line, a row and a sprocket are ordered by.
func TestOrdersSayEverything(t *testing.T) {
	inner := func(text string) []graph.Reading { return []graph.Reading{{Text: text}} }
	need := []graph.RunNeed{{Lock: "left", Fork: "extended", Length: inner("900 mm")}}
	face := func(at string) Side { return made("sprocket-plane", "plane", at) }
	sprocket := made("sprocket", "pitch", "15.875 mm", "roller", "10.16 mm", "width", "5.9 mm", "teeth", "17", "line",
		"0 mm")
	chain := ChainCase{Chain: made("chain", "pitch", "15.875 mm", "links", "110"), Front: sprocket,
		Rear:       sprocket.with("teeth", "42"),
		FrontPlane: face("97 mm"), RearPlane: face("95 mm")}
	bolted, splined := chain, chain
	bolted.RearMount = made("bolt-pattern", "count", "6", "spacing", "110 mm", "hole", "10.5 mm", "spigot", "84 mm")
	splined.FrontPlane, splined.FrontMount = face("93 mm"), made("spline", "teeth", "13", "major", "25 mm")
	ends := []Field{{"end to caliper", "banjo for M10x1, eye 10.2 mm, 8 mm thick, bent 20 deg"}}
	tests := []struct {
		name   string
		checks []Check
		want   []Field
	}{
		{"hose", JudgeRun(RunCase{Line: made("hose", "length", "800 mm", "bore", "3.2 mm"), Needs: need, Fittings: ends}),
			append([]Field{{"bore", "3.2 mm"}}, ends...)},
		{"cable, inner wanted", JudgeRun(RunCase{Line: made("cable", "outer", "800 mm", "inner", "95 mm"), Needs: need,
			Inner: inner("100 mm")}),
			[]Field{{"free inner", "100 mm"}}},
		{"cable, inner as it is", JudgeRun(RunCase{Line: made("cable", "outer", "800 mm", "inner", "95 mm"), Needs: need}),
			[]Field{{"free inner", "95 mm"}}},
		{"cable, inner not known", JudgeRun(RunCase{Line: made("cable", "outer", "800 mm"), Needs: need}),
			[]Field{{"free inner", "as the present one has: measure it, adjuster in its middle"}}},
		{"bolted sprocket", JudgeChain(bolted), []Field{{"behind", "rear sprocket"}, {"thickness", "2 mm"},
			{"to suit", "6 holes on a 110 mm circle, 10.5 mm clear"}, {"bore", "over the 84 mm spigot"}}},
		{"splined sprocket", JudgeChain(splined), []Field{{"behind", "front sprocket"}, {"thickness", "2 mm"}, {"bore",
			"over splines 25 mm across"}}},
		{"nobody said what it mounts by", JudgeChain(chain), []Field{{"bore and outside", "to suit what the sprocket " +
			"mounts on: measure it"}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var have []Field
			for _, c := range tt.checks {
				for _, o := range c.Orders {
					have = append(have, o.Spec...)
					if missing := missingIn(o); len(missing) > 0 {
						t.Errorf("lacks %v: %+v", missing, o)
					}
				}
			}
			for _, want := range tt.want {
				if !slices.Contains(have, want) {
					t.Errorf("order %+v, want %+v in it", have, want)
				}
			}
		})
	}
}

func TestAdapterLeadNamesItsWires(t *testing.T) {
	a := made("connector", "family", "TC 4H", "gender", "pins", "pins", "1 dip, 2 main, 3 earth")
	b := made("connector", "family", "TC 3", "gender", "sockets", "pins", "1 earth, 2 dip, 4 horn")
	a.Position, b.Position = "a/a", "b/b"
	c := the(t, Judge(Meeting{A: a, B: b, New: "a/a"}), "plug")
	want := []Field{{"one end", "TC 4H with sockets"}, {"other end", "TC 3 with pins"},
		{"wires", "no thinner than those they join; as long as both plugs hang free of heat and moving parts"},
		{"wire", "pin 1 to pin 2, dip"}, {"wire", "pin 3 to pin 1, earth"}}
	if len(c.Orders) != 1 || !slices.Equal(c.Orders[0].Spec, want) {
		t.Errorf("orders %+v, want %+v", c.Orders, want)
	}
}
