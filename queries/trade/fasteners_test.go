package trade

import (
	"errors"
	"testing"

	"matewell/testdata/published"
)

// Source: threads.csv, ISO 724 and ISO 898-1.
func TestThreadPublished(t *testing.T) {
	loads := 0
	for _, row := range published.Rows(t, "threads.csv") {
		t.Run("M"+row["d"]+"x"+row["P"], func(t *testing.T) {
			d, p := published.Number(t, row["d"]), published.Number(t, row["P"])
			f := must[Flanks](t)(ThreadFlanks(d, p))
			near(t, "D2", f.Pitch, published.Number(t, row["d2_or_D2"]), 0.0006)
			near(t, "D1", f.Minor, published.Number(t, row["D1"]), 0.0006)
			near(t, "d3", f.Root, published.Number(t, row["d3"]), 0.0006)
			area := must[float64](t)(StressArea(d, p))
			near(t, "As", area, published.Number(t, row["As_formula"]), 0.0006)
			if printed := row["As_nominal_ISO898"]; printed != "" {
				near(t, "As as printed", area, published.Number(t, printed), 0.01*area)
			}
			for _, class := range PropertyClasses() {
				proof, tensile := row["proof_"+class.Name+"_N"], row["tensile_"+class.Name+"_N"]
				if proof == "" {
					continue
				}
				loads++
				near(t, "proof "+class.Name, must[float64](t)(ProofLoad(d, p, class.Name)), published.Number(t, proof),
					0.01*published.Number(t, proof))
				near(t, "tensile "+class.Name, must[float64](t)(TensileLoad(d, p, class.Name)), published.Number(t, tensile),
					0.01*published.Number(t, tensile))
			}
		})
	}
	if loads < 12 {
		t.Errorf("only %d published loads were compared", loads)
	}
}

// Source: nut_proof.csv, ISO 898-2: a nut of the bolt's number stands the bolt's proof load, a lower one does not.
func TestNutHolds(t *testing.T) {
	proof := map[int]float64{}
	for _, row := range published.Rows(t, "nut_proof.csv") {
		proof[whole(t, row["class"])] = published.Number(t, row["proof_N"])
	}
	for nut, load := range proof {
		for _, class := range []string{"8.8", "10.9"} {
			holds := must[bool](t)(NutHolds(nut, class))
			bolt := must[float64](t)(TensileLoad(6, 1, class))
			if holds != (load >= 0.99*bolt) {
				t.Errorf("NutHolds(%d, %s) = %v, but the nut stands %g N and the bolt breaks at %.0f N", nut, class, holds, load,
					bolt)
			}
		}
	}
	if len(proof) < 2 {
		t.Error("fewer than two nut classes compared")
	}
}

func TestBoltLoadRefuses(t *testing.T) {
	tests := []struct {
		name  string
		d, p  float64
		class string
	}{
		{"class without a source here", 8, 1.25, "4.6"},
		{"no class", 8, 1.25, ""},
		{"diameter past the stress's range", 20, 2.5, "8.8"},
		{"pitch that leaves no root", 3, 3, "8.8"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got, err := ProofLoad(tt.d, tt.p, tt.class); err == nil {
				t.Errorf("got %g N, want an error", got)
			}
		})
	}
}

// Sources: a workshop manual's general table (M6, M8, M10, dry) and another table (M8).
func TestGenericTorque(t *testing.T) {
	tests := []struct {
		name      string
		joint     PlainJoint
		low, high float64
		claims    int
		conflict  bool
	}{
		{"M6", PlainJoint{Diameter: 6, Pitch: 1}, 5.9, 7.8, 1, false},
		{"M8, two sources that differ", PlainJoint{Diameter: 8, Pitch: 1.25}, 14, 19, 2, true},
		{"M10 fine", PlainJoint{Diameter: 10, Pitch: 1.25}, 25, 34, 1, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := must[[]TorqueClaim](t)(GenericTorque(tt.joint))
			if len(got) != tt.claims || got[0].Low != tt.low || got[0].High != tt.high || TorquesConflict(got) != tt.conflict {
				t.Errorf("got %+v, want %d claims from %g to %g, conflict %v", got, tt.claims, tt.low, tt.high, tt.conflict)
			}
			for _, c := range got {
				if c.Source == "" {
					t.Errorf("claim %+v has no source", c)
				}
			}
		})
	}
}

func TestGenericTorqueRefuses(t *testing.T) {
	m8 := PlainJoint{Diameter: 8, Pitch: 1.25}
	brake, alloy, oiled := m8, m8, m8
	brake.Safety, alloy.Alloy, oiled.Oiled = "brake", true, true
	for _, tt := range []struct {
		name  string
		joint PlainJoint
		want  error
	}{
		{"safety joint", brake, ErrSafetyTorque},
		{"alloy", alloy, ErrAlloyTorque},
		{"oiled", oiled, ErrOiledTorque},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got, err := GenericTorque(tt.joint); !errors.Is(err, tt.want) || got != nil {
				t.Errorf("got %v, error %v, want %v", got, err, tt.want)
			}
		})
	}
	for _, j := range []PlainJoint{{}, {Diameter: 8, Pitch: 1}, {Diameter: 12, Pitch: 1.75}} {
		if got, err := GenericTorque(j); err == nil {
			t.Errorf("M%gx%g gave %v, but no source has it", j.Diameter, j.Pitch, got)
		}
	}
}
