package loader_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/loader"
)

// Every choice leads to patterns that ship with the program, and every pattern
// is reached by some answer, or is a piece of one that is.
func TestEveryPatternIsChosen(t *testing.T) {
	reached := map[string]bool{}
	like := map[string][]string{}
	for _, p := range loader.Patterns() {
		like[p.Name] = p.Like
		if p.Is == "" {
			t.Errorf("pattern %s does not say what it is", p.Name)
		}
	}
	var reach func(name string)
	reach = func(name string) {
		if _, known := like[name]; !known {
			t.Errorf("there is no pattern %q", name)
		}
		if !reached[name] {
			reached[name] = true
			for _, next := range like[name] {
				reach(next)
			}
		}
	}
	for _, answers := range combinations("front-brake", "speedometer", "rear-brake", "drive") {
		names, err := loader.PatternsFor(answers)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			reach(name)
		}
	}
	for name := range like {
		if !reached[name] {
			t.Errorf("no answer leads to pattern %s", name)
		}
	}
}

func TestPatternsFor(t *testing.T) {
	names, err := loader.PatternsFor(map[string]string{"front-brake": "drum", "speedometer": "sensor", "drive": "shaft"})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"front-drum", "speed-sensor", "rear-disc-shaft", "shaft", "cylinders-2",
		"carburettors-2"} {
		if !slices.Contains(names, want) {
			t.Errorf("no %s in %v", want, names)
		}
	}
	byBelt, err := loader.PatternsFor(map[string]string{"drive": "belt", "rear-brake": "drum"})
	if err != nil || !slices.Contains(byBelt, "belt") || !slices.Contains(byBelt, "rear-drum-chain") {
		t.Errorf("a belt runs beside a carrier, as a chain does: %v %v", byBelt, err)
	}
	if _, err := loader.PatternsFor(map[string]string{"front-brake": "disc"}); err == nil ||
		!strings.Contains(err.Error(), "one-disc") {
		t.Errorf("a word that is no answer: %v", err)
	}
}

func TestNameFor(t *testing.T) {
	for text, want := range map[string]string{"Holm 400": "holm-400", " Skerry/620 S ": "skerry-620-s", "": "", "--": ""} {
		if got := loader.NameFor(text); got != want {
			t.Errorf("NameFor(%q) = %q, want %q", text, got, want)
		}
	}
}
