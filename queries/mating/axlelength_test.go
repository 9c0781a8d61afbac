package mating

import (
	"testing"

	"matewell/graph"
)

// Common practice, no source: what lengths are read to; the rest is geometry.
func TestJudgeAxle(t *testing.T) {
	shaft := made("shaft", "diameter", "17 mm", "length", "205 mm")
	gap := made("gap", "width", "137 mm")
	bore := made("bore", "diameter", "17 mm", "length", "34 mm")
	thread := made("male-thread", "thread", "M16x1.5", "length", "230 mm", "grip", "205 mm")
	built := AxleCase{Shaft: shaft, Gap: gap, Bores: []Side{bore, bore}, Thread: thread}
	as := func(change func(*AxleCase)) AxleCase {
		in := built
		change(&in)
		return in
	}
	plain := func(text string) AxleCase {
		return as(func(in *AxleCase) { in.Thread = thread.with("grip", text) })
	}
	long := func(text string) AxleCase {
		return as(func(in *AxleCase) { in.Shaft, in.Thread = shaft.with("length", text), thread.with("grip", text) })
	}
	tests := []struct {
		name string
		in   AxleCase
		as   *AxleCase
		want graph.Verdict
	}{
		{"as built", built, &built, yes},
		{"nothing known as built", built, nil, yes},
		{"longer with all that it carries", as(func(in *AxleCase) {
			in.Shaft, in.Thread = shaft.with("length", "211 mm"), thread.with("grip", "211 mm")
			in.Gap = gap.with("width", "143 mm")
		}), &built, yes},
		{"near miss: 1 mm shorter, as lengths are read", long("204 mm"), &built, yes},
		{"held less far", long("190 mm"), &built, open},
		{"reaches further", long("215 mm"), &built, open},
		{"shorter than its row", long("130 mm"), &built, no},
		{"shorter than its row, nothing known as built", as(func(in *AxleCase) {
			in.Shaft, in.Bores = shaft.with("length", "130 mm"), nil
		}), nil, no},
		{"its thread begins within the row", plain("60 mm"), &built, no},
		{"its thread begins within what holds it", plain("190 mm"), &built, open},
		{"near miss: its thread begins 1 mm sooner", plain("204 mm"), &built, yes},
		{"plain length left by the thread missing", plain(""), &built, yes},
		{"only the plain length left by the thread", as(func(in *AxleCase) { in.Shaft = shaft.with("length", "") }), &built,
			yes},
		{"both missing", as(func(in *AxleCase) {
			in.Shaft, in.Thread = shaft.with("length", ""), thread.with("grip", "")
		}), &built, open},
		{"width missing", as(func(in *AxleCase) { in.Gap = gap.with("width", "") }), &built, open},
		{"length of a bore missing", as(func(in *AxleCase) { in.Bores = []Side{bore, bore.with("length", "")} }), &built,
			open},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.in.Built = tt.as
			checks := JudgeAxle(tt.in)
			if c := the(t, checks, "axle length"); c.Verdict != tt.want {
				t.Errorf("%s, want %s: %s", c.Verdict, tt.want, c.Why)
			}
		})
	}
}

// Common practice, no source: what lengths are read to; the rest is geometry.
func TestJudgePlainLength(t *testing.T) {
	shaft := made("shaft", "diameter", "16 mm")
	thread := made("male-thread", "thread", "M14x1.5", "length", "250 mm", "grip", "226 mm")
	for _, tt := range []struct {
		name, grip, was string
		want            graph.Verdict
	}{
		{"as built", "226 mm", "226 mm", yes},
		{"near miss: 1 mm sooner, as lengths are read", "225 mm", "226 mm", yes},
		{"its thread begins sooner", "150 mm", "226 mm", open},
		{"its thread begins later", "240 mm", "226 mm", yes},
		{"not measured", "", "226 mm", open},
		{"not known as built", "150 mm", "", graph.NoVerdict},
	} {
		in := AxleCase{Shaft: shaft, Thread: thread.with("grip", tt.grip),
			Built: &AxleCase{Shaft: shaft, Thread: thread.with("grip", tt.was)}}
		if got := Worst(JudgePlainLength(in)); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// Seal makers' tables of resistance, from memory; letters of rubbers: ISO 1629.
func TestJudgeSealRubber(t *testing.T) {
	ring := made("washer", "inside", "22 mm", "outside", "27 mm", "thickness", "2.5 mm", "material", "NBR")
	tests := []struct {
		name, material, fluid string
		want                  graph.Verdict
	}{
		{"nitrile in fuel", "NBR", "fuel", yes},
		{"the same by its name", "nitrile rubber", "fuel", yes},
		{"fluoro rubber in fuel", "FPM", "fuel", yes},
		{"EPDM in fuel", "EPDM", "fuel", no},
		{"silicone in fuel", "silicone", "fuel", no},
		{"EPDM in brake fluid", "epdm", "brake fluid", yes},
		{"nitrile in brake fluid", "NBR", "brake fluid", no},
		{"something else", "cork", "fuel", open},
		{"material missing", "", "fuel", open},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			checks := JudgeSealRubber(SealRubberCase{Ring: ring.with("material", tt.material), Fluid: tt.fluid})
			if c := the(t, checks, "seal rubber"); c.Verdict != tt.want {
				t.Errorf("%s, want %s: %s", c.Verdict, tt.want, c.Why)
			}
		})
	}
}

// Common practice, no source: what wear and classes of fit of one size leave.
func TestThinner(t *testing.T) {
	for _, tt := range []struct {
		was, now string
		want     bool
	}{{"16.98 mm", "14.98 mm", true}, {"16.98 mm", "16.9 mm", false}, {"16.98 mm", "16.86 mm", true},
		{"14.98 mm", "16.98 mm", false}, {"16.98 mm", "", false}} {
		got := Thinner(graph.Reading{Text: tt.was}, graph.Reading{Text: tt.now})
		if got != tt.want {
			t.Errorf("%s after %s: %v, want %v", tt.now, tt.was, got, tt.want)
		}
	}
}
