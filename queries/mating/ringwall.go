package mating

import "matewell/graph"

// WallCase is a ring, spacer or sleeve as it is put on, and the one built in.
type WallCase struct {
	Bore, Surface       Side // kinds bore and shaft
	WasBore, WasSurface Side // zero when nobody knows them
	Safety              graph.Safety
}

// JudgeWall judges, in one check "wall of ring", what is left between the bore of a
// ring and its surface: no less than anybody turns, or than the one built in has.
// Common practice, no source.
func JudgeWall(in WallCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("wall of ring")
		wall, ok := wallOf(c, in.Bore, in.Surface)
		if !ok {
			return
		}
		least := leastWall
		if was, known := builtWall(c, in.WasBore, in.WasSurface); known && was > 0 {
			least = min(least, was-readingNoise/2)
		}
		c.sizes(mm(wall.nominal)+" of wall", "at least "+mm(least), "")
		switch where := wall.against(least, noLimit); where {
		case inside:
			c.fits("%s of wall", mm(wall.nominal))
		case astride:
			askTwo(c, Meeting{A: in.Bore, B: in.Surface}, "diameter", "diameter")
			c.unknown("at the limits of its sizes its wall may be too thin")
		default:
			c.no("a wall of %s is left between bore and surface, %s at least", mm(max(0, wall.nominal)), mm(least))
		}
	})
}

func wallOf(c *check, bore, surface Side) (span, bool) {
	in, okIn := c.length(bore, "diameter")
	out, okOut := c.length(surface, "diameter")
	return out.minus(in).times(0.5), okIn && okOut
}

// builtWall is the wall of the ring built in; false when nobody knows it.
func builtWall(c *check, bore, surface Side) (float64, bool) {
	in, okIn := c.peekLength(bore, "diameter")
	out, okOut := c.peekLength(surface, "diameter")
	return (out.nominal - in.nominal) / 2, okIn && okOut
}
