package mating

import (
	"math"

	"matewell/graph/measure"
)

// leastArm is the least that can be an arm, in mm, in a ratio written with both: nearer to its pivot no lever pushes,
// and 5:1 or 9/2 tells of no arms. Common practice, no source.
const leastArm = 8.0

// armRead is how far two readings of one arm may lie apart whatever its length, in mm: each is read to 0.5 mm.
const armRead = 1.0

// rodArm is how far from its pivot a lever pushes, where its ratio is written with both arms; 0 where it is not.
func rodArm(ratio measure.Value) float64 {
	if arm, ok := ratio.Quantity.Under(); ok && arm >= leastArm {
		return arm
	}
	return 0
}

// otherArm reports whether two arms differ beyond what reading them leaves; never where one is not known.
func otherArm(now, was float64) bool {
	return now > 0 && was > 0 && math.Abs(now-was) > max(armRead, pedalNear*was)+eps
}

// arms leaves open a lever that pushes further from its pivot, or nearer, than what it is held against, whatever its
// leverage: the rod or piston stands where it stood. now and was are both arms in words. Common practice, no source.
func arms(c *check, s Side, dim string, isArm, wasArm float64, now, was string) {
	if !otherArm(isArm, wasArm) {
		return
	}
	off := mm(math.Round(math.Abs(isArm-wasArm)*10) / 10)
	c.sizes(now, was, off)
	c.settle(lookAt(s, dim, "whether it meets what it pushes in line, at rest and all of its way, and where hand or foot "+
		"then finds it"))
	side := map[bool]string{true: "further from", false: "nearer to"}[isArm > wasArm]
	c.unknown("arms of %s against %s: it pushes %s %s its pivot, and may bind or not meet what it "+
		"pushes", now, was, off, side)
}
