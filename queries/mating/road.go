package mating

import (
	"slices"
	"strings"

	"matewell/graph"
)

// RoadState is what is known of one thing that the road asks for.
type RoadState int

// The states. The zero value is that nobody knows, so that a forgotten one is
// never taken to work.
const (
	RoadUnknown RoadState = iota
	RoadWorks             // it is there and all of it fits; whether it lights or sounds is to be tried
	RoadAbsent            // nothing sits there
	RoadDead              // it is there and does not work, or does not fit
)

// RoadDuty is one thing that a machine needs on the road.
type RoadDuty struct {
	// Name is one of graph.RoadDuties, or a further one that local rules ask for.
	Name  string
	At    Side // the part that does it; zero when nobody said where it sits
	State RoadState
	Why   string // why it does not work: "bulb blown", "kicks up to the right"; may be empty
}

// RoadCase is the whole machine as it would go on the road.
type RoadCase struct {
	// Duties are those known; one of graph.RoadDuties that is not among them counts
	// as unknown, but for those in Not.
	Duties []RoadDuty
	// Not are duties that this machine was built without and its papers do not
	// ask for: indicators on an old one.
	Not []string
}

// JudgeRoad judges, in one check "fit for the road", lamps, beam and horn: a lamp
// that is out, a beam to the wrong side or no horn makes a machine not fit for
// the road, however well each part fits its place. Local rules decide, and the
// answer says so. Source: inspection manuals for that each must work; UK manual
// for the side of the beam.
func JudgeRoad(in RoadCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("fit for the road")
		known := map[string]bool{}
		for _, duty := range in.Duties {
			known[strings.ToLower(duty.Name)] = true
			duty.judge(c)
		}
		for _, name := range graph.RoadDuties() {
			if !known[name] && !slices.Contains(in.Not, name) {
				RoadDuty{Name: name}.judge(c)
			}
		}
		if Worst([]Check{c.closed()}) == graph.Fits {
			c.fits("local rules decide")
		}
	})
}

func (d RoadDuty) judge(c *check) {
	why := ""
	if d.Why != "" {
		why = ": " + d.Why
	}
	switch d.State {
	case RoadWorks:
		c.fits("%s is there, and fits", d.Name)
	case RoadAbsent:
		c.no("no %s%s", d.Name, why)
	case RoadDead:
		words := d.Name + " does not work"
		if d.Name == "beam side" {
			words = "the beam is for the other side"
		}
		c.no("%s%s", words, why)
	default:
		ask := lookAt(d.At, d.Name, "whether the "+d.Name+" is there and works")
		if d.At.IsZero() {
			ask.Where = "the machine"
		}
		c.settle(ask)
		c.unknown("%s not known%s", d.Name, why)
	}
}
