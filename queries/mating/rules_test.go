package mating

import (
	"testing"

	"matewell/graph"
)

// The verdicts by their first letters, so that a table stays readable.
const (
	yes  = graph.Fits
	mod  = graph.FitsWithChanges
	open = graph.Unknown
	no   = graph.DoesNotFit
)

type ruleCase struct {
	name string
	a, b Side
	rule string // the check looked at; empty looks at the worst of all
	want graph.Verdict
}

func runCases(t *testing.T, cases []ruleCase) {
	t.Helper()
	for _, tt := range cases {
		t.Run(tt.name, func(t *testing.T) {
			checks := Judge(Meeting{A: tt.a, B: tt.b})
			got := Worst(checks)
			if tt.rule != "" {
				got = the(t, checks, tt.rule).Verdict
			}
			if got != tt.want {
				t.Errorf("%s, want %s: %+v", got, tt.want, checks)
			}
		})
	}
}

// Sources: ISO 261, ISO 724, ASME B1.1, ISO 228-1 for the sizes, and computed
// from them the trap of 3/8-24 UNF (9.525 x 1.0583 mm) in M10x1.
func TestThreads(t *testing.T) {
	in := func(male, female string) (Side, Side) {
		return made("male-thread", "thread", male, "length", "40 mm", "grip", "10 mm"),
			made("female-thread", "thread", female, "depth", "60 mm", "hole", "through", "material", "steel", "grip", "10 mm")
	}
	tests := []struct {
		name, male, female string
		want               graph.Verdict
		says               string
	}{
		{"same", "M10x1.25", "M10x1.25", yes, ""},
		{"coarse by its short name", "M8", "M8x1.25", yes, ""},
		{"one inch thread", "3/8-24 UNF", "3/8-24 UNF", yes, ""},
		{"pitch, coarser bolt", "M10x1.25", "M10x1", no, "starts, then binds"},
		{"pitch, finer bolt", "M10x1", "M10x1.25", no, "starts, then binds"},
		{"near miss of 0.25 mm", "M8x1", "M8x1.25", no, "starts, then binds"},
		{"trap 3/8-24 in M10x1", "3/8-24 UNF", "M10x1", no, "trap"},
		{"trap M10x1 in 3/8-24", "M10x1", "3/8-24 UNF", no, "trap"},
		{"trap 5/16-24 in M8x1", "5/16-24 UNF", "M8x1", no, "trap"},
		{"trap G 1/8 in M10x1", "G 1/8", "M10x1", no, "trap"},
		{"taper pipe in parallel", "R 1/8", "G 1/8", no, "taper"},
		{"flank angle only", "1/4-20 BSW", "1/4-20 UNC", no, "flanks"},
		{"left in right", "M10x1.25 LH", "M10x1.25", no, "left-hand"},
		{"bolt too thick", "M10", "M8", no, "too thick"},
		{"bolt drops through", "M6", "M10x1.25", no, "drops through"},
		{"bolt catches crests", "M9x1.25", "M10x1.25", no, "too thin"},
		{"pitch not written", "M10", "M10x1.25", open, "without a pitch"},
		{"hand decides even so", "M10", "M10x1.25 LH", no, "left-hand"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a, b := in(tt.male, tt.female)
			c := the(t, Judge(Meeting{A: a, B: b}), "thread")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// Sources: thread_engagement.csv, a fastener handbook's trials: 1.0 d in steel,
// 1.25 d for 10.9, 2.0 d in aluminium, where a rule of thumb says 1.5 d (from
// memory); tip 2 pitches off a blind bottom: handbooks, from memory; ISO 898-2 for nuts; AC 43.13-1B 7-37 for the full
// thread out of them. That a cap needs no 1 d, and a brass nut no more, is common practice, no source.
func TestEngagement(t *testing.T) {
	bolt := func(length string) Side {
		return made("male-thread", "thread", "M8", "length", length, "grip", "8 mm", "class", "8.8")
	}
	hole := func(kind, material, depth string) Side {
		return made("female-thread", "thread", "M8", "depth", depth, "hole", kind, "material", material, "grip", "10 mm")
	}
	nut := hole("through", "steel", "6.8 mm").with("class", "8")
	cap := made("male-thread", "thread", "M32x1", "length", "12 mm")
	tube := made("female-thread", "thread", "M32x1", "depth", "15 mm", "hole", "through", "material", "steel", "grip",
		"0 mm")
	runCases(t, []ruleCase{
		{"steel, just 1 d", bolt("18 mm"), hole("blind", "steel", "20 mm"), "thread engagement", yes},
		{"steel, 0.1 mm less", bolt("17.9 mm"), hole("blind", "steel", "20 mm"), "thread engagement", no},
		{"10.9 in steel, just 1.25 d", bolt("20 mm").with("class", "10.9"), hole("blind", "steel", "20 mm"),
			"thread engagement", yes},
		{"10.9 in steel, 1 d", bolt("18 mm").with("class", "10.9"), hole("blind", "steel", "20 mm"), "thread engagement", no},
		{"aluminium, just 2 d", bolt("26 mm"), hole("blind", "aluminium", "20 mm"), "thread engagement", yes},
		{"aluminium, 0.1 mm less: enough for one", bolt("25.9 mm"), hole("blind", "aluminium", "20 mm"), "thread engagement",
			yes},
		{"aluminium, just 1.5 d: enough for one", bolt("22 mm"), hole("blind", "aluminium", "20 mm"), "thread engagement",
			yes},
		{"aluminium, 0.1 mm less", bolt("21.9 mm"), hole("blind", "aluminium", "20 mm"), "thread engagement", no},
		{"tip just 2 pitches off", bolt("27.5 mm"), hole("blind", "aluminium", "20 mm"), "thread engagement", yes},
		{"tip 0.1 mm closer", bolt("27.6 mm"), hole("blind", "aluminium", "20 mm"), "thread engagement", no},
		{"through: no bottom", bolt("60 mm"), hole("through", "aluminium", "20 mm"), "thread engagement", yes},
		{"through: too little thread", bolt("60 mm"), hole("through", "aluminium", "11 mm"), "thread engagement", no},
		{"nut: one thread out", bolt("18.1 mm"), nut, "thread engagement", yes},
		{"nut: less than one thread out", bolt("17.9 mm"), nut, "thread engagement", yes},
		{"nut: bolt just through", bolt("16.8 mm"), nut, "thread engagement", yes},
		{"nut: bolt not through", bolt("16.7 mm"), nut, "thread engagement", no},
		{"brass nut of 1 d: as high as those of an exhaust are", bolt("30 mm"), hole("through", "brass", "8 mm"),
			"thread engagement", yes},
		{"near miss: a lower one", bolt("30 mm"), hole("through", "brass", "7.5 mm"), "thread engagement", no},
		{"thin nut", bolt("30 mm"), nut.with("depth", "4 mm"), "thread engagement", no},
		{"nut or hole? nobody said", bolt("30 mm"), nut.with("class", ""), "thread engagement", open},
		{"length missing", bolt(""), hole("blind", "steel", "20 mm"), "thread engagement", open},
		{"grip missing", bolt("20 mm"), hole("blind", "steel", "20 mm").with("grip", ""), "thread engagement", open},
		{"grip missing, hopeless anyway", bolt("7 mm"), hole("blind", "steel", "20 mm").with("grip", ""),
			"thread engagement", no},
		{"material missing", bolt("24 mm"), hole("blind", "steel", "20 mm").with("material", ""), "thread engagement", open},
		{"length ±0.5 near the end", bolt("18.2 mm ±0.5"), hole("blind", "steel", "20 mm"), "thread engagement", open},
		{"plain shank too long", bolt("20 mm").with("grip", "12 mm"), hole("blind", "steel", "20 mm"), "thread engagement",
			no},
		{"cap: fine thread, all of it in", cap, tube, "thread engagement", yes},
		{"cap: 1 d is not asked of it, nor is a nut's height", cap, tube.with("depth", "10 mm").with("hole",
			"through").with("class", "8"), "thread engagement", yes},
		{"cap: only part of it in", cap, tube.with("depth", "8 mm").with("grip", "6 mm"), "thread engagement", open},
		{"cap: a turn less than five", cap.with("length", "4 mm"), tube, "thread engagement", open},
		{"cap: no turn in", cap, tube.with("grip", "11.5 mm"), "thread engagement", no},
		{"cap: depth missing", cap, tube.with("depth", ""), "thread engagement", open},
		{"bolt by what is said: 32 mm and 1 d", cap.with("duty", "bolt"), tube, "thread engagement", no},
		{"ring by what is said", bolt("6 mm").with("grip", "").with("duty", "ring"), nut.with("grip", "0 mm").with("depth",
			"6 mm"), "thread engagement", open},
		{"plain shank not measured", made("male-thread", "thread", "M8", "length", "40 mm"), hole("through", "steel",
			"20 mm"), "thread engagement", open},
	})
}

// What the machine was built with settles what two sources leave open, and what
// class belongs in a tapped hole. Sources as TestEngagement; ISO 898-1, ISO
// 3506-1 for the classes.
func TestBoltAgainstTheOneBuiltIn(t *testing.T) {
	bolt := made("male-thread", "thread", "M8", "length", "24 mm", "grip", "8 mm", "class", "8.8")
	hole := made("female-thread", "thread", "M8", "depth", "20 mm", "hole", "blind", "material", "aluminium", "grip",
		"10 mm")
	nut := made("female-thread", "thread", "M8", "depth", "6.8 mm", "hole", "through", "material", "steel", "grip",
		"10 mm", "class", "8")
	washer := made("washer", "inside", "8.4 mm", "outside", "16 mm", "thickness", "1.5 mm")
	tests := []struct {
		name    string
		a, b    Side
		washers []Side
		built   *Meeting
		rule    string
		want    graph.Verdict
		says    string
	}{
		{"as built, between two sources", bolt, hole, nil, &Meeting{A: bolt, B: hole}, "thread engagement", yes,
			"no less than it was built with"},
		{"shorter than built, between two sources", bolt.with("length", "23 mm"), hole, nil, &Meeting{A: bolt, B: hole},
			"thread engagement", open, "1 mm less than it was built with"},
		{"a washer more", bolt, hole, []Side{washer}, &Meeting{A: hole, B: bolt}, "thread engagement", open, "1.5 mm less"},
		{"longer than built, enough for both", bolt.with("length", "27 mm"), hole, nil, &Meeting{A: bolt, B: hole},
			"thread engagement", yes, "2 d"},
		{"length as built not known", bolt, hole, nil, &Meeting{A: bolt.with("length", ""), B: hole}, "thread engagement",
			yes, "1.5 d"},
		{"less out of the nut than built", bolt.with("length", "17.5 mm"), nut, nil, &Meeting{A: bolt, B: nut},
			"thread engagement", mod, "less than one full thread"},
		{"the class built in", bolt, hole, nil, &Meeting{A: bolt, B: hole}, "bolt class", yes, "as listed"},
		{"stainless where 8.8 was", bolt.with("class", "A2-70"), hole, nil, &Meeting{A: bolt, B: hole}, "bolt class", no,
			"weaker than the 8.8"},
		{"near miss: 9T where 8.8 was", bolt.with("class", "9T"), hole, nil, &Meeting{A: bolt, B: hole}, "bolt class", open,
			"proves no class"},
		{"stronger", bolt.with("class", "10.9"), hole, nil, &Meeting{A: bolt, B: hole}, "bolt class", yes, "torque stays"},
		{"class missing", bolt.with("class", ""), hole, nil, &Meeting{A: bolt, B: hole}, "bolt class", open,
			"property class"},
		{"the hole says which", bolt, hole.with("bolt-class", "10.9"), nil, &Meeting{A: bolt, B: hole}, "bolt class", no,
			"8.8"},
		{"a marking no standard has", bolt.with("class", "wing"), hole, nil, &Meeting{A: bolt, B: hole}, "bolt class", open,
			"no standard"},
		{"thin nut by its class", bolt, nut.with("class", "04"), nil, nil, "bolt class", no, "thin"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, Judge(Meeting{A: tt.a, B: tt.b, Washers: tt.washers, Built: tt.built}), tt.rule)
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s with %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
}

// Source: ISO 898-2: the nut's class must not be below the bolt's; ISO 3506-1
// for stainless markings.
func TestBoltClass(t *testing.T) {
	pair := func(bolt, nut string) (Side, Side) {
		a := made("male-thread", "thread", "M8", "length", "30 mm", "grip", "8 mm").with("class", bolt)
		return a, made("female-thread", "thread", "M8", "depth", "6.8 mm", "hole", "through", "material", "steel",
			"grip", "10 mm", "across-flats", "13 mm").with("class", nut)
	}
	for _, tt := range []struct {
		bolt, nut string
		want      graph.Verdict
	}{
		{"8.8", "8", yes}, {"8.8", "10", yes}, {"10.9", "8", no}, {"10.9", "10", yes}, {"12.9", "10", no},
		{"A2-70", "A2-70", yes}, {"A2-70", "A4-80", yes}, {"8.8", "A2-70", no}, {"", "8", open}, {"8.8", "", open}, {"wing",
			"8", open},
	} {
		t.Run(tt.bolt+" in "+tt.nut, func(t *testing.T) {
			a, b := pair(tt.bolt, tt.nut)
			if c := the(t, Judge(Meeting{A: a, B: b}), "bolt class"); c.Verdict != tt.want {
				t.Errorf("%s (%s), want %s", c.Verdict, c.Why, tt.want)
			}
		})
	}
}

// Source for washers = banjos + 1: common practice; sizes of SAE J1291 banjos.
func TestBanjo(t *testing.T) {
	banjo := made("banjo", "eye", "10.2 mm", "thickness", "9 mm")
	port := made("port", "thread", "M10x1.25", "seat", "flat washer", "depth", "13 mm")
	runCases(t, []ruleCase{
		{"as built", banjo, port, "", yes},
		{"eye of the bolt's own size", banjo.with("eye", "10 mm"), port, "banjo eye", yes},
		{"eye 0.1 mm too small", banjo.with("eye", "9.9 mm"), port, "banjo eye", no},
		{"eye as wide as washers cover", banjo.with("eye", "10.6 mm"), port, "banjo eye", yes},
		{"eye for M12", banjo.with("eye", "12.2 mm"), port, "banjo eye", no},
		{"eye missing", banjo.with("eye", ""), port, "banjo eye", open},
		{"flare port", banjo, port.with("seat", "flare"), "port seat", no},
		{"seat missing", banjo, port.with("seat", ""), "port seat", open},
		{"shallow port", banjo, port.with("depth", "9 mm"), "banjo bolt", no},
		{"depth missing", banjo, port.with("depth", ""), "banjo bolt", open},
	})
	washer := made("washer", "inside", "10.1 mm", "outside", "14 mm", "thickness", "1.2 mm")
	for banjos, text := range map[int]string{1: "1", 2: "2"} {
		for n := 1; n <= 4; n++ {
			m := Meeting{A: banjo, B: port.with("banjos", text)}
			for range n {
				m.Washers = append(m.Washers, washer)
			}
			want := mod
			if n == banjos+1 {
				want = yes
			}
			if c := the(t, Judge(m), "sealing washers"); c.Verdict != want || len(c.Renew) != 1 {
				t.Errorf("%d washers for %d banjos: %s, want %s", n, banjos, c.Verdict, want)
			}
		}
	}
}

func contains(text, part string) bool {
	for i := 0; i+len(part) <= len(text); i++ {
		if text[i:i+len(part)] == part {
			return true
		}
	}
	return false
}
