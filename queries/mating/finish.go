package mating

import (
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// PanelCase is the painted panels of one machine, which must look as one.
type PanelCase struct {
	Panels []Side // features of kind finish, one for each painted part
	Scheme string // the scheme wanted; empty when the panels need only agree
}

// JudgePanels judges whether painted panels share one scheme, and where no
// scheme is known one paint, and one surface. It looks at appearance only.
func JudgePanels(in PanelCase) []Check {
	return judge(false, func(b *bench) { oneScheme(b, in) })
}

func finishOnFinish(b *bench, m Meeting) {
	oneScheme(b, PanelCase{Panels: []Side{m.A, m.B}})
}

func oneScheme(b *bench, in PanelCase) {
	c := b.check("scheme")
	groups := newGroups()
	if in.Scheme != "" {
		groups.add(in.Scheme, "wanted")
	}
	var unknown []Side
	for _, p := range in.Panels {
		if v, ok := c.peek(p, "scheme", measure.Word); ok {
			groups.add(v.Text, short(p))
		} else {
			unknown = append(unknown, p)
		}
	}
	switch {
	case len(groups.names) > 1:
		c.change(graph.EffortHandTools, "find the odd panels in the right scheme, or have them painted", "panels of %d "+
			"schemes: %s", len(groups.names), groups)
	case len(groups.names) == 1 && len(unknown) == 0:
		c.fits("all of scheme %s", groups.names[0])
	case len(groups.names) == 0:
		onePaint(c, in.Panels)
		return
	}
	for _, p := range unknown {
		c.ask(askFor(p, "scheme"))
	}
}

// onePaint compares paint codes where nobody knows a scheme. One scheme may
// have several paints, so different codes prove nothing.
func onePaint(c *check, panels []Side) {
	groups := newGroups()
	for _, p := range panels {
		if v, ok := c.read(p, "paint", measure.Word); ok {
			groups.add(v.Text, short(p))
		}
	}
	switch {
	case len(groups.names) == 1 && len(c.missing) == 0:
		c.fits("all in paint %s", groups.names[0])
	case len(groups.names) > 1:
		for _, p := range panels {
			c.settle(askFor(p, "scheme"))
		}
		c.unknown("several paints, which may belong to one scheme: %s", groups)
	}
}

// groups gathers labels by a word, in the order the words came.
type groups struct {
	names []string
	of    map[string][]string
}

func newGroups() *groups { return &groups{of: map[string][]string{}} }

func (g *groups) add(word, name string) {
	key := strings.ToLower(word)
	if g.of[key] == nil {
		g.names = append(g.names, key)
	}
	g.of[key] = append(g.of[key], name)
}

// String is "ash (tank, seat), kelp (nose)".
func (g *groups) String() string {
	words := make([]string, len(g.names))
	for i, name := range g.names {
		words[i] = fmt.Sprintf("%s (%s)", name, strings.Join(g.of[name], ", "))
	}
	return strings.Join(words, ", ")
}
