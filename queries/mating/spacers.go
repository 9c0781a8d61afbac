package mating

import (
	"math"
	"slices"
	"strings"

	"matewell/graph"
)

// remake works out the spacers that make a row fill its gap with its centre
// member in the middle:
//
//	left + right = gap - centre member, left - right = 2 offset
//
// and orders those that differ from what is there. Source: geometry.
func remake(r *row, why string) {
	if !r.okWidths || !r.okGap {
		r.c.unknown("%s", why)
		return
	}
	if r.in.Centre < 1 || r.in.Centre > len(r.in.Row) {
		remakeOne(r, why)
		return
	}
	if fixed := r.fixed(); !r.okOffset && fixed.low > r.gap.high+rowPlay+eps {
		r.c.no("%s: %s too wide even without a spacer", why, r.c.mm(fixed.low-r.gap.high))
		return
	}
	if !r.okOffset {
		r.c.settle(askFor(r.in.Row[r.in.Centre-1].Side, "offset"))
		r.c.unknown("%s; the offset of the centre says how to share it out", why)
		return
	}
	rest := r.gap.nominal - r.widths[r.in.Centre-1].nominal
	left := part(r, "left", 0, r.in.Centre-1, rest/2+r.offset.nominal)
	right := part(r, "right", r.in.Centre, len(r.in.Row), rest/2-r.offset.nominal)
	if left.spacer < -eps || right.spacer < -eps {
		tight := left
		if right.spacer < left.spacer {
			tight = right
		}
		r.c.no("%s, and on the %s there is %s too little room even without a spacer", why, tight.name, r.c.mm(-tight.spacer))
		return
	}
	for _, p := range []rowPart{left, right} {
		if heldBack(r, p, why) {
			return
		}
	}
	r.leftNow, r.leftNew, r.made = left.now, left.fixed+left.spacer, true
	r.rightNow, r.rightNew = right.now, right.fixed+right.spacer
	var words []string
	for _, p := range []rowPart{left, right} {
		if text := orderSpacer(r, p); text != "" {
			words = append(words, text)
		}
	}
	r.c.change(graph.EffortLatheWeld, "make "+strings.Join(words, " and "), "%s", why)
}

// rowPart is one side of a row: what stands there now, what of it can't be
// changed, and the width its spacers must have in all.
type rowPart struct {
	name               string
	now, fixed, spacer float64
	have               float64 // of its spacers now
	at                 Side    // the spacer that is there, zero when none is
	held               Side    // a member that is held in its place, with no spacer between it and the centre
	by                 Hold
}

// heldBack says no where another width of the spacers would have to move what is held in
// its place, and leaves it open where nobody measured how far that may move.
func heldBack(r *row, p rowPart, why string) bool {
	by := math.Abs(p.spacer - p.have)
	if p.held.IsZero() || by < spacerStep/2 {
		return false
	}
	play, known := p.by.play(r.c)
	switch {
	case known && by <= play+eps:
		return false
	case known:
		r.c.no("%s, and %s, %s, no spacer moves", why, p.held.Position.Local(), p.by.words())
	default:
		for _, pair := range p.by.Pairs {
			r.c.settle(askFor(pair.Eye, "width"), askFor(pair.Clevis, "gap"))
		}
		r.c.unknown("%s, and a spacer would move %s, %s: measure how far that may move", why, p.held.Position.Local(),
			p.by.words())
	}
	return true
}

func part(r *row, name string, from, to int, wanted float64) rowPart {
	p := rowPart{name: name}
	for i := from; i < to; i++ {
		w := r.widths[i].nominal
		p.now += w
		if r.in.Row[i].Spacer {
			p.have += w
			p.at = r.in.Row[i].Side
		} else {
			p.fixed += w
		}
		if hold, ok := r.in.Held[r.in.Row[i].Position]; ok && !spacerBetween(r.in, i, from, to) {
			p.held, p.by = r.in.Row[i].Side, hold
		}
	}
	p.spacer = wanted - p.fixed
	return p
}

// spacerBetween reports whether a spacer stands between a member of a side and the
// centre of its row; where there is no centre, anywhere in the row.
func spacerBetween(in StackCase, member, from, to int) bool {
	switch {
	case in.Centre == 0:
	case member < in.Centre-1:
		from = member + 1
	default:
		to = member
	}
	return slices.ContainsFunc(in.Row[from:to], func(m Member) bool { return m.Spacer })
}

// remakeOne fills the gap where nothing must be central.
func remakeOne(r *row, why string) {
	p := part(r, "", 0, len(r.in.Row), r.gap.nominal)
	if p.spacer < -eps {
		r.c.no("%s: %s too wide even without a spacer", why, r.c.mm(-p.spacer))
		return
	}
	if heldBack(r, p, why) {
		return
	}
	if p.spacer < spacerStep/2 {
		r.c.change(graph.EffortHandTools, "leave the spacer out", "%s", why)
		return
	}
	r.made = true
	r.c.change(graph.EffortLatheWeld, "make "+orderSpacer(r, p), "%s", why)
}

// orderSpacer orders the spacers of one side, to 0.1 mm; it orders nothing when
// what is there will do.
func orderSpacer(r *row, p rowPart) string {
	if math.Abs(p.spacer-p.have) < spacerStep/2 {
		return ""
	}
	name := strings.TrimSpace(p.name + " spacer")
	if p.spacer < spacerStep/2 {
		return "no " + name
	}
	shaft, okShaft := r.c.peekLength(r.in.Shaft, "diameter")
	seal, okSeal := r.c.peekLength(r.in.Seals[p.at.Position], "inside")
	own, okOwn := r.c.peekLength(p.at, "width")
	if r.c.bench.quiet {
		return name
	}
	bore, outside := "to suit the shaft: measure it", "to suit seal and bearing: measure it"
	if okShaft {
		bore = "sliding on a " + mm(shaft.nominal) + " shaft"
	}
	if okSeal {
		outside = mm(seal.nominal) + ", where the seal runs"
	}
	spec := []Field{{"where", name}, {"length", tenth(p.spacer)}, {"bore", bore}, {"outside", outside}}
	if p.have > 0 {
		spec = append(spec, Field{"instead of", mm(p.have)})
	}
	if okShaft {
		spec = append(spec, boreOver(runsOn, shaft.nominal, 0)...)
	}
	spec = append(append(spec, Field{"ends", "square and parallel"}), rowMetal...)
	o := r.c.order("spacer", name+" "+tenth(p.spacer)+" long", spec...)
	if o.Place = p.at.Position; o.Place == "" && r.in.Centre > 0 {
		o.Place = r.in.Row[r.in.Centre-1].Position // none stands there: it goes beside the middle of its row
	}
	if okOwn && p.have > 0 && p.spacer-p.have+own.nominal > eps {
		makes(o, p.at, "width", tenth(p.spacer-p.have+own.nominal))
	}
	return name + " " + tenth(p.spacer)
}
