package donor

import (
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// signKey is a part at a place of a demand, as far as the demand looks at it.
type signKey struct {
	part  graph.PartID
	reads string
}

// keyOn tells one machine from another, as far as the demand can: parts that
// measure the same where it looks are judged once. What is new is told apart, since it
// is judged by what was there.
func keyOn(p *planner, d *demand, s *machine.Setup) []byte {
	key := append(append(append(p.room[:0], d.What...), ' '), d.ID...)
	for _, id := range d.Places {
		n := 2 * signWithOrigin(p, d, id, s.PartIDAt(id))
		if !s.IsSameAt(p.before, id) {
			n++
		}
		key = append(key, '|')
		key = strconv.AppendInt(key, int64(n), 10)
	}
	p.room = key
	return key
}

// signsOf are the signs of all options of the slots of a demand; below zero for
// what was not looked at.
func signsOf(p *planner, d *demand) [][]int {
	signs := make([][]int, len(d.slots))
	for k, i := range d.slots {
		s := p.slots[i]
		signs[k] = lists.Mapped(s.options, func(o donorOption) int {
			if o.other {
				return -1
			}
			return signAt(p, d, s.at, o.part)
		})
	}
	return signs
}

// signAt tells, besides what a part measures, whether it is a change: what is
// new is judged by what was there.
func signAt(p *planner, d *demand, id graph.PositionID, part graph.PartID) int {
	n := 2 * signWithOrigin(p, d, id, part)
	if part != p.before.Seat(id).Part.ID {
		n++
	}
	return n
}

// signWithOrigin is sign, and of a joint whether the part came over with others, or is the one
// built in: joints alone are judged by what came over together, and by what is missed at a
// place that only one of the two machines has.
func signWithOrigin(p *planner, d *demand, id graph.PositionID, part graph.PartID) int {
	n := 4 * sign(p, d, id, part)
	if d.What != examine.OfJoint {
		return n
	}
	return n + 2*lists.Order(cameWith(p, id, part)) + lists.Order(p.before.Lends() && part == p.before.BuiltAt(id).Part.ID)
}

// isDonors reports whether a part is another than is there, and the donor's own at the place
// of that name: what comes over together is as it was built there.
func isDonors(p *planner, id graph.PositionID, part graph.PartID) bool {
	if p.donor == nil || part == "" || part == p.before.PartIDAt(id) {
		return false
	}
	return p.donor.PartIDAt(p.onDonor(id)) == part
}

// cameWith reports whether a part is the donor's own, or is listed on a machine together with one
// that was asked for: the two may have been made for one another.
func cameWith(p *planner, id graph.PositionID, part graph.PartID) bool {
	switch {
	case p.donor != nil && isDonors(p, id, part):
		return true
	case part == "" || part == p.before.PartIDAt(id):
		return false
	}
	key := seatKey{id, part}
	with, known := p.companions[key]
	if !known {
		with = isListedWithAsked(p, id, part)
		p.companions[key] = with
	}
	return with
}

// isListedWithAsked reports whether one machine lists a part at the place of a name and, at the
// place of its own, one that was asked for.
func isListedWithAsked(p *planner, id graph.PositionID, part graph.PartID) bool {
	for at, asked := range p.fixed {
		for _, name := range namesakes(p, at) {
			there := id.On(name.Model())
			for _, f := range p.before.Library().ListedAt(name) {
				if f.Part == asked.part && slices.ContainsFunc(p.before.Library().ListedAt(there), func(g graph.Fitment) bool {
					return g.Part == part && slices.ContainsFunc(f.On,
						func(v graph.VariantID) bool { return slices.Contains(g.On, v) })
				}) {
					return true
				}
			}
		}
	}
	return false
}

// sign is a number for what a part measures where a demand looks at it.
func sign(p *planner, d *demand, id graph.PositionID, part graph.PartID) int {
	names, some := d.reads[id]
	key := signKey{part, d.looks(id)}
	if n, ok := p.signs[key]; ok {
		return n
	}
	text := signText(p, part, names, some)
	n, ok := p.texts[text]
	if !ok {
		n = len(p.texts)
		p.texts[text] = n
	}
	p.signs[key] = n
	return n
}

func signText(p *planner, id graph.PartID, names []string, some bool) string {
	if id == "" {
		return "nothing"
	}
	part, _ := p.before.Part(id)
	text := string(part.Kind)
	for _, f := range part.Features {
		if !some || slices.Contains(names, f.Name) || slices.Contains(names, f.Kind) {
			text += "&" + f.Name + " " + dimText(f)
			continue
		}
		for _, name := range names {
			if dim, ok := strings.CutPrefix(name, f.Kind+"."); ok {
				text += "&" + f.Name + " " + dimText(graph.Feature{Kind: f.Kind,
					Dims: map[string][]graph.Reading{dim: f.Dims[dim]}})
			}
		}
	}
	return text
}

// dimText is everything that is said of a feature, best first.
func dimText(f graph.Feature) string {
	text := f.Kind
	for _, dim := range lists.KeysOf(f.Dims) {
		text += "|" + dim
		for _, r := range f.Dims[dim] {
			text += "=" + r.Text
		}
	}
	return text
}

func sideText(s mating.Side) string { return dimText(s.Feature) }
