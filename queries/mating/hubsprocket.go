package mating

import (
	"math"

	"matewell/graph"
)

// HubSprocketCase is a rear sprocket bolted straight to a hub that sits in a row:
// a spoked wheel, or one without a carrier of its own.
type HubSprocketCase struct {
	Stack  StackCase // the row the wheel sits in
	Member int       // place of the hub in the row, counted from 1
	Left   bool      // the sprocket sits left of the wheel
	Mount  Side      // of the hub, kind bolt-pattern: inset
	Hub    HubEnds   // the end faces of the hub, from which inset counts
	Under  []Side    // rings and spacers between hub and sprocket, kind plate: thickness
	Rear   Side      // the rear sprocket, kind sprocket: line
	// Middle is how far the middle of the row's gap lies from the middle of the
	// machine, mm, left positive.
	Middle float64
	Front  Side // the front sprocket, kind sprocket: line
	Plane  Side // where the front one mounts, kind sprocket-plane
	Safety graph.Safety
}

// JudgeHubSprocket judges, in one check "chain line", whether a sprocket bolted to
// the hub runs in line with the front one:
//
//	rear = middle of the gap + place of the hub's end face - inset + rings + line
//
// counted left positive, with the row as it will stand once its spacers are made;
// on the right the hub's own terms count the other way. Source: geometry; the limit
// is common practice, no source.
func JudgeHubSprocket(in HubSprocketCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("chain line")
		made := rowAsMade(b, in.Stack)
		face, okFace := in.face(c, made)
		inset, okInset := c.length(in.Mount, "inset")
		line, okLine := c.length(in.Rear, "line")
		front, okFront := sprocketLine(c, in.Plane, in.Front, 0)
		out := line.minus(inset)
		for _, ring := range in.Under {
			thick, ok := c.length(ring, "thickness")
			out, okLine = out.plus(thick), okLine && ok
		}
		if made.hopeless {
			c.unknown("the row beside it does not fill its gap and spacers can't make it: settle that first")
			return
		}
		if !okFace || !okInset || !okLine || !okFront {
			return
		}
		if !in.Left {
			out = out.times(-1)
		}
		in.judge(c, face.plus(out).plus(exact(in.Middle)), front)
	})
}

// face is where the hub's end face on the sprocket's side stands from the middle
// of the gap, left positive.
func (in HubSprocketCase) face(c *check, made *row) (span, bool) {
	gap, ok := c.length(in.Stack.Within, "width")
	last := in.Member - 1 // of what stands left of that face, the place after it
	if !in.Left {
		last = in.Member
	}
	left := span{}
	for i, m := range in.Stack.Row { // all of them: the spacers are made by them
		w, okWidth := in.Stack.wide(c, m)
		if ok = ok && okWidth; i < last {
			left = left.plus(w)
		}
	}
	if made.made && in.Member == in.Stack.Centre {
		left = left.plus(exact(shift(made, true)))
	}
	out := in.Hub.beyond(c, in.Stack.widthOf(c, in.Member), in.Left)
	if !in.Left {
		out = out.times(-1)
	}
	return gap.times(0.5).minus(left).plus(out), ok
}

func (in HubSprocketCase) judge(c *check, rear, front span) {
	diff := rear.minus(front)
	c.Had, c.Wanted, c.Gap = "rear "+leftOrRight(rear.nominal), "front "+leftOrRight(front.nominal),
		mm(math.Abs(diff.nominal))
	switch where := diff.against(-lineOff, lineOff); {
	case where == inside || same(diff.nominal, 0):
		c.Gap = ""
		c.fits("the sprockets run in line, %s apart", mm(math.Abs(diff.nominal)))
	case math.Abs(diff.nominal) <= lineOff:
		c.settle(askFor(in.Mount, "inset"), askFor(in.Rear, "line"))
		c.unknown("in line by nominal sizes, but not at the limits of the tolerances: measure the chain line")
	case (diff.nominal < 0) == in.Left && pastPacking(c, in.Mount, math.Abs(diff.nominal), mostPacking,
		"the rear sprocket runs "+c.Gap+" too far in"):
	case (diff.nominal < 0) == in.Left:
		c.change(graph.EffortDrillShim,
			"put a "+tenth(math.Abs(diff.nominal))+" ring behind the rear sprocket, with bolts as much longer",
			"the rear sprocket runs %s too far in", c.Gap)
		o := c.order("ring", "sprocket ring "+tenth(math.Abs(diff.nominal))+" thick", append([]Field{{"thickness",
			tenth(math.Abs(diff.nominal))},
			{"to suit", packingWords(c, in.Mount)}}, append(ringFields(c, in.Mount), clampedMetal...)...)...)
		o.Thicker, o.Under = math.Abs(diff.nominal), in.Rear.Position
	default:
		c.no("the rear sprocket runs %s too far out; %s", c.Gap,
			unturnedWords("the hub's sprocket face"))
	}
}
