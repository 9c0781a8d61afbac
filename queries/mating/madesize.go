package mating

import (
	"fmt"
	"math"
	"strconv"

	"matewell/graph/measure"
	"matewell/queries/trade"
)

// What is turned runs on its shaft with the clearance of F8, sits on what a clamp
// grips with that of H8, and goes into its bore with that of g6. Which class is common practice, no source; its values
// are
// those of ISO 286.
const (
	runsOn = "F8"
	sitsOn = "H8"
	goesIn = "g6"
)

// boreOver prints the limits of a bore turned for a shaft as measured, in mm;
// least is the clearance wanted at least. Nothing outside the sizes of the table.
func boreOver(class string, shaft, least float64) []Field {
	l, err := trade.FitLimits(class, shaft)
	if err != nil {
		return nil
	}
	low := math.Max(least, l.Lower/1000)
	by := class
	if low > l.Lower/1000 {
		by = "tolerance of " + class + ", clearance as the joint wants"
	}
	return []Field{{"bore, by ISO 286", limitText(shaft+low, shaft+low+(l.Upper-l.Lower)/1000, by, "shaft")}}
}

// outsideFor prints the limits of what goes into a bore as measured.
func outsideFor(bore float64) []Field {
	l, err := trade.FitLimits(goesIn, bore)
	if err != nil {
		return nil
	}
	return []Field{{"outside, by ISO 286", limitText(bore+l.Lower/1000, bore+l.Upper/1000, goesIn, "bore")}}
}

func limitText(low, high float64, class, on string) string {
	return fmt.Sprintf("%.3f-%.3f mm (%s to the %s as measured: measure it to 0.01 mm first)", low, high, class, on)
}

// bushFields is the order of a bush or ring that sits in one bore and takes what
// does not turn in it: both sizes with their limits, and what a shop must know else.
func bushFields(inside, outside float64) []Field {
	spec := []Field{{"inside", mm(inside)}, {"outside", mm(outside)}}
	spec = append(append(spec, boreOver(sitsOn, inside, 0)...), outsideFor(outside)...)
	return append(spec, sleeveFields(inside, outside)...)
}

// What else a shop must know of what it makes from bar or plate, where no rule works it out.
// Common practice, no source; what a seal runs on by ISO 6194-1, from memory.
var (
	clampedMetal = []Field{{"material", "steel, or aluminium of a known grade: it is clamped and must not yield"},
		{"finish", "edges broken, no paint on the faces"}}
	rowMetal = []Field{{"material", "steel, or aluminium of a known grade: the axle clamps it"},
		{"finish", "turned fine, edges broken; where a seal runs, smooth and without any lead from the tool"}}
	tubeMetal = []Field{{"material", "steel: the axle clamps it, and it must not shorten"},
		{"finish", "turned fine, edges broken"}}
)

// bushes orders bushes for the holes of a side, one each, that are so narrow inside.
func bushes(c *check, s Side, dim string, inside, outside float64, length Field) *Order {
	spec := append(bushFields(inside, outside), length)
	pieces := 1
	if n, ok := c.peek(s, "count", measure.Count); ok {
		pieces = max(1, int(n.Quantity.Nominal))
	} else if s.Feature.Kind == "caliper-mount" {
		pieces = 2
	}
	o := c.order("bush", "bush "+mm(inside)+" inside, "+mm(outside)+" outside",
		append([]Field{{"count", strconv.Itoa(pieces)}}, spec...)...)
	o.Pieces = pieces
	makes(o, s, dim, mm(inside))
	return o
}

// sleeveFields is what else a shop must know of a sleeve: its wall, material and
// finish.
func sleeveFields(inside, outside float64) []Field {
	wall := mm((outside - inside) / 2)
	if enough, err := trade.SleeveWall(inside); err == nil && (outside-inside)/2 < enough-eps {
		wall += ", thinner than bushes of that bore are made (" + mm(enough) + " by ISO 3547, from memory): the turner " +
			"must say"
	}
	return []Field{{"wall", wall}, {"material", "the turner says which, to suit the load and the metal beside it"},
		{"finish", "turned fine, ends square, edges broken"}}
}
