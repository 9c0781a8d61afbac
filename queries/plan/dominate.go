package plan

import (
	"context"
	"slices"
	"strconv"
	"strings"
)

// dropDominated takes out options that some other option of the same slot beats
// wherever it is used, and reports whether there were any. It never touches an
// option that could be part of a cheapest plan, so that ties are counted right.
func dropDominated(ctx context.Context, r *room) (bool, error) {
	dropped := false
	for s := range r.options {
		if err := ctx.Err(); err != nil {
			return dropped, err
		}
		if len(r.options[s]) < 2 {
			continue
		}
		var tables []table // made for the first option that costs no less than another
		var gone []int
		for _, a := range r.options[s] {
			for _, b := range r.options[s] {
				if a == b || slices.Contains(gone, b) || !isCheaper(r, s, b, a) {
					continue
				}
				if tables == nil {
					tables = tablesAt(r, s)
				}
				if standsIn(b, a, tables) {
					gone = append(gone, a)
					break
				}
			}
		}
		if len(gone) > 0 {
			dropped = true
			r.options[s] = slices.DeleteFunc(r.options[s], func(o int) bool { return slices.Contains(gone, o) })
		}
	}
	return dropped, nil
}

// table is a demand seen from one of its slots: for each option there, the
// costs by what the other slots take.
type table map[int]map[string][]Cost

func tablesAt(r *room, slot int) []table {
	out := make([]table, 0, len(r.demands[slot]))
	for _, i := range r.demands[slot] {
		d := r.p.Demands[i]
		at := slices.Index(d.Slots, slot)
		t := table{}
		for _, c := range r.allowed[i] {
			options := d.Allowed[c].Options
			mine := t[options[at]]
			if mine == nil {
				mine = map[string][]Cost{}
				t[options[at]] = mine
			}
			key := others(options, at)
			mine[key] = append(mine[key], d.Allowed[c].Cost)
		}
		out = append(out, t)
	}
	return out
}

// others is the options but one, as a key.
func others(options []int, but int) string {
	var b strings.Builder
	for k, o := range options {
		if k != but {
			b.WriteString(strconv.Itoa(o))
			b.WriteByte(' ')
		}
	}
	return b.String()
}

// isCheaper reports whether b makes each plan cheaper than a, where it can stand in for
// it: at least one sum is less, nothing is more. Effort alone doesn't count as cheaper,
// since another slot may set the highest class.
func isCheaper(r *room, slot, b, a int) bool {
	options := r.p.Slots[slot].Options
	return atMost(options[b].Cost, options[a].Cost) && sumsLess(options[b].Cost, options[a].Cost)
}

// standsIn reports whether b can stand in for a in every plan.
func standsIn(b, a int, tables []table) bool {
	for _, t := range tables {
		for key, costs := range t[a] {
			for _, cost := range costs {
				if !slices.ContainsFunc(t[b][key], func(c Cost) bool { return atMost(c, cost) }) {
					return false
				}
			}
		}
	}
	return true
}

func atMost(c Cost, d Cost) bool {
	for _, l := range levels() {
		if at(c, l) > at(d, l) {
			return false
		}
	}
	return true
}

func sumsLess(c Cost, d Cost) bool {
	for _, l := range levels() {
		if l != effort && at(c, l) < at(d, l) {
			return true
		}
	}
	return false
}
