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
// fastener that comes out, one that shows a torque, gauges, and what fluid asks for.
func tools(b *builder, s Sheet, measures []swap.MeasureRow) []string {
	heads := map[string]int{}
	for _, step := range s.Steps {
		switch step.Do {
		case donor.DoOut, donor.DoOff, donor.DoIn, donor.DoBack, donor.DoFit:
			for _, setup := range []*machine.Setup{b.before, b.after} {
				if tool := toolFor(setup.Seat(step.Position).Part); tool != "" {
					heads[tool] += max(1, step.Quantity)
				}
			}
		}
	}
	tools := lists.KeysOf(heads)
	if wrench := torqueWrench(s.Joints); wrench != "" {
		tools = append(tools, wrench)
	}
	var gauges []string
	for _, m := range measures {
		if m.Gauge != graph.ByEye && m.Gauge != "" {
			gauges = append(gauges, m.Gauge)
		}
	}
	tools = append(tools, lists.Unique(gauges)...)
	for _, step := range s.Steps {
		if step.Effort != "" {
			tools = append(tools, "for what is altered: "+step.Effort+", and a vernier caliper to prove it")
		}
	}
	if slices.ContainsFunc(s.Steps, func(step donor.WorkStep) bool { return step.Do == donor.DoBleed }) {
		tools = append(tools, "clear hose and bottle to bleed into, rags, water to rinse spilt fluid off paint, an "+
			"unopened can of fluid")
	}
	if slices.ContainsFunc(s.Steps, func(step donor.WorkStep) bool {
		return b.before.Position(step.Position).Safety == graph.SafetyWheel
	}) {
		tools = append(tools, "a stand under the machine that can't tip, the wheel off the ground")
	}
	return tools
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
