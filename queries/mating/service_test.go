package mating

import (
	"strings"
	"testing"
)

// What goes in new and what proves it: common practice, no source.

func TestFluidService(t *testing.T) {
	agreed := WetCircuit{Opened: true, Agreed: true, Fluids: "every seal allows DOT 4"}
	for _, tt := range []struct {
		name string
		in   WetCircuit
		want []string // nothing for a circuit that stays shut
	}{
		{"opened", agreed, []string{"new fluid (every seal allows DOT 4)", "bleed", "nothing may sink or weep"}},
		{"shut", WetCircuit{Agreed: true, Fluids: "every seal allows DOT 4"}, nil},
		{"no fluid in common", WetCircuit{Opened: true, Fluids: "DOT 5 and DOT 4 do not mix"}, []string{"settle first " +
			"which: DOT 5 and DOT 4"}},
		{"not known", WetCircuit{Opened: true}, []string{"settle first which", "maker's manual"}},
	} {
		says(t, tt.name, FluidService(tt.in), tt.want)
	}
}

func TestOilService(t *testing.T) {
	for _, tt := range []struct {
		name string
		in   LegOil
		want []string
	}{
		{"opened", LegOil{Opened: true, Grade: "10 W", Level: "130 mm"}, []string{"10 W, 130 mm of air over it",
			"both legs"}},
		{"shut", LegOil{Grade: "10 W", Level: "130 mm"}, nil},
		{"no level", LegOil{Opened: true, Grade: "10 W"}, []string{"10 W, as much as the maker's manual says"}},
		{"nothing recorded", LegOil{Opened: true}, []string{"grade that the maker's manual says, as much as the maker's " +
			"manual"}},
	} {
		says(t, tt.name, OilService(tt.in), tt.want)
	}
	if text := OilService(LegOil{Opened: true}); strings.Contains(text, "of air over it") {
		t.Errorf("a level without a figure: %q", text)
	}
}

func TestFrictionService(t *testing.T) {
	for _, tt := range []struct {
		name string
		in   Friction
		want []string
	}{
		{"disc", Friction{NewDisc: true}, []string{"new pads", "clean", "pump the lever"}},
		{"disc and pads", Friction{NewDisc: true, NewPads: true}, []string{"clean", "pump the lever"}},
		{"pads", Friction{NewPads: true}, []string{"pump the lever", "bed"}},
		{"neither", Friction{}, nil},
	} {
		gets, work := FrictionService(tt.in)
		says(t, tt.name, strings.Join(append(gets, work...), "\n"), tt.want)
		if got := strings.Join(work, "\n"); strings.Contains(got, "new pads") {
			t.Errorf("%s: pads are got, not done: %q", tt.name, got)
		}
	}
	if gets, _ := FrictionService(Friction{NewDisc: true, NewPads: true}); len(gets) > 0 {
		t.Errorf("pads are asked for that are on: %q", gets)
	}
}

func TestLinkService(t *testing.T) {
	for _, tt := range []struct {
		name string
		in   ChainLink
		want []string
	}{
		{"a new chain", ChainLink{NewChain: true}, []string{"new connecting link", "own make"}},
		{"a new chain whose link was judged", ChainLink{NewChain: true, Judged: true}, nil},
		{"the old chain", ChainLink{}, nil},
	} {
		says(t, tt.name, LinkService(tt.in), tt.want)
	}
}

// says checks that a text has all that is wanted, or is empty.
func says(t *testing.T, name, text string, want []string) {
	t.Helper()
	if len(want) == 0 && text != "" {
		t.Errorf("%s: %q, want nothing", name, text)
	}
	for _, w := range want {
		if !strings.Contains(text, w) {
			t.Errorf("%s: %q, want %q in it", name, text, w)
		}
	}
}

// TestCoolantService: coolant goes in anew where a hose of the cooling came off, and only
// there. Common practice, no source.
func TestCoolantService(t *testing.T) {
	if text := CoolantService(true); !strings.Contains(text, "engine cold") || !strings.Contains(text, "new coolant") {
		t.Errorf("an opened cooling asks for %q", text)
	}
	if text := CoolantService(false); text != "" {
		t.Errorf("one that stays shut asks for %q", text)
	}
}

// TestTyreService: a tyre that goes onto a rim is seated, balanced and pumped up; one that
// stays on is not. Common practice, no source.
func TestTyreService(t *testing.T) {
	if text := TyreService(true); !strings.Contains(text, "balanced") || !strings.Contains(text, "seated") {
		t.Errorf("a tyre fitted asks for %q", text)
	}
	if text := TyreService(false); text != "" {
		t.Errorf("one that stays on asks for %q", text)
	}
}
