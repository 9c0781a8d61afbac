package graph

import (
	"slices"
	"sync"
)

// meetings are the pairs of feature kinds that a rule of queries/mating judges
// and that can mate. A test there keeps this list and the rules equal.
var meetings = [...][2]string{
	{"banjo", "port"},
	{"bar-fitting", "bar-end"},
	{"bar-weight", "bar-end"},
	{"battery", "battery-box"},
	{"beam", "traffic"},
	{"bearing", "bearing-seat"},
	{"bearing", "shaft"},
	{"bearing-seat", "shaft"},
	{"bolt-pattern", "bolt-pattern"},
	{"cable-pull", "cable-draw"},
	{"caliper-mount", "caliper-mount"},
	{"caliper-slot", "disc-rim"},
	{"cap", "cap-seat"},
	{"chain", "sprocket"},
	{"circlip", "circlip-groove"},
	{"clamp", "tube"},
	{"connector", "connector"},
	{"cush-rubber", "cush-bay"},
	{"eye", "clevis"},
	{"ferrule", "ferrule-seat"},
	{"finish", "finish"},
	{"fluid", "fluid"},
	{"friction-plate", "clutch-basket"},
	{"fuse", "fuse-holder"},
	{"hose-clamp", "hose-end"},
	{"hose-end", "hose-end"},
	{"hose-end", "spigot"},
	{"ignition-coil", "ignition-output"},
	{"joining-link", "chain"},
	{"lamp-cap", "lamp-holder"},
	{"male-thread", "bore"},
	{"male-thread", "clevis"},
	{"male-thread", "eye"},
	{"male-thread", "female-thread"},
	{"nipple", "nipple-seat"},
	{"points", "points"},
	{"pushrod", "pushrod-seat"},
	{"regulator", "battery"},
	{"rod-end", "link-rod"},
	{"row-width", "gap"},
	{"screwed-end", "port"},
	{"seal", "seal-seat"},
	{"seal", "shaft"},
	{"shaft", "bore"},
	{"sleeve", "bore"},
	{"sleeve", "clamp"},
	{"sleeve", "shaft"},
	{"sleeve", "tube"},
	{"signal-out", "signal-in"},
	{"spigot", "spigot"},
	{"spline", "spline"},
	{"spring", "spring-room"},
	{"sprocket-boss", "sprocket-seat"},
	{"stator", "regulator"},
	{"steel-plate", "clutch-hub"},
	{"steering-stop", "steering-stop"},
	{"tab-washer", "female-thread"},
	{"tab-washer", "spline"},
	{"tap-inlet", "tank-outlet"},
	{"throat-row", "throat-row"},
	{"tyre", "rim"},
	{"washer", "male-thread"},
	{"washer", "port"},
	{"yoke-offset", "yoke-offset"},
}

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
	{"brake-rod", "rod-room"}, {"pushrod", "bore"}, {"row-width", "row-width"}, {"row-width", "shaft"}, {"row-width", "bore"},
	{"seal", "bore"}, {"seal", "tube"}, {"seal-seat", "shaft"},
	{"shaft", "shaft"}, {"shaft", "spigot"}, {"shaft", "tube"}, {"shaft", "hub-row"},
	{"sleeve", "eye"}, {"sleeve", "clevis"},
	{"shoes", "drum"}, {"shoes", "shoe-carrier"}, {"spring", "bore"}, {"spring", "eye"}, {"spring", "shaft"}, {"spring", "tube"},
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
	add := func(pairs [][2]string, how Meeting) {
		for _, p := range pairs {
			all[p], all[[2]string{p[1], p[0]}] = how, how
		}
	}
	add(unjudged[:], NoRule)
	add(meetings[:], CanMeet)
	return all
})
