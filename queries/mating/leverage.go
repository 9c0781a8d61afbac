package mating

import (
	"fmt"
	"math"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// LeverageCase is one brake or clutch before and after a change: its master, and all
// pistons that master moves, each body apart.
type LeverageCase struct {
	Before, After Leverage
	Safety        graph.Safety
}

// Leverage is what multiplies the hand's or foot's force.
type Leverage struct {
	Master  Side   // kind master-bore
	Pistons []Side // kind pistons, one for each caliper
	Worked  Side   // kind lever-throw or pedal: what pushes the master; zero where nothing is known of it
}

// leverageMuch is how far the whole leverage may change, either way, before the
// brake must be called another one, as a share. Common practice, no source: the
// published notes call ratios 27 soft, 23 firm and under 20 wooden, which is 15
// to 17 % a step.
const leverageMuch = 0.17

// clutchMuch is that of a clutch, which stops nobody. Common practice, no source.
const clutchMuch = 0.20

// JudgeLeverage judges, in one check "brake leverage", how far a brake's leverage
// changes: much more and the wheel locks at a touch, much less and no hand stops
// the machine; neither is a bare fits. Source: Pascal's principle and levers;
// counting as trade.RatioConvention. A master made for other arms of a lever is left open. In "lever to grip" it
// judges how far the lever of the master stands from its grip, where either master says. Of a clutch it judges, in
// "clutch leverage", what the hand must pull and, in "slave travel", how far the push rod moves.
func JudgeLeverage(in LeverageCase) []Check {
	return judge(false, func(b *bench) {
		if in.isClutch(b) {
			in.clutch(b)
		} else {
			in.brake(b)
		}
		in.reach(b)
		in.inward(b)
	})
}

// inward asks about the room to the wheel of calipers that have pistons on both sides where one that slides was
// built in: half of them stand towards spokes and hub. Common practice, no source.
func (in LeverageCase) inward(b *bench) {
	if len(in.Before.Pistons) != len(in.After.Pistons) {
		return
	}
	aside := b.aside().check("caliper to wheel")
	for i, now := range in.After.Pistons {
		is, okIs := aside.peek(now, "layout", measure.Word)
		was, okWas := aside.peek(in.Before.Pistons[i], "layout", measure.Word)
		if okIs && okWas && is.Text == "opposed" && was.Text == "sliding" {
			c := b.check("caliper to wheel")
			c.peek(now, "layout", measure.Word)
			c.settle(lookAt(now, "layout", "room between the caliper's inner half and spokes or hub, the wheel turned once "+
				"round"))
			c.unknown("it has pistons on the wheel's side too, where one that slides was built in: nobody measured " +
				"the room to the wheel there")
		}
	}
}

// brake judges how far a brake's leverage changes.
func (in LeverageCase) brake(b *bench) {
	c := b.check("brake leverage")
	before, okBefore := in.Before.total(c)
	after, okAfter := in.After.total(c)
	if !okBefore || !okAfter {
		return
	}
	change := after/before - 1
	c.Had, c.Wanted = plain(math.Round(after*10)/10), plain(math.Round(before*10)/10)
	words := plain(math.Abs(math.Round(change*1000)/10)) + " %"
	switch {
	case math.Abs(change) <= leverageMuch+1e-9:
		c.fits("%s where it had %s, %s off", c.Had, c.Wanted, words)
	case change > 0:
		c.Gap = words
		c.settle(in.tried())
		c.unknown("%s more leverage than it had: it bites at a touch, the wheel may lock, and the lever moves further",
			words)
	default:
		c.Gap = words
		c.settle(in.tried())
		c.unknown("%s less leverage than it had: the same hand stops it that much less", words)
	}
	in.arms(c)
}

// arms holds the arms of the lever that the master is made for against those as built, where both are written; a lever
// that is there and has the new ones goes with it.
func (in LeverageCase) arms(c *check) {
	now, _ := c.peek(in.After.Master, "lever-ratio", measure.Ratio)
	was, _ := c.peek(in.Before.Master, "lever-ratio", measure.Ratio)
	if !otherArm(rodArm(now), rodArm(was)) {
		return
	}
	lever, _ := c.peek(in.After.Worked, "ratio", measure.Ratio)
	if arm := rodArm(lever); arm == 0 || otherArm(rodArm(now), arm) {
		arms(c, in.After.Master, "lever-ratio", rodArm(now), rodArm(was), now.String(), was.String())
	}
}

// reach judges how far the lever of the master stands from its grip, which only some say.
func (in LeverageCase) reach(b *bench) {
	if either(Meeting{A: in.After.Master, B: in.Before.Master}, "reach") {
		toGrip(b.check("lever to grip"), in.After.Master, in.Before.Master)
	}
}

func (in LeverageCase) tried() Ask {
	return Ask{Position: in.After.Master.Position, Part: in.After.Master.Part, Dim: "leverage",
		What:  "whether this master and these calipers are known to work together",
		Where: label(in.After.Master), Gauge: graph.ByEye, Accuracy: "a pairing that somebody rides"}
}

func (l Leverage) total(c *check) (float64, bool) {
	bore, ok := c.length(l.Master, "bore")
	lever, okLever := c.read(l.Master, "lever-ratio", measure.Ratio)
	ok = ok && okLever
	var calipers []trade.Caliper
	for _, p := range l.Pistons {
		sizes, okSizes := c.read(p, "sizes", measure.Sizes)
		word, okWord := c.word(p, "layout")
		layout, err := trade.ParseLayout(word)
		if ok = ok && okSizes && okWord && err == nil; !ok {
			continue
		}
		caliper := trade.Caliper{Layout: layout}
		for _, s := range sizes.Sizes {
			caliper.Pistons = append(caliper.Pistons, trade.Piston{Count: s.Count, Diameter: s.Diameter})
		}
		calipers = append(calipers, caliper)
	}
	if !ok {
		return 0, false
	}
	ratio, err := trade.HydraulicRatio(bore.nominal, calipers...)
	if err != nil {
		c.cantTell("the leverage", err)
		return 0, false
	}
	total, err := trade.TotalLeverage(ratio, lever.Quantity.Nominal)
	return total, err == nil
}

// isClutch reports whether the master moves a slave cylinder, as built or now.
func (in LeverageCase) isClutch(b *bench) bool {
	probe := b.aside().check("clutch leverage")
	for _, s := range append(append([]Side{}, in.Before.Pistons...), in.After.Pistons...) {
		if layout, ok := probe.peek(s, "layout", measure.Word); ok && layout.Text == "slave" {
			return true
		}
	}
	return false
}

// travelLess is how much less the push rod may move, as a share, before the clutch may
// drag: what its adjustment and the first play of any clutch take up. Common practice, no source.
const travelLess = 0.10

// clutch judges a hydraulic clutch: a lighter lever is none the worse by itself, for
// what it costs is the travel.
func (in LeverageCase) clutch(b *bench) {
	c := b.check("clutch leverage")
	before, okBefore := in.Before.total(c)
	after, okAfter := in.After.total(c)
	if okBefore && okAfter {
		change := after/before - 1
		c.Had, c.Wanted = plain(math.Round(after*10)/10), plain(math.Round(before*10)/10)
		words := plain(math.Abs(math.Round(change*1000)/10)) + " %"
		if change < -clutchMuch-1e-9 {
			c.Gap = words
			ask := in.tried()
			ask.What = "whether this master and this slave are known to work together"
			c.settle(ask)
			c.unknown("%s less leverage than it had: the hand must pull that much harder", words)
		} else {
			c.fits("%s where it had %s, %s off", c.Had, c.Wanted, words)
		}
		in.arms(c)
	}
	in.slaveTravel(b)
}

// slaveTravel judges how far the push rod moves against how far it did: the way of the master's piston times its
// area over that of the slave, by which the same fluid goes in and out. Leverage gained is travel lost: that way is
// what the lever gives it, and no more than its own stroke. Sources: Pascal's principle, levers and the volume of a
// cylinder.
func (in LeverageCase) slaveTravel(b *bench) {
	c := b.check("slave travel")
	push, okPush := in.pushed(c, in.After)
	was, okWas := in.pushed(c, in.Before)
	after, okAfter := in.After.travel(c, push.way)
	before, okBefore := in.Before.travel(c, was.way)
	if !okAfter || !okBefore || !okPush || !okWas {
		return
	}
	moves := func(v float64) string { return mm(math.Round(v*100) / 100) }
	c.sizes(moves(after), "at least "+moves(before), "")
	ask := Ask{Position: in.After.Master.Position, Part: in.After.Master.Part, Dim: "travel",
		What: "how far the push rod moves from rest to released", Where: label(in.After.Master), Gauge: "vernier caliper",
		Accuracy: "0.1 mm"}
	room, okRoom := span{}, false
	if len(in.After.Pistons) > 0 {
		room, okRoom = c.peekLength(in.After.Pistons[0], "stroke")
	}
	switch change := after/before - 1; {
	case !okRoom && in.otherSlave():
		c.ask(askFor(in.After.Pistons[0], "stroke"))
	case okRoom && after > room.nominal+eps:
		c.Gap = moves(after - room.nominal)
		c.no("the master pushes the slave %s, which bottoms after %s", moves(after), mm(room.nominal))
	case change < -travelLess:
		c.Gap = moves(before - after)
		c.settle(ask)
		if lever := in.After.Worked; !lever.IsZero() && push.short && len(lever.Feature.Dims["travel"]) == 0 {
			c.settle(askFor(lever, "travel"))
		}
		c.unknown("%sthe push rod moves %s where it moved %s: the clutch may drag", push.words(), moves(after), moves(before))
	case change > clutchMuch+1e-9:
		c.Gap = moves(after - before)
		c.settle(ask)
		c.unknown("the push rod moves %s where it moved %s: the springs may bind before the lever is home", moves(after),
			moves(before))
	default:
		c.fits("the push rod moves %s where it moved %s", moves(after), moves(before))
	}
}

// otherSlave reports whether another slave is put on, of which nothing says where it
// bottoms, than one of which that was known, or which differs in bore.
func (in LeverageCase) otherSlave() bool {
	if len(in.After.Pistons) == 0 || len(in.Before.Pistons) == 0 {
		return false
	}
	now, was := in.After.Pistons[0], in.Before.Pistons[0]
	sizes := func(s Side) string {
		if r := s.Feature.Dims["sizes"]; len(r) > 0 {
			return r[0].Text
		}
		return ""
	}
	return !now.isSame(was) && (len(was.Feature.Dims["stroke"]) > 0 || sizes(now) != sizes(was))
}

// push is how far a master's piston goes.
type push struct {
	way, stroke float64 // in mm
	short       bool    // the lever is home before the piston is
}

func (p push) words() string {
	if !p.short {
		return ""
	}
	return fmt.Sprintf("pulled all the way, the lever pushes the piston only %s of its %s: ", mm(math.Round(p.way*10)/10),
		mm(p.stroke))
}

// pushed is how far the lever of a master pushes its piston, the way at the fingers over the leverage. A way that
// nobody measured is the least by which the piston went all of its stroke as built; a leverage that is not known ends
// nothing before the stroke does. Of two records of one leverage the greater counts, which moves less. Source: levers.
func (in LeverageCase) pushed(c *check, l Leverage) (push, bool) {
	stroke, ok := c.length(l.Master, "stroke")
	p := push{way: stroke.nominal, stroke: stroke.nominal}
	ratio, ratioWas := l.ratio(c), in.Before.ratio(c)
	if !ok || ratio == 0 || ratioWas == 0 {
		return p, ok
	}
	fingers, okFingers := c.peekLength(l.Worked, "travel")
	if !okFingers {
		fingers, okFingers = c.peekLength(in.Before.Worked, "travel")
	}
	if !okFingers {
		built, okBuilt := c.length(in.Before.Master, "stroke")
		if !okBuilt {
			return p, false
		}
		fingers = built.times(ratioWas)
	}
	if gives := fingers.nominal / ratio; gives < p.way-eps {
		p.way, p.short = gives, true
	}
	return p, true
}

// ratio is the leverage by which a master is pushed, the greater where lever and master both say; 0 where neither does.
func (l Leverage) ratio(c *check) float64 {
	own, _ := c.peek(l.Master, "lever-ratio", measure.Ratio)
	lever, _ := c.peek(l.Worked, "ratio", measure.Ratio)
	return max(own.Quantity.Nominal, lever.Quantity.Nominal)
}

// travel is how far a slave moves when the piston of its master is pushed so far, in mm.
func (l Leverage) travel(c *check, pushed float64) (float64, bool) {
	bore, ok := c.length(l.Master, "bore")
	if len(l.Pistons) == 0 {
		return 0, false
	}
	squares := 0.0 // of the diameters of all pistons: as one of that area they move
	for _, p := range l.Pistons {
		sizes, okSizes := c.read(p, "sizes", measure.Sizes)
		ok = ok && okSizes
		for _, s := range sizes.Sizes {
			squares += float64(s.Count) * s.Diameter * s.Diameter
		}
	}
	if !ok || pushed <= 0 {
		return 0, false
	}
	travel, err := trade.SlaveTravel(pushed, bore.nominal, math.Sqrt(squares))
	return travel, err == nil
}
