package mating

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"matewell/graph"
)

// maxTrials is how many combinations of contested readings are tried; beyond
// it each reading is tried alone against the best of all others.
const maxTrials = 64

// trial is one judgement with one choice of readings.
type trial struct {
	pick   picked
	checks []Check
}

// judge runs a rule with the best readings, then with every other reading that
// it looked at, and marks what they disagree on.
func judge(flip bool, rule func(*bench)) []Check {
	seen := &sights{}
	try := func(pick picked) trial {
		b := &bench{pick: pick, looked: seen, flip: flip}
		rule(b)
		t := trial{pick: pick}
		t.checks = slices.Grow(t.checks, len(b.checks))
		for _, c := range b.checks {
			t.checks = append(t.checks, c.closed())
		}
		return t
	}
	best := try(nil)
	trials := []trial{best}
	for known := -1; len(contested(seen)) > known; {
		known = len(contested(seen))
		trials = []trial{best}
		for _, pick := range picks(seen) {
			trials = append(trials, try(pick))
		}
	}
	if len(trials) == 1 {
		return best.checks
	}
	return settle(trials, seen)
}

// contested are the places with more than one value, in a fixed order.
func contested(seen *sights) []int {
	var places []int
	for i := range seen.found {
		if len(seen.found[i].readings) > 1 {
			places = append(places, i)
		}
	}
	slices.SortFunc(places, func(i, j int) int {
		a, b := &seen.places[i], &seen.places[j]
		return cmp.Or(cmp.Compare(a.position, b.position), cmp.Compare(a.part, b.part),
			cmp.Compare(a.feature, b.feature), cmp.Compare(a.dim, b.dim), cmp.Compare(a.first.Text, b.first.Text))
	})
	return places
}

// picks are the choices of readings to try besides the best of all.
func picks(seen *sights) []picked {
	places := contested(seen)
	all := []picked{make(picked, len(seen.places))}
	for _, at := range places {
		if len(all)*len(seen.found[at].readings) > maxTrials {
			return alone(places, seen)
		}
		var next []picked
		for _, pick := range all {
			for i := range seen.found[at].readings {
				wider := slices.Clone(pick)
				wider[at] = i
				next = append(next, wider)
			}
		}
		all = next
	}
	return all[1:] // the first is the best of all
}

func alone(places []int, seen *sights) []picked {
	var all []picked
	for _, at := range places {
		for i := 1; i < len(seen.found[at].readings); i++ {
			pick := make(picked, len(seen.places))
			pick[at] = i
			all = append(all, pick)
		}
	}
	return all
}

// settle takes the checks of the best trial and marks those that other
// readings would decide otherwise.
func settle(trials []trial, seen *sights) []Check {
	var settled []Check
	for _, name := range ruleNames(trials) {
		verdict := func(a, b Check) bool { return verdictOf(a) != verdictOf(b) }
		orders := func(a, b Check) bool { return !reflect.DeepEqual(a.Orders, b.Orders) }
		c, ok := named(trials[0].checks, name)
		if deciding := decided(trials, seen, name, verdict); len(deciding) > 0 {
			settled = append(settled, disputed(c, name, deciding, seen, trials))
		} else if deciding := decided(trials, seen, name, orders); ok && len(deciding) > 0 {
			settled = append(settled, unsure(c, deciding, seen))
		} else if ok {
			settled = append(settled, c)
		}
	}
	return settled
}

func ruleNames(trials []trial) []string {
	var names []string
	for _, t := range trials {
		for _, c := range t.checks {
			if !slices.Contains(names, c.Rule) {
				names = append(names, c.Rule)
			}
		}
	}
	return names
}

func named(checks []Check, name string) (Check, bool) {
	i := slices.IndexFunc(checks, func(c Check) bool { return c.Rule == name })
	if i < 0 {
		return Check{Rule: name}, false
	}
	return checks[i], true
}

// verdictOf takes a check that a trial did not make for one without objection.
func verdictOf(c Check) graph.Verdict { return max(c.Verdict, graph.Fits) }

// decided are the contested places that alone tell two trials apart whose
// checks of one name differ.
func decided(trials []trial, seen *sights, name string, differ func(a, b Check) bool) []int {
	var places []int
	for _, at := range contested(seen) {
		if slices.ContainsFunc(trials, func(t trial) bool {
			return slices.ContainsFunc(trials, func(u trial) bool {
				a, _ := named(t.checks, name)
				b, _ := named(u.checks, name)
				return t.pick.at(at) < u.pick.at(at) && onlyAt(at, t.pick, u.pick) && differ(a, b)
			})
		}) {
			places = append(places, at)
		}
	}
	return places
}

func onlyAt(at int, a, b picked) bool {
	for other := range max(len(a), len(b)) {
		if other != at && a.at(other) != b.at(other) {
			return false
		}
	}
	return true
}

// disputed turns a check into an unknown that names the measurement.
func disputed(c Check, name string, deciding []int, seen *sights, trials []trial) Check {
	verdicts := []string{}
	for _, t := range trials {
		other, _ := named(t.checks, name)
		if words := verdictOf(other).String(); !slices.Contains(verdicts, words) {
			verdicts = append(verdicts, words)
		}
	}
	c.Verdict, c.Effort, c.Do, c.Orders, c.Disputed = graph.Unknown, graph.EffortNone, nil, nil, true
	c.Why = fmt.Sprintf("%s, and that decides: %s", differWords(deciding, seen), strings.Join(verdicts, " or "))
	return withSides(c, deciding, seen)
}

// unsure keeps the verdict but warns that what is to be made depends on a
// reading that sources give differently.
func unsure(c Check, deciding []int, seen *sights) Check {
	c.Why += "; " + differWords(deciding, seen) + ": measure before anything is made"
	return withSides(c, deciding, seen)
}

func withSides(c Check, deciding []int, seen *sights) Check {
	c.Uses, c.Measure = slices.Clone(c.Uses), slices.Clone(c.Measure)
	for _, i := range deciding {
		at := seen.places[i]
		for _, r := range seen.found[i].readings {
			if use := (Use{at.position, at.part, at.feature, at.dim, r}); !slices.Contains(c.Uses, use) {
				c.Uses = append(c.Uses, use)
			}
		}
		if ask := seen.found[i].ask(); !slices.Contains(c.Measure, ask) {
			c.Measure = append(c.Measure, ask)
		}
	}
	return c
}

// differWords is "sources differ on bore of the eye: 10.2 mm or 10 mm".
func differWords(deciding []int, seen *sights) string {
	words := make([]string, len(deciding))
	for i, at := range deciding {
		var texts []string
		for _, r := range seen.found[at].readings {
			texts = append(texts, r.Text)
		}
		words[i] = seen.found[at].ask().brief() + ": " + strings.Join(texts, " or ")
	}
	return "sources differ on " + strings.Join(words, ", ")
}
