package examine

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/trade"
)

// compareSpeed is the road speed, in km/h, at which revs and speedometers are
// compared. A round figure of ours.
const compareSpeed = 100.0

// gearing is what turns the rear wheel.
type gearing struct {
	g                         *gauge
	front, rear, links        int
	pitch, primary, around    float64 // around is the rear tyre's circumference
	okTeeth, okLinks, okPitch bool
	okPrimary, okTyre         bool
	tyreErr                   error
}

func readGearing(x *Examiner, s *machine.Setup, d drive, l *machine.Landmarks) gearing {
	in := gearing{g: &gauge{s: s}}
	front, okFront := in.g.number(s.Side(d.sprockets[0]), "teeth")
	rear, okRear := in.g.number(s.Side(d.sprockets[1]), "teeth")
	in.front, in.rear, in.okTeeth = int(front), int(rear), okFront && okRear
	chain, counted := s.Side(d.chain), "links"
	if chain.Feature.Kind == "belt" {
		counted = "teeth"
	}
	links, okLinks := in.g.number(chain, counted)
	in.links, in.okLinks = int(links), okLinks
	in.pitch, in.okPitch = in.g.number(chain, "pitch")
	if l.Engine != "" {
		in.primary, in.okPrimary = in.g.number(in.g.feature(l.Engine, "primary-gearing"), "ratio")
	}
	if id := l.Tyre["rear"]; id != "" {
		in.around, in.tyreErr = circumference(in.g, id)
		in.okTyre = in.tyreErr == nil
	}
	return in
}

// circumference is that of the tyre at a position, in mm: by its size, else, where that
// tells no height, by the radius that somebody measured.
func circumference(g *gauge, id graph.PositionID) (float64, error) {
	tyre := g.feature(id, "tyre")
	text, ok := g.value(tyre, "size")
	if !ok {
		return 0, errMissing
	}
	around := 0.0
	t, err := trade.ParseTyre(text.Text)
	if err == nil {
		around, err = t.Circumference()
	}
	if err != nil {
		if radius, ok := g.peek(tyre, "radius"); ok {
			return 2 * math.Pi * radius.Quantity.Nominal, nil
		}
		return around, err
	}
	return around * asMeasured(g, tyre, g.s.AsBuilt().KindAt(id, "tyre")), nil
}

// asMeasured is how much larger a tyre is than the one built in of the same size, where
// somebody measured the radius of both: two makes of one size are not one diameter.
func asMeasured(g *gauge, tyre, built mating.Side) float64 {
	size, okSize := g.peek(tyre, "size")
	was, okWas := g.peek(built, "size")
	radius, okRadius := g.peek(tyre, "radius")
	other, okOther := g.peek(built, "radius")
	if !okSize || !okWas || !okRadius || !okOther ||
		!strings.EqualFold(size.Text, was.Text) || other.Quantity.Nominal <= 0 {
		return 1
	}
	return radius.Quantity.Nominal / other.Quantity.Nominal
}

func (in gearing) ratio() (float64, error) {
	if !in.okTeeth {
		return 0, errMissing
	}
	return trade.SprocketRatio(in.front, in.rear)
}

func (in gearing) revs() (float64, error) {
	ratio, err := in.ratio()
	if err != nil || !in.okPrimary || !in.okTyre {
		return 0, cmp.Or(err, in.tyreErr, errMissing)
	}
	return trade.Revs(compareSpeed, in.primary*ratio, in.around)
}

func (in gearing) centre() (float64, error) {
	if !in.okTeeth || !in.okLinks || !in.okPitch {
		return 0, errMissing
	}
	return trade.ChainCentre(in.front, in.rear, in.links, in.pitch)
}

func gearWords(before, after gearing) string {
	b, errB := before.ratio()
	a, errA := after.ratio()
	if errB != nil || errA != nil {
		return ""
	}
	change, err := trade.RatioChange(b, a)
	switch {
	case err != nil || change == 0:
		return ""
	case change > 0:
		return fmt.Sprintf("shorter gearing: %.1f %% more revs at the same speed", change)
	}
	return fmt.Sprintf("longer gearing: %.1f %% fewer revs at the same speed", -change)
}

// axleWords says where the axle goes.
func axleWords(before, after gearing) string {
	was, errWas := before.centre()
	is, errIs := after.centre()
	if errWas != nil || errIs != nil {
		return ""
	}
	return fmt.Sprintf("the axle goes %s %s", measure.Format(roundTo(math.Abs(is-was), 1), measure.Length),
		backOrForward(is-was))
}

// linkWords says that of a chain, and how many links keep the axle where it was.
func linkWords(before, after gearing) string {
	words := axleWords(before, after)
	was, err := before.centre()
	if err != nil || words == "" {
		return ""
	}
	links, err := trade.ChainLinks(after.front, after.rear, was, after.pitch)
	if err != nil {
		return words
	}
	if even, err := trade.EvenLinks(links); err == nil && even != after.links {
		words += fmt.Sprintf("; %.1f links by the old axle position: %d", links, even)
	}
	return words
}

func backOrForward(shift float64) string {
	if shift < 0 {
		return "forward"
	}
	return "back"
}

// speedTaken is where the machine takes its road speed: "front wheel",
// "gearbox", "rear wheel"; empty when nobody said, and then it is asked for.
func speedTaken(g *gauge, l *machine.Landmarks) string {
	if l.Engine == "" {
		return ""
	}
	where, _ := g.word(g.feature(l.Engine, "primary-gearing"), "speed-sensed")
	return where
}
