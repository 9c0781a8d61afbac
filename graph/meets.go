package graph

import (
	_ "embed"
	"slices"
	"strings"
	"sync"
)

// judged holds, a line each, the pairs of feature kinds that a rule of
// queries/mating judges and that can mate. A test there keeps it and the rules
// equal.
//
//go:embed meetings.txt
var judged string

// unjudged are pairs that a person may well join and no rule judges: what
// changes there is compared by hand. Any other pair can't meet.
var unjudged = [...][2]string{
	{"bearing", "bore"}, {"bearing", "clevis"}, {"bearing", "eye"}, {"bearing-seat", "bore"},
	{"bolt-pattern", "eye"}, {"bolt-pattern", "clevis"}, {"bolt-pattern", "points"},
	{"bore", "bore"}, {"bore", "spigot"}, {"bore", "tube"},
	{"cap", "female-thread"}, {"cap-seat", "male-thread"},
	{"circlip", "bore"}, {"circlip", "shaft"},
	{"clamp", "bore"}, {"clamp", "clamp"}, {"clamp", "shaft"}, {"clamp", "spigot"},
	{"clevis", "bore"}, {"clevis", "shaft"}, {"eye", "bore"}, {"eye", "eye"}, {"eye", "shaft"}, {"eye", "tube"},
	{"fork-length", "fork-length"}, {"gap", "gap"},
	{"hose-end", "bore"}, {"hose-end", "clamp"}, {"hose-end", "shaft"}, {"hose-end", "tube"},
	{"male-thread", "bolt-pattern"}, {"male-thread", "points"},
	{"male-thread", "port"}, {"male-thread", "screwed-end"},
	{"nipple", "clevis"}, {"nipple", "eye"},
	{"pushrod", "bore"}, {"row-width", "row-width"}, {"row-width", "shaft"}, {"row-width", "bore"},
	{"seal", "bore"}, {"seal", "tube"}, {"seal-seat", "shaft"},
	{"shaft", "shaft"}, {"shaft", "spigot"}, {"shaft", "tube"}, {"shaft", "hub-row"},
	{"sleeve", "eye"}, {"sleeve", "clevis"},
	{"spring", "bore"}, {"spring", "eye"}, {"spring", "shaft"}, {"spring", "tube"},
	{"sprocket", "sprocket-plane"}, {"steering-stop", "swing"}, {"tube", "tube"},
	{"washer", "bolt-pattern"}, {"washer", "bore"}, {"washer", "clevis"}, {"washer", "eye"}, {"washer", "female-thread"},
	{"washer", "shaft"}, {"washer", "screwed-end"}, {"washer", "washer"}, {"washer", "banjo"},
}

// Meeting says how two kinds of feature stand to each other.
type Meeting int

// The ways two kinds can stand to each other.

const (
	CantMeet Meeting = iota // nobody joins such two
	NoRule                  // they may be joined, and no rule judges it
	CanMeet                 // a rule judges it
)

// HowMeet says how two kinds of feature stand to each other, in either order. A
// kind that nothing knows meets nothing.
func HowMeet(a, b string) Meeting { return meetingsByKinds()[[2]string{a, b}] }

// Meets lists the kinds of feature that can mate with one of a kind, sorted;
// empty when no rule knows the kind.
func Meets(kind string) []string {
	var kinds []string
	for pair, how := range meetingsByKinds() {
		if how == CanMeet && pair[0] == kind {
			kinds = append(kinds, pair[1])
		}
	}
	slices.Sort(kinds)
	return kinds
}

// meetingsByKinds is made once and then only read; each pair stands in it both
// ways.
var meetingsByKinds = sync.OnceValue(func() map[[2]string]Meeting {
	all := map[[2]string]Meeting{}
	add := func(a, b string, how Meeting) { all[[2]string{a, b}], all[[2]string{b, a}] = how, how }
	for _, p := range unjudged {
		add(p[0], p[1], NoRule)
	}
	for line := range strings.Lines(judged) {
		if a, b, ok := strings.Cut(strings.TrimSpace(line), " "); ok {
			add(a, b, CanMeet)
		}
	}
	return all
})
