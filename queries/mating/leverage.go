package mating

import (
	"math"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/trade"
)

// LeverageCase is one brake before and after a change: its master, and all
// pistons that master moves, each body apart.
type LeverageCase struct {
	Before, After Leverage
	Safety        graph.Safety
}

// Leverage is what multiplies the hand's or foot's force.
type Leverage struct {
	Master  Side   // kind master-bore
	Pistons []Side // kind pistons, one for each caliper
}

// leverageMuch is how far the whole leverage may change, either way, before the
// brake must be called another one, as a share. Common practice, no source: the
// published notes call ratios 27 soft, 23 firm and under 20 wooden, which is 15
// to 17 % a step.
const leverageMuch = 0.20

// JudgeLeverage judges, in one check "brake leverage", how far a brake's leverage
// changes: much more and the wheel locks at a touch, much less and no hand stops
// the machine; neither is a bare fits. Source: Pascal's principle and levers;
// counting as trade.RatioConvention.
func JudgeLeverage(in LeverageCase) []Check {
	return judge(false, func(b *bench) {
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
	})
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
		c.unknown("%s", err)
		return 0, false
	}
	total, err := trade.TotalLeverage(ratio, lever.Quantity.Nominal)
	return total, err == nil
}
