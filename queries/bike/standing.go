package bike

import (
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/swap"
)

// notProved says what stands against riding of what lies in the boxes, or is to be got, for
// places with a safety class: what was identified by eye only, and what is not known to mate
// with what it meets. What nobody recorded of the book's own parts is counted in one.
func (w *work) notProved() []swap.Hindrance {
	var all []swap.Hindrance
	unmeasured := map[string]bool{}
	for i, one := range w.wants {
		if _, refused := w.closers(i); refused != "" {
			continue // it is left out, and said
		}
		for _, use := range w.gifts(i) {
			if one.position.Safety != graph.SafetyNone && !graph.IsSure(use.Sure) {
				all = append(all, swap.ByEye(one.position.ID, use.Part))
			}
		}
		for _, line := range w.allAgainst(i) {
			switch {
			case !line.isOpen() || w.closing != nil && w.isPlanned(i): // what is planned was judged with all on
			case line.asBuilt && line.Verdict == graph.Unknown:
				unmeasured[line.What] = true
			default:
				all = append(all, swap.Judged(line.Verdict, line.What, line.Why))
			}
		}
	}
	if n := len(unmeasured); n > 0 {
		all = append(all, swap.Judged(graph.Unknown, fmt.Sprintf("%d joints, lines and places of the book's own parts", n),
			"nobody recorded what decides there; matewell bike missing "+string(w.bike.ID)+" lists each"))
	}
	return uniqueHindrances(all)
}

// notHad says what stands against riding of what is on no list: what no source names, and
// with one assembly asked about, what the others want.
func (b *buying) notHad(rows []NotListed) []swap.Hindrance {
	var all []swap.Hindrance
	for _, row := range rows {
		if row.Safety != graph.SafetyNone {
			all = append(all, swap.NothingAt(row.Position))
		}
	}
	for _, r := range b.question.Refused {
		if r.Safety != graph.SafetyNone {
			all = append(all, swap.Judged(graph.DoesNotFit, string(r.Part)+" for "+placesText(r.At), r.Why))
		}
	}
	elsewhere := 0
	for i, one := range b.wants {
		if one.position.Safety != graph.SafetyNone && !inPositions(b.scope, one.position.ID) &&
			supplyOf(b.work, i) != supplyReady {
			elsewhere++
		}
	}
	if elsewhere > 0 {
		all = append(all, swap.Judged(graph.Unknown, fmt.Sprintf("%d places of other assemblies", elsewhere),
			"something is wanted there, and is not on this list"))
	}
	return all
}

// uniqueHindrances says each once.
func uniqueHindrances(all []swap.Hindrance) []swap.Hindrance {
	var kept []swap.Hindrance
	for _, h := range all {
		if !slices.Contains(kept, h) {
			kept = append(kept, h)
		}
	}
	return kept
}
