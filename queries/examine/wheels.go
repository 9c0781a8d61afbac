package examine

import (
	"cmp"
	"fmt"
	"math"

	"matewell/graph"
	"matewell/queries/machine"
	"matewell/queries/trade"
)

// rolling is one wheel on the road.
type rolling struct {
	g         *gauge
	around    float64 // circumference of the tyre, mm
	err       error
	ringTeeth float64
	hasRing   bool
	ratio     float64 // final ratio, when the speed is taken at the gearbox
	okRatio   bool
}

func readRolling(x *Examiner, s *machine.Setup, end string, l *machine.Landmarks) rolling {
	in := rolling{g: &gauge{s: s}, err: errMissing}
	if id := l.Tyre[end]; id != "" {
		in.around, in.err = circumference(in.g, id)
	}
	if id := l.Ring[end]; id != "" {
		ring := in.g.feature(id, "sensor-ring")
		in.ringTeeth, in.hasRing = in.g.number(ring, "teeth")
	}
	for _, d := range drives(x, s) {
		g := readGearing(x, s, d, l)
		ratio, err := g.ratio()
		in.ratio, in.okRatio = ratio, err == nil
	}
	return in
}

func (in rolling) diameter() (float64, error) { return in.around / math.Pi, in.err }

func (in rolling) circumference() (float64, error) { return in.around, in.err }

func (in rolling) pulses() (float64, error) {
	if in.err != nil || !in.hasRing {
		return 0, errMissing
	}
	return trade.PulsesPerMetre(int(in.ringTeeth), in.around)
}

// speedometer compares what it shows at a true 100 km/h, as if it had been
// exact as built.
func speedometer(x *Examiner, end string, st states[rolling], l *machine.Landmarks) []Number {
	taken := speedTaken(st.after.g, l)
	if taken != end+" wheel" && !(end == "rear" && taken == "gearbox") {
		return nil
	}
	stock := st.stock
	st.safety = speedClass
	return st.number(formula[rolling]{name: fmt.Sprintf("speedometer at a true %g km/h", compareSpeed), unit: "km/h",
		decimals: 1,
		law:      "true speed x what drives it now / what drove it as built",
		source:   trade.SpeedometerRule + "; as if it had been exact as built, speed taken at the " + taken,
		work:     func(in rolling) (float64, error) { return shownSpeed(stock, in, taken) },
		gauge:    func(in rolling) *gauge { return in.g },
		judge: func(_ rolling, shown float64) (graph.Verdict, string) {
			fault, err := trade.SpeedometerFault(shown, compareSpeed)
			low, high, errBand := trade.SpeedometerBand(compareSpeed)
			switch {
			case cmp.Or(err, errBand) != nil:
				return graph.Unknown, "can't be held against UN R39"
			case fault == "":
				return graph.Fits, fmt.Sprintf("UN R39 allows %g to %g km/h", low, high)
			}
			return graph.Unknown, fault + ", unless it was off the other way before: check it against a known speed"
		}})
}

// shownSpeed is what the speedometer shows at the speed compared. A ring that
// was read as built and that nobody described on the new part leaves it unknown:
// the teeth may be as many or not.
func shownSpeed(stock, now rolling, taken string) (float64, error) {
	before := trade.SpeedTake{Circumference: stock.around, Ratio: stock.ratio, RingTeeth: int(stock.ringTeeth)}
	after := trade.SpeedTake{Circumference: now.around, Ratio: now.ratio, RingTeeth: int(now.ringTeeth)}
	if err := cmp.Or(now.err, stock.err); err != nil {
		return 0, err
	}
	factor, err := trade.WheelFactor(before, after)
	switch {
	case taken == "gearbox" && stock.okRatio && now.okRatio:
		factor, err = trade.GearboxFactor(before, after)
	case taken != "gearbox" && stock.hasRing && now.hasRing:
		factor, err = trade.RingFactor(before, after)
	case taken != "gearbox" && stock.hasRing:
		err = errMissing
	}
	return factor * compareSpeed, err
}
