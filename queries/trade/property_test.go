package trade

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// ok takes a value that has to be there.
func ok[T any](t *rapid.T, v T, err error) T {
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// same fails unless two values agree to one part in 10^9.
func same(t *rapid.T, what string, got, want float64) {
	if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))) {
		t.Fatalf("%s: %.12g, want %.12g", what, got, want)
	}
}

func caliper(t *rapid.T, label string) Caliper {
	c := Caliper{Layout: rapid.SampledFrom([]Layout{Opposed, Sliding}).Draw(t, label+" layout")}
	for i := range rapid.IntRange(1, 3).Draw(t, label+" sizes") {
		c.Pistons = append(c.Pistons, Piston{rapid.IntRange(1, 6).Draw(t, fmt.Sprint(label, " count ", i)),
			rapid.Float64Range(10, 60).Draw(t, fmt.Sprint(label, " diameter ", i))})
	}
	return c
}

func (c Caliper) scaled(k float64) Caliper {
	out := Caliper{Layout: c.Layout}
	for _, p := range c.Pistons {
		out.Pistons = append(out.Pistons, Piston{p.Count, p.Diameter * k})
	}
	return out
}

// Pascal: pressure and ratio go as one over the square of the bore, and lengths
// alone, all scaled alike, change no ratio.
func TestHydraulicProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := rapid.Float64Range(8, 30).Draw(t, "bore")
		k := rapid.Float64Range(0.5, 2).Draw(t, "k")
		force := rapid.Float64Range(1, 500).Draw(t, "force")
		c := caliper(t, "caliper")
		p1, err1 := LinePressure(force, 4, bore)
		p2, err2 := LinePressure(force, 4, bore*k)
		same(t, "pressure by 1/d2", ok(t, p2, err2)*k*k, ok(t, p1, err1))
		r1, err1 := HydraulicRatio(bore, c)
		r2, err2 := HydraulicRatio(bore*k, c)
		same(t, "ratio by 1/d2", ok(t, r2, err2)*k*k, ok(t, r1, err1))
		r3, err3 := HydraulicRatio(bore*k, c.scaled(k))
		same(t, "ratio of a scaled machine", ok(t, r3, err3), r1)
		both, err := HydraulicRatio(bore, c, c)
		same(t, "two calipers are twice one", ok(t, both, err), 2*r1)
		change, err := ChangeBore(bore, bore*k)
		same(t, "ChangeBore agrees with the ratio", ok(t, change, err).Force, (r2/r1-1)*100)
		stroke, err := PistonStroke(r1, 0.2)
		fluid, err2 := FluidDisplaced(0.2, c)
		same(t, "as much fluid out as in", ok(t, fluid, err2)*1000, ok(t, stroke, err)*circle(bore))
	})
}

// A part swapped for itself changes nothing.
func TestSwapForItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := rapid.Float64Range(8, 30).Draw(t, "bore")
		change, err := ChangeBore(bore, bore)
		same(t, "bore", ok(t, change, err).Force, 0)
		take := SpeedTake{Circumference: rapid.Float64Range(1000, 2500).Draw(t, "circumference"),
			Ratio: rapid.Float64Range(1, 4).Draw(t, "ratio"), RingTeeth: rapid.IntRange(1, 100).Draw(t, "teeth")}
		for name, factor := range map[string]func(a, b SpeedTake) (float64, error){
			"wheel": WheelFactor, "gearbox": GearboxFactor, "ring": RingFactor} {
			f, err := factor(take, take)
			same(t, name, ok(t, f, err), 1)
		}
		gearing, err := RatioChange(take.Ratio, take.Ratio)
		same(t, "ratio", ok(t, gearing, err), 0)
		s := Steering{Radius: 300, Rake: rapid.Float64Range(15, 40).Draw(t, "rake"), Offset: 30, Wheelbase: 1400}
		after, err := s.After(Change{})
		if ok(t, after, err) != s {
			t.Fatalf("steering %+v became %+v", s, after)
		}
		gap, err := FreeInnerGap(bore, bore, 0)
		same(t, "cable", ok(t, gap, err), 0)
	})
}

// Bigger in, bigger (or smaller) out, by the direction the trade knows.
func TestMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(10, 30).Draw(t, "low")
		high := low + rapid.Float64Range(0.1, 10).Draw(t, "more")
		rises := func(what string, f func(x float64) (float64, error)) {
			a, err1 := f(low)
			b, err2 := f(high)
			if ok(t, a, err1) >= ok(t, b, err2) {
				t.Fatalf("%s does not rise: %g at %g, %g at %g", what, a, low, b, high)
			}
		}
		falls := func(what string, f func(x float64) (float64, error)) {
			rises(what, func(x float64) (float64, error) { v, err := f(x); return -v, err })
		}
		falls("pressure with bore", func(x float64) (float64, error) { return LinePressure(100, 4, x) })
		falls("travel with bore", func(x float64) (float64, error) {
			return HydraulicRatio(x, Caliper{Opposed, []Piston{{4,
				30}}})
		})
		rises("slave travel with bore", func(x float64) (float64, error) { return SlaveTravel(10, x, 35) })
		rises("trail with rake", func(x float64) (float64, error) {
			return Steering{Radius: 300, Rake: x,
				Offset: 30}.Trail()
		})
		falls("trail with offset", func(x float64) (float64, error) {
			return Steering{Radius: 300, Rake: 24,
				Offset: x}.Trail()
		})
		rises("links with distance", func(x float64) (float64, error) { return ChainLinks(15, 45, 20*x, 15.875) })
		falls("revs with circumference", func(x float64) (float64, error) { return Revs(100, 5, 100*x) })
		rises("pull with radius", func(x float64) (float64, error) { return CablePull(x, 75) })
	})
}

// Lengths scaled alike: lengths scale, links and angles do not.
func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.3, 3).Draw(t, "k")
		z1, z2 := rapid.IntRange(11, 20).Draw(t, "front"), rapid.IntRange(30, 60).Draw(t, "rear")
		centre := rapid.Float64Range(450, 800).Draw(t, "centre")
		l1, err1 := ChainLinks(z1, z2, centre, 15.875)
		l2, err2 := ChainLinks(z1, z2, centre*k, 15.875*k)
		same(t, "links", ok(t, l2, err2), ok(t, l1, err1))
		even, err := EvenLinks(l1)
		if err != nil || even%2 != 0 || float64(even) < l1-1e-6 || float64(even) >= l1+2 {
			t.Fatalf("EvenLinks(%g) = %d", l1, even)
		}
		back, err := ChainCentre(z1, z2, even, 15.875)
		again, err2 := ChainLinks(z1, z2, ok(t, back, err), 15.875)
		same(t, "centre solves the formula", ok(t, again, err2), float64(even))
		s := Steering{Radius: 300, Rake: rapid.Float64Range(15, 40).Draw(t, "rake"), Offset: rapid.Float64Range(-20,
			60).Draw(t, "offset")}
		t1, err1 := s.Trail()
		s.Radius, s.Offset = s.Radius*k, s.Offset*k
		t2, err2 := s.Trail()
		same(t, "trail", ok(t, t2, err2), k*ok(t, t1, err1))
	})
}

// A check digit sees every single wrong digit: 11 is prime and no weight is a
// multiple of it (49 CFR 565 weights), but place 9 itself.
func TestVINSeesOneWrongDigit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.SampledFrom([]int{0, 7, 11, 12, 13, 14, 15, 16}).Draw(t, "place")
		text := []byte("1G4AH59H45G118341")
		digit := byte('0' + rapid.IntRange(0, 9).Draw(t, "digit"))
		was := ok2(t, string(text))
		text[place] = digit
		now := ok2(t, string(text))
		sameValue := now.Sum == was.Sum
		if now.CheckHolds != sameValue {
			t.Fatalf("%s: holds %v, but the sum went from %d to %d", text, now.CheckHolds, was.Sum, now.Sum)
		}
	})
}

func ok2(t *rapid.T, text string) VIN {
	v, err := ParseVIN(text)
	return ok(t, v, err)
}
