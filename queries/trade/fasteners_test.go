package trade

import (
	"errors"
	"testing"

	"matewell/testdata/published"
)

// Source: threads.csv, ISO 898-1, whose loads are the strength of the class times the stress area, rounded down.
func TestGradeStrengthsPublished(t *testing.T) {
	loads := 0
	for _, row := range published.Rows(t, "threads.csv") {
		for _, class := range []string{"8.8", "10.9", "12.9"} {
			text := row["tensile_"+class+"_N"]
			if text == "" {
				continue
			}
			loads++
			load := published.Number(t, text)
			strength := must[Grade](t)(ParseGrade(class)).Tensile
			near(t, "M"+row["d"]+" "+class, strength*published.Number(t, row["As_formula"]), load, 0.01*load)
		}
	}
	if loads < 12 {
		t.Errorf("only %d published loads were compared", loads)
	}
}

// Source: nut_proof.csv, ISO 898-2: a nut of the bolt's number stands the load that breaks the bolt (threads.csv), a
// lower one does not.
func TestNutMatesPublished(t *testing.T) {
	m6 := published.By(t, "threads.csv", "d")["6"]
	nuts := published.Rows(t, "nut_proof.csv")
	for _, nut := range nuts {
		for _, class := range []string{"8.8", "10.9"} {
			load, breaks := published.Number(t, nut["proof_N"]), published.Number(t, m6["tensile_"+class+"_N"])
			mates, _, _ := NutMates(nut["class"], must[Grade](t)(ParseGrade(class)))
			if mates != (load >= breaks) {
				t.Errorf("NutMates(%s, %s) = %v, but the nut stands %g N and the bolt breaks at %g N", nut["class"], class,
					mates, load, breaks)
			}
		}
	}
	if len(nuts) < 2 {
		t.Error("fewer than two nut classes compared")
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
		{"safety joint", brake, errSafetyTorque},
		{"alloy", alloy, errAlloyTorque},
		{"oiled", oiled, errOiledTorque},
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
