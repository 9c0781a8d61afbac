package trade

import (
	"errors"
	"fmt"
	"math"
)

// PlainJoint is what a generic torque may be asked for. The zero PlainJoint is
// refused: it has no thread.
type PlainJoint struct {
	Diameter float64 // thread, mm
	Pitch    float64 // mm
	Safety   string  // safety class of the position in words; empty when none
	Alloy    bool    // the thread is cut in aluminium or another light alloy
	Oiled    bool    // thread or head is lubricated, plated or locked by adhesive
}

// TorqueClaim is what one source gives for a plain dry joint.
type TorqueClaim struct {
	Low, High float64 // N m; equal when the source gives one number
	Source    string
}

// The refusals of GenericTorque: each is an answer a person can act on.
var (
	errSafetyTorque = errors.New("a torque on a safety joint comes from the maker's manual for the part that carries " +
		"the thread, never from a generic table")
	errAlloyTorque = errors.New("generic torques are for steel threads: in alloy they strip, see the maker's manual")
	errOiledTorque = errors.New("generic torques are for dry threads: oiled, plated or glued ones need the maker's own")
)

// GenericTorque is what general tables give for a plain joint of no safety
// class, steel in steel, dry, where the manual gives no value of its own. Where
// sources disagree, all are given, lowest first: that is a conflict to show,
// not a range to choose from. No torque is ever worked out.
//
// In N m from mm. Source: one motorcycle maker's workshop manual, read in an
// excerpt (M6, M8, M10), and another table (M8 only). Neither says which pitch
// it means; only the usual ones are answered: M6x1, M8x1.25, M10x1.25, M10x1.5.
// Refuses a joint with a safety class, an alloy thread, an oiled one, and every
// other thread.
func GenericTorque(j PlainJoint) ([]TorqueClaim, error) {
	switch {
	case j.Safety != "":
		return nil, errSafetyTorque
	case j.Alloy:
		return nil, errAlloyTorque
	case j.Oiled:
		return nil, errOiledTorque
	}
	const manual = "general table of one motorcycle maker's workshop manual, dry, only where no specific value is given"
	const other = "another general table"
	for _, row := range []struct {
		diameter float64
		pitches  []float64
		claims   []TorqueClaim
	}{
		{6, []float64{1}, []TorqueClaim{{5.9, 7.8, manual}}},
		{8, []float64{1.25}, []TorqueClaim{{14, 19, manual}, {25.5, 25.5, other}}},
		{10, []float64{1.25, 1.5}, []TorqueClaim{{25, 34, manual}}},
	} {
		for _, pitch := range row.pitches {
			if math.Abs(j.Diameter-row.diameter) < 1e-6 && math.Abs(j.Pitch-pitch) < 1e-6 {
				return row.claims, nil
			}
		}
	}
	return nil, &inputError{"thread", fmt.Sprintf("M%gx%g", j.Diameter, j.Pitch), "M6x1, M8x1.25, M10x1.25 or M10x1.5: " +
		"no source gives a generic torque for another"}
}

// TorquesConflict reports whether two sources have no value in common.
func TorquesConflict(claims []TorqueClaim) bool {
	for i, a := range claims {
		for _, b := range claims[i+1:] {
			if a.High < b.Low || b.High < a.Low {
				return true
			}
		}
	}
	return false
}
