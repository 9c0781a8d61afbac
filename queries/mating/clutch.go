package mating

import (
	"fmt"

	"matewell/graph"
)

// What plates may be off what they run in, in mm. Common practice, no source.
const (
	tabPlayLeast, tabPlayMost = 0.1, 0.6 // tab in its slot
	plateFree, plateLoose     = 0.2, 3.0 // over the tabs, in all
	toothFree, toothLoose     = 0.1, 1.5 // steel plate over the hub, in all
)

// frictionInBasket judges a friction plate in the slots it runs in.
func frictionInBasket(b *bench, m Meeting) {
	c := b.check("plate in basket")
	tabs, okTabs := c.count(m.A, "tabs")
	slots, okSlots := c.count(m.B, "slots")
	switch {
	case !okTabs || !okSlots:
	case tabs > 0 && slots%tabs == 0:
		c.fits("%d tabs in %d slots", tabs, slots)
	default:
		c.sizes(fmt.Sprintf("%d tabs", tabs), fmt.Sprintf("%d slots", slots), "")
		c.no("%d tabs do not go into %d slots", tabs, slots)
	}
	inOver{"tab-width", "slot-width", tabPlayLeast, tabPlayMost, "the tabs slide", "the tabs do not slide in the slots",
		"the tabs hammer in the slots"}.judge(c, m)
	inOver{"outside", "diameter", plateFree, plateLoose, "it goes into the basket", "it is too big for the basket",
		"it is too small for the basket"}.judge(c, m)
	alike(c, m, "bath", "runs", "a plate for oil slips and burns dry, a dry one comes apart in oil")
}

// steelOnHub judges a steel plate on the teeth it runs on.
func steelOnHub(b *bench, m Meeting) {
	c := b.check("plate on hub")
	counts(c, m, "teeth", "teeth", "teeth", "it does not go on the hub")
	inside, okInside := c.length(m.A, "inside")
	root, okRoot := c.length(m.B, "root")
	if !okInside || !okRoot {
		return
	}
	switch room := inside.minus(root); room.against(toothFree, toothLoose) {
	case below:
		gap(c, inside, root)
		c.no("the plate of %s inside does not go over roots of %s", mm(inside.nominal), mm(root.nominal))
	case above:
		gap(c, inside, root)
		c.no("the plate of %s inside hangs loose on roots of %s", mm(inside.nominal), mm(root.nominal))
	case astride:
		askTwo(c, m, "inside", "root")
		c.unknown("at the limits of their tolerances the plate may bind or hang loose")
	default:
		c.fits("%s inside on roots of %s", mm(inside.nominal), mm(root.nominal))
	}
}

// PackCase is the plates of a clutch as they lie on the hub.
type PackCase struct {
	Hub Side // kind clutch-hub: pack
	// Plates are in order from the inside outward, each as often as it is
	// there: kinds friction-plate and steel-plate.
	Plates []Side
	// Springs press the pack, one each, kind spring; empty when nobody said.
	Springs []Side
	Safety  graph.Safety
}

// JudgePack judges a whole clutch pack: "clutch pack", whether friction and
// steel plates take turns and add up to the thickness the hub is made for, and
// "clutch springs", whether all press alike. Whether a plate goes into the basket
// or on the hub is a Meeting for Judge. Source: the hub's own book for the
// thickness; that plates take turns and springs are alike is common practice.
func JudgePack(in PackCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("clutch pack")
		in.turns(c)
		var sum span
		all := len(in.Plates) > 0
		for _, plate := range in.Plates {
			t, ok := c.length(plate, "thickness")
			sum, all = sum.plus(t), all && ok
		}
		pack, ok := c.length(in.Hub, "pack")
		if all && ok {
			packSum(c, in.Hub, sum, pack)
		}
		in.springs(b)
	})
}

// turns judges whether every steel plate has a friction plate on each side.
func (in PackCase) turns(c *check) {
	if len(in.Plates) == 0 {
		c.settle(lookAt(in.Hub, "plates", "which plates lie in which order"))
		c.unknown("nobody said which plates lie on the hub")
	}
	for i := 1; i < len(in.Plates); i++ {
		if in.Plates[i].Feature.Kind == in.Plates[i-1].Feature.Kind {
			c.no("plates %d and %d are both %ss: they must take turns", i, i+1, in.Plates[i].Feature.Kind)
			return
		}
	}
}

func packSum(c *check, hub Side, sum, pack span) {
	c.sizes(mm(sum.nominal), mmRange(pack.low, pack.high), "")
	switch within(sum, pack, 0) {
	case inside:
		c.fits("%s of plates, %s wanted", mm(sum.nominal), mmRange(pack.low, pack.high))
	case astride:
		c.settle(askOf(hub, "pack", "thickness of the whole pack, pressed together", "vernier caliper", "0.1 mm"))
		c.unknown("%s of plates, %s wanted: at the limits of their tolerances it may be outside", mmRange(sum.low,
			sum.high), mmRange(pack.low, pack.high))
	case below:
		c.Gap = mm(pack.low - sum.nominal)
		c.no("the pack is %s too thin: the springs press too little and it slips", c.Gap)
	default:
		c.Gap = mm(sum.nominal - pack.high)
		c.no("the pack is %s too thick: it does not release", c.Gap)
	}
}

// springs judges that all clutch springs are alike.
func (in PackCase) springs(b *bench) {
	if len(in.Springs) == 0 {
		return
	}
	c := b.check("clutch springs")
	for _, s := range in.Springs[1:] {
		for _, d := range pairDims() {
			if d.kind == "spring" {
				d.judge(c, Meeting{A: in.Springs[0], B: s})
			}
		}
	}
	if len(in.Springs) == 1 {
		c.settle(lookAt(in.Hub, "springs", "how many springs press the pack"))
		c.unknown("one spring is known, and nobody said of the others")
	}
}
