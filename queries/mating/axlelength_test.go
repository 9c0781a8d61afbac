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
	built := AxleCase{Shaft: shaft, Gap: gap, Bores: []Side{bore, bore}}
	tests := []struct {
		name string
		in   AxleCase
		as   *AxleCase
		want graph.Verdict
	}{
		{"as built", built, &built, yes},
		{"nothing known as built", built, nil, yes},
		{"longer with all that it carries", AxleCase{shaft.with("length", "211 mm"), gap.with("width", "143 mm"),
			[]Side{bore, bore}, nil}, &built, yes},
		{"near miss: 1 mm shorter, as lengths are read", AxleCase{shaft.with("length", "204 mm"), gap, []Side{bore, bore},
			nil}, &built, yes},
		{"held less far", AxleCase{shaft.with("length", "190 mm"), gap, []Side{bore, bore}, nil}, &built, open},
		{"reaches further", AxleCase{shaft.with("length", "215 mm"), gap, []Side{bore, bore}, nil}, &built, open},
		{"shorter than its row", AxleCase{shaft.with("length", "130 mm"), gap, []Side{bore, bore}, nil}, &built, no},
		{"shorter than its row, nothing known as built", AxleCase{shaft.with("length", "130 mm"), gap, nil, nil}, nil, no},
		{"length missing", AxleCase{shaft.with("length", ""), gap, []Side{bore, bore}, nil}, &built, open},
		{"width missing", AxleCase{shaft, gap.with("width", ""), []Side{bore, bore}, nil}, &built, open},
		{"length of a bore missing", AxleCase{shaft, gap, []Side{bore, bore.with("length", "")}, nil}, &built, open},
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
