package trade

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// formulas is every function of the package that takes measures and gives one,
// by name; x is padded by the caller.
func formulas() map[string]func(x []float64) (float64, error) {
	n := func(v float64) int { return int(math.Max(-1e9, math.Min(1e9, v))) } // NaN to some int: as a broken caller would
	return map[string]func(x []float64) (float64, error){
		"HydraulicRatio": func(x []float64) (float64, error) {
			return HydraulicRatio(x[0], Caliper{Layout(n(x[1])), []Piston{{n(x[2]), x[3]}}})
		},
		"TotalLeverage": func(x []float64) (float64, error) { return TotalLeverage(x[0], x[1]) },
		"LinePressure":  func(x []float64) (float64, error) { return LinePressure(x[0], x[1], x[2]) },
		"ClampForce": func(x []float64) (float64, error) {
			return ClampForce(x[0], Caliper{Opposed, []Piston{{n(x[1]), x[2]}}})
		},
		"FluidDisplaced": func(x []float64) (float64, error) {
			return FluidDisplaced(x[0], Caliper{Sliding, []Piston{{n(x[1]), x[2]}}})
		},
		"PistonStroke":  func(x []float64) (float64, error) { return PistonStroke(x[0], x[1]) },
		"LeverTravel":   func(x []float64) (float64, error) { return LeverTravel(x[0], x[1]) },
		"ReserveToGrip": func(x []float64) (float64, error) { r, err := ReserveToGrip(x[0], x[1]); return r.Gap, err },
		"ChangeBore":    func(x []float64) (float64, error) { c, err := ChangeBore(x[0], x[1]); return c.Force, err },
		"SlaveTravel":   func(x []float64) (float64, error) { return SlaveTravel(x[0], x[1], x[2]) },
		"FeelOf":        func(x []float64) (float64, error) { f, err := FeelOf(x[0]); return f.About, err },
		"Tyre.Diameter": func(x []float64) (float64, error) {
			return Tyre{Width: x[0], Aspect: x[1],
				Rim: x[2]}.Diameter()
		},
		"Tyre.Circumference": func(x []float64) (float64, error) {
			return Tyre{Width: x[0], Aspect: x[1],
				Rim: x[2]}.Circumference()
		},
		"LoadCapacity":    func(x []float64) (float64, error) { return LoadCapacity(n(x[0])) },
		"SpeedometerBand": func(x []float64) (float64, error) { _, high, err := SpeedometerBand(x[0]); return high, err },
		"WheelFactor":     func(x []float64) (float64, error) { return WheelFactor(take(x), take(x[4:])) },
		"GearboxFactor":   func(x []float64) (float64, error) { return GearboxFactor(take(x), take(x[4:])) },
		"RingFactor":      func(x []float64) (float64, error) { return RingFactor(take(x), take(x[4:])) },
		"SprocketRatio":   func(x []float64) (float64, error) { return SprocketRatio(n(x[0]), n(x[1])) },
		"RatioChange":     func(x []float64) (float64, error) { return RatioChange(x[0], x[1]) },
		"Revs":            func(x []float64) (float64, error) { return Revs(x[0], x[1], x[2]) },
		"ChainLinks":      func(x []float64) (float64, error) { return ChainLinks(n(x[0]), n(x[1]), x[2], x[3]) },
		"EvenLinks":       func(x []float64) (float64, error) { l, err := EvenLinks(x[0]); return float64(l), err },
		"ChainCentre":     func(x []float64) (float64, error) { return ChainCentre(n(x[0]), n(x[1]), n(x[2]), x[3]) },
		"PitchDiameter":   func(x []float64) (float64, error) { return pitchDiameter(n(x[0]), x[1]) },
		"Trail": func(x []float64) (float64, error) {
			return Steering{Radius: x[0], Rake: x[1],
				Offset: x[2]}.Trail()
		},
		"frontRise": func(x []float64) (float64, error) {
			return frontRise(x[0], Change{ForkLength: x[1], FrontRadius: x[2]})
		},
		"rakeChange":       func(x []float64) (float64, error) { return rakeChange(x[0], x[1], x[2]) },
		"After":            func(x []float64) (float64, error) { s, err := after(x); return s.Rake, err },
		"RideHeightChange": func(x []float64) (float64, error) { return RideHeightChange(x[0], x[1]) },
		"CablePull":        func(x []float64) (float64, error) { return CablePull(x[0], x[1]) },
		"GripTurn":         func(x []float64) (float64, error) { return GripTurn(x[0], x[1], x[2]) },
		"FreeInnerGap":     func(x []float64) (float64, error) { return FreeInnerGap(x[0], x[1], x[2]) },
		"WireRating":       func(x []float64) (float64, error) { low, _, err := WireRating(x[0]); return low, err },
		"CurrentOf":        func(x []float64) (float64, error) { return CurrentOf(x[0], x[1]) },
		"StretchedOutside": func(x []float64) (float64, error) { return StretchedOutside(x[0], x[1], x[2]) },
		"PedalRatio":       func(x []float64) (float64, error) { return PedalRatio(x[0], x[1]) },
		"SideStand.Lean":   func(x []float64) (float64, error) { return SideStand{x[0], x[1], x[2], x[3]}.Lean() },
		"SwingGap":         func(x []float64) (float64, error) { return SwingGap(x[0], x[1], x[2], x[3]) },
		"ReadingFactor":    func(x []float64) (float64, error) { return ReadingFactor(x[0], x[1], x[2], x[3]) },
		"EdgeNeeded": func(x []float64) (float64, error) {
			n, err := EdgeNeeded(x[0], x[1], "steel")
			return n.Enough,
				err
		},
		"SleeveWall":     func(x []float64) (float64, error) { return SleeveWall(x[0]) },
		"StandardThread": func(x []float64) (float64, error) { return StandardThread(x[0], x[1]) },
		"OuterRingFit":   func(x []float64) (float64, error) { f, err := OuterRingFit("N7", x[0]); return f.Most, err },
		"RadialPlay":     func(x []float64) (float64, error) { p, err := RadialPlay(x[0], "C3"); return p.Most, err },
	}
}

func take(x []float64) SpeedTake {
	return SpeedTake{Circumference: x[0], Ratio: x[1], RingTeeth: int(x[2])}
}

func after(x []float64) (Steering, error) {
	return Steering{Radius: x[0], Rake: x[1], Offset: x[2], Wheelbase: x[3]}.After(Change{x[4], x[5], x[6], x[7], 0})
}

// Whatever comes in, no NaN and no infinity comes out, and an error comes with
// a zero value.
func TestNeverNaN(t *testing.T) {
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1, 2, 17, 45, 1e-300, 1e-7, 1e300, -1e300,
		math.MaxFloat64, 1e6, 1e-6}
	for name, f := range formulas() {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				x := make([]float64, 8)
				for i := range x {
					x[i] = rapid.OneOf(rapid.SampledFrom(odd), rapid.Float64(), rapid.Float64Range(0, 100)).Draw(t, "x")
				}
				got, err := f(x)
				if math.IsNaN(got) || math.IsInf(got, 0) || err != nil && got != 0 {
					t.Fatalf("%s(%v) = %g, error %v", name, x, got, err)
				}
			})
		})
	}
}

// Zero, below zero and NaN where something must be above zero: always an error.
func TestImpossibleIsRefused(t *testing.T) {
	for name, f := range formulas() {
		t.Run(name, func(t *testing.T) {
			nan := make([]float64, 8)
			for i := range nan {
				nan[i] = math.NaN()
			}
			if got, err := f(nan); err == nil {
				t.Errorf("all NaN gave %g, want an error", got)
			}
			switch name {
			case "SpeedometerBand", "frontRise", "FreeInnerGap": // zero is a fair input of these
				return
			}
			if got, err := f(make([]float64, 8)); err == nil {
				t.Errorf("all zero gave %g, want an error", got)
			}
		})
	}
}
