package worksheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/donor"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// tools are what the work is done and judged with: a tool for each head of a
// fastener that comes out, those that only such work asks for, one that shows a torque, gauges,
// and what fluid asks for.
func tools(before, after *machine.Setup, steps []donor.WorkStep, joints []Joint, measures []swap.MeasureRow) []string {
	heads := map[string]bool{}
	var special []string
	for _, step := range steps {
		switch step.Do {
		case donor.DoOut, donor.DoOff, donor.DoIn, donor.DoBack, donor.DoFit:
			for _, setup := range []*machine.Setup{before, after} {
				if tool := toolFor(setup.Seat(step.Position).Part); tool != "" {
					heads[tool] = true
				}
			}
			special = append(special, specialTools[before.Position(step.Position).Kind])
		}
	}
	tools := lists.KeysOf(heads)
	tools = append(tools, lists.Kept(lists.Unique(special), func(tool string) bool { return tool != "" })...)
	if wrench := torqueWrench(joints); wrench != "" {
		tools = append(tools, wrench)
	}
	var gauges []string
	for _, m := range measures {
		if m.Gauge != graph.ByEye && m.Gauge != "" {
			gauges = append(gauges, m.Gauge)
		}
	}
	tools = append(tools, lists.Unique(gauges)...)
	for _, step := range steps {
		if step.Effort != "" {
			tools = append(tools, "for what is altered: "+step.Effort+", and a vernier caliper to prove it")
		}
	}
	if slices.ContainsFunc(steps, func(step donor.WorkStep) bool { return step.Do == donor.DoBleed }) {
		tools = append(tools, "clear hose and bottle to bleed into, rags, water to rinse spilt fluid off paint, an "+
			"unopened can of fluid")
	}
	if slices.ContainsFunc(steps, func(step donor.WorkStep) bool { return step.Do == donor.DoSupport }) {
		tools = append(tools, "a stand under the machine that can't tip, the wheel off the ground")
	}
	return tools
}

// specialTools are the sorts of tool that only what sits at a place of a kind asks for, where
// it comes off or goes on. Common practice, no source; no size of them is known.
var specialTools = map[graph.KindID]string{
	"ring-nut": "hook spanner, pin spanner or slotted socket that fits the steering head's ring nut",
	"bearing": "puller or drift for bearings and races, and a driver as wide as the outer ring (the inner one for what " +
		"sits on a shaft or stem)",
	"wheel-seal":   "seal puller or wide blade, and a driver as wide as the seal",
	"dust-seal":    "seal puller or wide blade, and a driver as wide as the seal",
	"fork-seal":    "driver for fork seals of the tube's size; a holder for the damper where its bottom bolt turns it",
	"circlip":      "circlip pliers, for inside or outside as the ring is",
	"chain-link":   "chain tool: one that presses a rivet out, and closes the new link as its maker says",
	"tyre":         "tyre levers and rim guards or a machine, and what balances a wheel",
	"clutch-hub":   "holder for the clutch hub",
	"spokes":       "spoke key, and a stand with a gauge to true the rim",
	"fork-spring":  "gauge for the level of the fork oil",
	"carburettors": "gauges for the vacuum of each carburettor",
	"split-pin":    "pliers to bend split pins",
}

// toolFor is what turns the head of a fastener, as far as its form and size are
// recorded; empty for what is no fastener.
func toolFor(p graph.Part) string {
	f, ok := machine.FeatureOfKind(p, "male-thread")
	if !ok {
		if f, ok = machine.FeatureOfKind(p, "female-thread"); !ok || machine.BestText(f, "across-flats") == "" {
			return ""
		}
	}
	head, flats := machine.BestText(f, "head"), machine.BestText(f, "across-flats")
	thread, _, _ := strings.Cut(machine.BestText(f, "thread"), "x")
	switch {
	case strings.Contains(head, "cross"):
		return "cross-head screwdriver for " + thread
	case strings.Contains(head, "socket"), strings.Contains(head, "button"), strings.Contains(head, "countersunk"):
		if flats == "" {
			flats = hexKey(head, thread)
		}
		if flats == "" {
			return "hexagon key for " + thread + " " + head
		}
		return "hexagon key " + flats
	case flats != "":
		return "spanner or socket " + flats
	}
	return ""
}

// hexKey is the key of a socket head by its thread: of cap screws by ISO 4762, of
// button heads by ISO 7380-1; beside M5 to M8 of the former the values are from
// memory. Empty where neither has the thread.
func hexKey(head, thread string) string {
	keys := map[string]string{"M3": "2.5 mm", "M4": "3 mm", "M5": "4 mm", "M6": "5 mm", "M8": "6 mm", "M10": "8 mm",
		"M12": "10 mm"}
	if strings.Contains(head, "button") {
		keys = map[string]string{"M3": "2 mm", "M4": "2.5 mm", "M5": "3 mm", "M6": "4 mm", "M8": "5 mm", "M10": "6 mm"}
	} else if strings.Contains(head, "countersunk") {
		return ""
	}
	return keys[thread]
}

// torqueWrench says what range one must have; empty when no torque is given.
func torqueWrench(joints []Joint) string {
	low, high := 0.0, 0.0
	for _, j := range joints {
		q, err := measure.ParseQuantity(j.Torque, measure.Torque)
		if j.Torque == "" || err != nil {
			continue
		}
		if low == 0 || q.Low < low {
			low = q.Low
		}
		high = max(high, q.High)
	}
	switch {
	case high == 0:
		return ""
	case low == high:
		return "torque wrench for " + measure.Format(low, measure.Torque)
	}
	return fmt.Sprintf("torque wrench for %s to %s", measure.Format(low, measure.Torque),
		measure.Format(high, measure.Torque))
}

// threads are those of opened joints that are to be clean, with what they are cut
// in where that is recorded; each once, sorted.
func threads(b *builder, joints []graph.Joint, steps []donor.WorkStep) []string {
	var all []string
	for _, j := range joints {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			f := b.after.Side(ref).Feature
			thread := machine.BestText(f, "thread")
			if thread == "" || f.Kind == "male-thread" {
				continue
			}
			text := thread + " in " + ref.Position.Local()
			if material := machine.BestText(f, "material"); material != "" {
				text += ", " + material
			}
			all = append(all, text)
		}
		for _, id := range j.Fasteners {
			if f, ok := machine.FeatureOfKind(b.after.Seat(id).Part, "male-thread"); ok && machine.BestText(f, "thread") != "" {
				n := ""
				if q := cmp.Or(putOn(steps, id), b.after.Quantity(id)); q > 1 {
					n = fmt.Sprintf("%d x ", q)
				}
				all = append(all, fmt.Sprintf("%s%s of %s", n, machine.BestText(f, "thread"), id.Local()))
			}
		}
	}
	return lists.Unique(all)
}
