package job

import (
	"slices"

	"matewell/graph"
	"matewell/queries"
)

// work is what a job has apart, as far as it says what to beware of.
type work struct {
	queries.Touched
	Carries []string // what the circuits carry whose places are opened
	Kinds   []string // kinds of part that are opened, and kinds of their features
}

// add notes a safety class, once.
func (w *work) add(class graph.Safety) {
	if class != graph.SafetyNone && !slices.Contains(w.Safety, class) {
		w.Safety = append(w.Safety, class)
	}
}

// cautionsOf are the cautions of the trade that belong to the work itself, whoever
// wrote the job. Common practice, no source; they name no limit.
func cautionsOf(w work) []string {
	has := func(kind string) bool { return slices.Contains(w.Kinds, kind) }
	var texts []string
	add := func(when bool, words ...string) {
		if when {
			texts = append(texts, words...)
		}
	}
	add(w.Fluid,
		"Brake and clutch fluid takes paint off and hurts eyes and skin: cover tank and panels, wear gloves and glasses, "+
			"rinse every spill with water at once.",
		"Only the fluid that is marked on the reservoir, from a can that was sealed; one drop of oil or grease for other "+
			"work spoils every seal it meets.",
		"Clean with fluid or brake cleaner only, never with petrol; keep both off pads and discs.")
	add(w.Fluid && has("pistons"),
		"Pistons come out suddenly: push them out with the lever and fluid, or with little air and a block of wood and "+
			"rags in front; never a finger between, never full line pressure.")
	add(has("fork-leg") || has("fork-cap") || has("fork-spring"),
		"A fork cap is under the load of its spring: take the weight off the wheel, keep your face away, turn the last "+
			"threads by hand while you hold it down.")
	add(has("bearing"),
		"Bearings go in square by their outer ring, out by a puller or drift: glasses on, they splinter. What was driven "+
			"out by its inner ring is scrap.")
	add(w.Chain || has("front-sprocket") || has("rear-sprocket"),
		"Engine off, key out: never clean or grease a chain that an engine turns; fingers stay off chain and sprocket "+
			"when the wheel is turned.")
	add(w.Belt || has("front-pulley") || has("rear-pulley"),
		"Engine off, key out: fingers stay off belt and pulleys when the wheel is turned. A belt that was folded, twisted "+
			"or levered over a flange is scrap, though nothing shows.")
	return texts
}
