package trade

import (
	"cmp"
	"math"
)

// Steering is what decides trail. All angles are from the vertical.
type Steering struct {
	Radius    float64 // of the front tyre, mm
	Rake      float64 // of the steering head, degrees from the vertical
	Offset    float64 // steering axis to axle, square to the axis, mm; may be negative
	Wheelbase float64 // mm; only Change needs it
}

// Trail is how far the front tyre's contact lies behind the point where the
// steering axis meets the ground.
//
//	trail = (R sin e - o) / cos e
//
// In mm. Source: geometry. Holds upright, on level ground, for a tyre without
// width. Below zero is a trail to the front: not rideable. Refuses a radius not
// above zero, a rake outside 0 to 60 degrees, and an offset that is no number.
func (s Steering) Trail() (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	e := radians(s.Rake)
	return (s.Radius*math.Sin(e) - s.Offset) / math.Cos(e), nil
}

func (s Steering) check() error {
	return cmp.Or(positive("tyre radius", s.Radius, "mm"), between("rake", s.Rake, 0, 60, "deg"),
		between("offset", s.Offset, -1000, 1000, "mm"))
}

// Change is what is done to the ends of a machine.
type Change struct {
	ForkLength  float64 // longer positive, mm along the fork
	FrontRadius float64 // of the front tyre, bigger positive, mm
	RearRadius  float64 // of the rear tyre, bigger positive, mm
	RearHeight  float64 // of the rear by shock or link, higher positive, mm at the axle
	Offset      float64 // of the yokes, more positive, mm
}

// frontRise is how far the steering head comes up.
//
//	rise = fork length change x cos e + front tyre radius change
//
// In mm. Source: geometry. Refuses a rake outside 0 to 60 degrees and a change
// that is no number.
func frontRise(rake float64, c Change) (float64, error) {
	err := cmp.Or(between("rake", rake, 0, 60, "deg"), signed("fork length change", c.ForkLength, "mm"),
		signed("front radius change", c.FrontRadius, "mm"))
	if err != nil {
		return 0, err
	}
	return c.ForkLength*math.Cos(radians(rake)) + c.FrontRadius, nil
}

// rakeChange is how far the whole machine tips, in degrees: a higher front
// adds rake, a higher rear takes it away.
//
//	change = atan((front rise - rear rise) / wheelbase)
//
// Rises and wheelbase in mm. Source: geometry, common practice; the wheelbase
// is held constant. Refuses a wheelbase not above zero and a difference above
// a fifth of it, where that no longer holds.
func rakeChange(frontRise, rearRise, wheelbase float64) (float64, error) {
	err := cmp.Or(signed("front rise", frontRise, "mm"), signed("rear rise", rearRise, "mm"),
		positive("wheelbase", wheelbase, "mm"))
	if err != nil {
		return 0, err
	}
	tilt := frontRise - rearRise
	if err := between("front rise less rear rise", tilt, -wheelbase/5, wheelbase/5, "mm"); err != nil {
		return 0, err
	}
	return degrees(math.Atan(tilt / wheelbase)), nil
}

// After is the steering geometry once the change is made. With the zero Change
// it is the same.
//
// The rear rises by RearHeight and RearRadius, the front by frontRise, the rake
// by rakeChange; then offset and radius change as said. Refuses what those
// refuse and a result outside their ranges.
func (s Steering) After(c Change) (Steering, error) {
	rise, err := frontRise(s.Rake, c)
	if err = cmp.Or(err, s.check(), signed("rear radius change", c.RearRadius, "mm"),
		signed("rear height change", c.RearHeight, "mm"), signed("offset change", c.Offset, "mm")); err != nil {
		return Steering{}, err
	}
	tip, err := rakeChange(rise, c.RearHeight+c.RearRadius, s.Wheelbase)
	if err != nil {
		return Steering{}, err
	}
	after := Steering{Radius: s.Radius + c.FrontRadius, Rake: s.Rake + tip, Offset: s.Offset + c.Offset,
		Wheelbase: s.Wheelbase}
	if err := after.check(); err != nil {
		return Steering{}, err
	}
	return after, nil
}
