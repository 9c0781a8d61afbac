package donor

import (
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// goneNote stands behind a part to get that is sold no more.
const goneNote = "sold no more: there is only what somebody still has, at a price nobody knows"

// price is what a number of a part costs, in hundredths of the first currency
// met; zero when nobody says, in another currency, or when it is sold no more.
func price(p *planner, part graph.Part, quantity int) int {
	if len(part.Price) == 0 || part.Gone {
		return 0
	}
	m, err := measure.ParseMoney(part.Price[0].Text)
	if err != nil || p.currency != "" && m.Currency != p.currency {
		return 0
	}
	p.currency = m.Currency
	return m.Hundredths * quantity
}

// word is what findings say of a part at a position.
type word struct {
	against bool         // somebody says that it does not fit
	effort  graph.Effort // of the changes that somebody needed
	by      []graph.Finding
}

// wordOn gathers the findings that stand on a part at a position of the
// machine.
func wordOn(p *planner, at graph.PositionID, part graph.PartID) word {
	key := seatKey{at, part}
	if w, ok := p.words[key]; ok {
		return w
	}
	var w word
	for _, f := range p.before.Library().FindingsOf(part) {
		if f.Position != at || f.Withdrawn != "" || len(f.On) > 0 && !slices.Contains(f.On, p.before.Variant.ID) ||
			f.Verdict == graph.NoVerdict {
			continue
		}
		w.by = append(w.by, f)
		w.against = w.against || f.Verdict == graph.DoesNotFit
		if f.Verdict == graph.FitsWithChanges {
			for _, c := range f.Changes {
				w.effort = max(w.effort, c.Effort)
			}
		}
	}
	p.words[key] = w
	return w
}
