package donor

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/mating"
	"matewell/queries/plan"
)

// DonorClash is why there is no plan: connections that can't hold together,
// whatever else is changed.
type DonorClash struct {
	// Smallest is true when no fewer connections clash anywhere.
	Smallest bool         `json:"smallest"`
	Joints   []ClashJoint `json:"joints"`
	// Also are connections that fail in the same way by themselves.
	Also []ClashJoint `json:"also,omitempty"`
	// Opens are facts or parts that would open the way.
	Opens []string `json:"opens"`
}

// ClashJoint is one connection of a clash, as it comes out with what was asked
// for and as little else as possible.
type ClashJoint struct {
	What    string        `json:"what"`
	ID      string        `json:"id"`
	Verdict graph.Verdict `json:"verdict"`
	Text    string        `json:"text"` // in trade words
	Ends    []examine.End `json:"ends"`
}

// mostInTheWay is how many connections are named that stood in the way of a plan.
const mostInTheWay = 4

// inTheWay is what the search last came to, where the time was over before there was
// either a plan or a proof that there is none: what it looked at for a rough plan and
// could not put right.
func inTheWay(p *planner) []ClashJoint {
	if p.first == nil {
		return nil
	}
	p.ctx.until(time.Time{}) // it was judged already
	var joints []ClashJoint
	for _, d := range p.first.stuck {
		if len(joints) == mostInTheWay {
			break
		}
		j := clashJoint(p.first, d)
		if text := togetherText(p.first, d, p.first.stuck); !d.isDead() {
			j.Text = text
		}
		if j.Text != "" {
			joints = append(joints, j)
		}
	}
	return joints
}

// clash puts a clash into words.
func clash(p *planner, c plan.Clash) (*DonorClash, error) {
	d := &DonorClash{Smallest: c.Smallest, Opens: []string{}}
	clash := lists.Mapped(c.Demands, func(i int) *demand { return p.demands[i] })
	for _, one := range clash {
		j := clashJoint(p, one)
		if text := togetherText(p, one, clash); len(clash) > 1 && text != "" {
			j.Text = text
		}
		same := func(x ClashJoint) bool { return x.What == j.What && x.ID == j.ID && x.Text == j.Text }
		if !slices.ContainsFunc(d.Joints, same) {
			d.Joints = append(d.Joints, j)
		}
	}
	for i, demand := range p.demands {
		if demand.isDead() && len(c.Demands) == 1 && !slices.Contains(c.Demands, i) {
			d.Also = append(d.Also, clashJoint(p, demand))
		}
	}
	err := waysOpen(p, d, c)
	if err != nil && p.ctx.ended(err) {
		p.notes, err = append(p.notes, "there was no time to look for all that would open the way"), nil
	}
	return d, err
}

// waysOpen adds what would open the way, until the time is over.
func waysOpen(p *planner, d *DonorClash, c plan.Clash) error {
	for _, i := range c.Demands {
		opens, err := opens(p, p.demands[i])
		d.Opens = append(d.Opens, opens...)
		if err != nil {
			return err
		}
	}
	freed, err := withDonors(p, slices.Concat(d.Joints, d.Also))
	d.Opens = inOrder(append(d.Opens, freed...))
	return err
}

// inOrder is each word once, where it comes first.
func inOrder(words []string) []string {
	once := []string{}
	for _, w := range words {
		if !slices.Contains(once, w) {
			once = append(once, w)
		}
	}
	return once
}

// clashJoint is the least bad outcome of a demand over what its slots can take.
func clashJoint(p *planner, d *demand) ClashJoint {
	if d.lot != nil {
		return lotClash(p, *d.lot)
	}
	o := leastBad(p, d)
	j := ClashJoint{What: d.What, ID: d.ID, Verdict: o.After, Ends: o.Ends}
	j.Text = clashText(o) + ruledOutText(p, o)
	return j
}

func leastBad(p *planner, d *demand) examine.Outcome {
	return leastBadOf(p, d, func(int, int) bool { return true })
}

// leastBadOf is that over some of the options.
func leastBadOf(p *planner, d *demand, some func(slot, option int) bool) examine.Outcome {
	all := make([][]bool, len(p.slots))
	for i, s := range p.slots {
		for o, option := range s.options {
			all[i] = append(all[i], !option.other && some(i, o))
		}
	}
	var best, unfilled examine.Outcome
	combinations(p, d, all, func(choice []int, _ plan.Cost) bool {
		parts := map[graph.PositionID]graph.PartID{}
		for k, i := range d.slots {
			parts[p.slots[i].at] = p.slots[i].options[choice[k]].part
		}
		least := &best
		if len(mustFill(p, d, parts)) > 0 {
			least = &unfilled
		}
		o, ok := outcome(p, d, parts)
		if ok && (least.What == "" || cmp.Or(cmp.Compare(o.After, least.After),
			cmp.Compare(changedEnds(o), changedEnds(*least))) < 0) {
			*least = o
		}
		return true
	})
	if best.What == "" { // nothing is known for an empty place
		return unfilled
	}
	return best
}

func changedEnds(o examine.Outcome) int {
	return len(lists.Kept(slices.Clone(o.Ends), func(e examine.End) bool { return e.Changed }))
}

// clashText says what was met and what was wanted.
func clashText(o examine.Outcome) string {
	text := whyText(o)
	if len(o.Ends) > 1 {
		text = fmt.Sprintf("%s on %s: %s", o.Ends[0].Name, o.Ends[1].Name, text)
	}
	if o.What == examine.OfJoint && o.After == graph.DoesNotFit {
		text += "; " + betweenWord(o) + " known"
	}
	return text
}

// whyText is what was met and what was wanted, without the names of the ends.
func whyText(o examine.Outcome) string {
	var said []string
	for _, c := range o.Checks {
		if c.Verdict != o.After {
			continue
		}
		text := c.Why
		if c.Empty != "" {
			text = c.Empty.Local() + " is empty now, and no part is known for it"
		}
		if c.Had != "" && c.Wanted != "" && !strings.Contains(text, c.Had) {
			text += fmt.Sprintf(" (%s where %s is wanted)", c.Had, c.Wanted)
		}
		said = append(said, text)
	}
	return strings.Join(said, "; ")
}

func betweenWord(o examine.Outcome) string {
	if slices.ContainsFunc(o.Checks, mating.Check.OfCaliper) {
		return "no bracket"
	}
	return "no adapter"
}

// opens says what would make a demand hold: what an adapter would have to be,
// and other parts for what is fixed that would mate with what stays.
func opens(p *planner, d *demand) ([]string, error) {
	if d.lot != nil {
		return []string{fmt.Sprintf("one more of %s", p.named(d.lot.part))}, nil
	}
	o := leastBad(p, d)
	var opens []string
	for _, c := range o.Checks {
		for _, order := range c.Orders {
			opens = append(opens, "made or found: "+order.Text)
		}
		for _, ask := range c.Measure {
			opens = append(opens, fmt.Sprintf("measured: %s of %s", ask.What, ask.Where))
		}
	}
	for _, id := range d.Places {
		if _, fixed := p.fixed[id]; !fixed {
			continue
		}
		others, err := insteadOf(p, d, id)
		if err != nil {
			return opens, err
		}
		opens = append(opens, others...)
	}
	return opens, nil
}
