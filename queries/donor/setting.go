package donor

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/assemble"
	"matewell/queries/lists"
	"matewell/queries/swap"
)

// What is loosened, measured, set and secured around what comes off and goes on. All of it
// is common practice, no source.

// slackSteps loosen cables at their adjusters.
func (w *worker) slackSteps() []WorkStep {
	var steps []WorkStep
	for _, p := range w.whole.Positions {
		if isSetCable(p.Kind) && w.isTouched(p.ID) && !w.before.Seat(p.ID).Empty {
			steps = append(steps, WorkStep{Do: DoSlack, Position: p.ID, Text: p.ID.Local() +
				": its adjusters screwed in, so that it has slack and its ends come out"})
		}
	}
	return steps
}

// isSetCable reports whether a cable works something by how much slack it has.
func isSetCable(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"clutch-cable", "throttle-cable", "choke-cable", "brake-cable"}, kind)
}

// isTouched reports whether something comes off, or a joint of it comes apart.
func (w *worker) isTouched(id graph.PositionID) bool {
	return slices.Contains(w.done.Order, id) || slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool {
		return slices.Contains(j.Ends(), id)
	})
}

// axleSteps loosen the axle of each wheel that stays in while its chain comes off the teeth. Its
// joint is among those opened from then on.
func (w *worker) axleSteps() []WorkStep {
	var steps []WorkStep
	for _, wheel := range w.whole.Wheels {
		if slices.Contains(w.done.Order, wheel.Hub) || !w.isChainMoved(wheel) {
			continue
		}
		for _, j := range w.whole.Joints {
			axle := slices.ContainsFunc(wheel.Axles, func(id graph.PositionID) bool { return slices.Contains(j.Ends(), id) })
			if j.ID == "" || !axle || j.Nut == "" && len(j.Fasteners) == 0 || w.isOpened(j.ID) {
				continue
			}
			w.done.Opened = append(w.done.Opened, j)
			step := WorkStep{Do: DoSlack, Position: j.Nut, Text: "so far that the wheel moves in its chain adjusters, and " +
				"these slackened: it stays in"}
			if j.Nut == "" {
				step.Position = j.Fasteners[0]
			}
			steps = append(steps, step)
		}
	}
	return steps
}

func (w *worker) isOpened(id graph.JointID) bool {
	return slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool { return j.ID == id })
}

// isChainMoved reports whether the chain that drives a wheel comes off a sprocket.
func (w *worker) isChainMoved(wheel assemble.Wheel) bool {
	for _, j := range w.whole.Joints {
		for _, chain := range j.Ends() {
			on := j.Other(chain)
			if w.whole.Chains[chain] && (on == wheel.Hub || wheel.On[on] > 0) && w.isTouched(chain) {
				return true
			}
		}
	}
	return false
}

// linkOfChain has the link that closes a new chain be told once: by its number where the
// machine's own is of the chain's make, else in words, and not with that number too.
func (w *worker) linkOfChain() {
	rows := w.plan.Swap.Renew[:0:0]
	for _, row := range w.plan.Swap.Renew {
		for _, id := range w.done.Order {
			isLink := row.Link && w.after.Position(id).Kind == "chain-link" && id.Assembly() == row.Position.Assembly()
			if !isLink || w.after.Seat(id).Empty {
				continue
			}
			if w.after.Seat(id).Part.Brand == w.after.Seat(row.Position).Part.Brand {
				row.Text = ""
				break
			}
			row.Position = id
		}
		if !row.Link || row.Text != "" {
			rows = append(rows, row)
		}
	}
	w.plan.Swap.Renew = rows
}

// isForeign reports whether the machine's own link at a place is not of the make of the chain
// that goes on.
func (w *worker) isForeign(id graph.PositionID) bool {
	return slices.ContainsFunc(w.plan.Swap.Renew, func(r swap.RenewRow) bool { return r.Link && r.Position == id }) &&
		w.after.Position(id).Kind == "chain-link" && !w.isChanged(id)
}

// legsInYokes are the fork legs whose hold in a yoke comes apart, sorted.
func (w *worker) legsInYokes() []graph.PositionID {
	var legs []graph.PositionID
	for _, j := range w.done.Opened {
		for _, id := range j.Ends() {
			isYoke := strings.HasPrefix(string(w.before.Position(j.Other(id)).Kind), "yoke")
			if w.before.Position(id).Kind == "fork-leg" && isYoke && !w.before.Seat(id).Empty {
				legs = append(legs, id)
			}
		}
	}
	return lists.Unique(legs)
}

// heightSteps measure how high each leg sits before its yokes let go of it.
func (w *worker) heightSteps() []WorkStep {
	return lists.Mapped(w.legsInYokes(), func(id graph.PositionID) WorkStep {
		return WorkStep{Do: DoMeasure, Position: id, Text: id.Local() +
			": how far its tube stands over the upper yoke; write it down"}
	})
}

// heightAgain says that the legs go back as high as they sat.
func (w *worker) heightAgain() []string {
	if len(w.legsInYokes()) == 0 {
		return nil
	}
	return []string{"fork legs: both as far over the upper yoke as measured, unless the new parts ask for another " +
		"height, before they are clamped"}
}

// isStemOpen reports whether a steering stem comes out, or what holds its bearings in play
// is opened at its top.
func (w *worker) isStemOpen(stem graph.PositionID) bool {
	return slices.Contains(w.done.Order, stem) || slices.ContainsFunc(w.done.Opened, func(j assemble.Joint) bool {
		return slices.Contains(j.Ends(), stem) && w.before.Position(j.Other(stem)).Kind == "yoke-upper"
	})
}

// freePlay is what is set at each cable that was touched, or that came off with what it is on.
func (w *worker) freePlay() []string {
	say := map[graph.KindID]string{
		"clutch-cable":   "clutch cable: free play at the lever, by the maker's manual",
		"throttle-cable": "throttle cables: free play at the twist grip, by the maker's manual; it shuts by itself",
		"choke-cable":    "choke cable: free play, so that it shuts fully",
		"brake-cable":    "brake cable: free play, and the wheel turns freely with the brake off",
	}
	var found []string
	for _, p := range w.whole.Positions {
		rides := slices.ContainsFunc(lists.KeysOf(w.done.With), func(id graph.PositionID) bool {
			return slices.Contains(w.done.With[id], p.ID)
		})
		if isSetCable(p.Kind) && (rides || w.isTouched(p.ID)) && !w.after.Seat(p.ID).Empty {
			found = append(found, say[p.Kind])
		}
	}
	return lists.Unique(found)
}

// bendSteps bend back the tab of a washer before what it secures is turned.
func (w *worker) bendSteps(id graph.PositionID) []WorkStep {
	var steps []WorkStep
	for _, j := range w.done.Opened {
		fasteners := w.joints[j.ID].Fasteners
		for _, tab := range fasteners {
			isFirst := slices.Contains(fasteners, id) && id != tab && w.whole.Known[j.ID].ID != ""
			if isFirst && isTab(w.before.Position(tab).Kind) && slices.Contains(w.done.Order, tab) {
				steps = append(steps, WorkStep{Do: DoSlack, Position: tab, Text: "bend its tab back off " + id.Local()})
			}
		}
	}
	return steps
}

func isTab(kind graph.KindID) bool { return kind == "tab-washer" }

// capSteps loosen the cap of a fork leg once the bolts that clamp it in the upper yoke are
// out, while the lower yoke still holds the leg.
func (w *worker) capSteps(bolt graph.PositionID) []WorkStep {
	for _, j := range w.done.Opened {
		if !slices.Contains(w.joints[j.ID].Fasteners, bolt) {
			continue
		}
		for _, leg := range j.Ends() {
			isClamp := w.before.Position(leg).Kind == "fork-leg" && w.before.Position(j.Other(leg)).Kind == "yoke-upper"
			for _, id := range w.done.Order {
				if isClamp && w.before.Position(id).Kind == "fork-cap" && w.legUnder(id, "fork-cap") == leg {
					return []WorkStep{{Do: DoSlack, Position: id, Text: "a turn only, while the lower yoke holds the leg"}}
				}
			}
		}
	}
	return nil
}

// secureSteps keep from turning what was tightened.
func (w *worker) secureSteps() []WorkStep {
	var steps []WorkStep
	for _, id := range w.done.Order {
		if isTab(w.after.Position(id).Kind) && !w.after.Seat(id).Empty {
			steps = append(steps, WorkStep{Do: DoSecure, Position: id, Text: "bend its tab up against a flat of the nut"})
		}
	}
	return steps
}
