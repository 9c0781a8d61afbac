package mating

import "matewell/graph"

// ThreadedShaftCase is an axle, pivot or spindle with the thread that is cut on it.
type ThreadedShaftCase struct {
	Shaft, Thread Side // kinds shaft and male-thread, of one part
	Safety        graph.Safety
}

// groundOff is how much thinner than its thread a shaft may be, in mm: shafts are
// ground some tenths below the size that they are called by. Common practice, no
// source.
const groundOff = 0.3

// JudgeThreadedShaft judges, in one check "thread on its shaft", whether a thread goes
// where its shaft goes. One that is thicker may stand under the head: then the shaft goes
// in through what it is screwed into, which must be wider inside than the shaft. Source:
// plain geometry; the least inside diameter of a thread is that of ISO 724.
func JudgeThreadedShaft(in ThreadedShaftCase) []Check {
	return judge(false, func(b *bench) {
		c := b.check("thread on its shaft")
		shaft, okShaft := c.length(in.Shaft, "diameter")
		thread, okThread := c.thread(in.Thread, "thread")
		if !okShaft || !okThread {
			return
		}
		c.sizes(thread.String(), mm(shaft.nominal), "")
		if thread.Nominal <= shaft.high+groundOff+eps {
			c.fits("%s on a shaft of %s", thread, mm(shaft.nominal))
			return
		}
		c.settle(askFor(in.Shaft, "diameter"), askFor(in.Thread, "thread"))
		if inside := minor(thread); shaft.low > inside+eps {
			c.no("a thread %s on a shaft of %s passes nothing that the shaft fits, and under the head the shaft would not "+
				"pass the %s inside of its other half: measure both, one of the two may be misread",
				thread, mm(shaft.nominal), mm(inside))
			return
		}
		c.unknown("a thread %s on a shaft of %s does not go where the shaft goes, unless it stands under the head: one of "+
			"the two may be misread", thread, mm(shaft.nominal))
	})
}
