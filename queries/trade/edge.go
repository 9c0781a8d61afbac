package trade

import (
	"cmp"
	"slices"
)

// edgeRule is what one published rule asks between a bolt hole and the edge of
// the metal, or between two holes.
type edgeRule struct {
	Name string // "EN 1993-1-8, least"
	// Edge is the least distance from the hole's centre to the edge, mm; 0 when
	// the rule says nothing of it.
	Edge float64
	// Pitch is the least distance from centre to centre, mm; 0 when the rule
	// says nothing of it.
	Pitch float64
	// By says what the rule counts in: "hole" or "bolt". Two rules with the same
	// number are not the same rule.
	By     string
	Source string
}

// Names of the rules that decide; the others are shown beside them.
const (
	edgeLeast   = "EN 1993-1-8, least"
	edgeBracket = "tabs and brackets"
	edgeAlloy   = "aircraft practice, aluminium"
)

// edgeRules are the rules for a bolt of a diameter in a hole, shortest edge
// first: they disagree, and none is chosen here.
//
//	least        e = 1.2 hole, pitch = 2.2 hole
//	workshop     e = 1.5 bolt
//	bracket      e = 1.5 hole
//	sheared      e = 1.75 bolt, pitch = 2 2/3 bolt
//	alloy        e = 2 bolt, pitch = 3 bolt
//	full bearing e = 2 hole (end), pitch = 3.5 hole
//
// In mm, centre to edge. Sources: EN 1993-1-8 table 3.3 (structures), AISC 360
// J3 (tabled from M16, below that by its ratio), a student race-car rule for
// tabs and brackets, AC 43.13-1B as builders use it for bolts, a building
// engineers' manual; the workshop rule is common practice, no source. Steel
// only but for the aluminium one. Refuses a bolt outside 2 to 60 mm and a hole
// smaller than the bolt or more than half as wide again.
func edgeRules(bolt, hole float64) ([]edgeRule, error) {
	err := cmp.Or(between("bolt", bolt, 2, 60, "mm"), between("hole", hole, bolt, 1.5*bolt, "mm"))
	if err != nil {
		return nil, err
	}
	rules := []edgeRule{
		{edgeLeast, 1.2 * hole, 2.2 * hole, "hole", "EN 1993-1-8 table 3.3"},
		{"workshop", 1.5 * bolt, 0, "bolt", "common practice, no source"},
		{edgeBracket, 1.5 * hole, 0, "hole", "a student race-car rule, e/D of at least 1.5"},
		{"sheared edge", 1.75 * bolt, 8.0 / 3 * bolt, "bolt", "AISC 360 J3, tabled from M16, below by its ratio"},
		{edgeAlloy, 2 * bolt, 3 * bolt, "bolt", "AC 43.13-1B for rivets, as builders use it for bolts"},
		{"full bearing", 2 * hole, 3.5 * hole, "hole", "building engineers' manual table 14.1"},
	}
	slices.SortStableFunc(rules, func(a, b edgeRule) int { return cmp.Compare(a.Edge, b.Edge) })
	return rules, nil
}

// EdgeNeed is what decides about metal around a hole: below Least no rule lets
// it pass, from Enough up the rule for such a part does, and between the two it
// is somebody's word with a rule's name to it.
type EdgeNeed struct {
	Least, Enough           float64 // centre to edge, mm
	LeastPitch, EnoughPitch float64 // centre to centre, mm
	LeastBy, EnoughBy       string  // the rules by name
}

// EdgeNeeded is the need of a bracket, plate or ring in steel or in aluminium.
//
// Sources as edgeRules: the least of all of them; enough is the rule for tabs
// and brackets in steel, the aircraft one in aluminium; pitch in steel 2.4
// holes, the across-load figure of EN 1993-1-8, in aluminium 3 bolts. Refuses
// what edgeRules refuses and another material.
func EdgeNeeded(bolt, hole float64, material string) (EdgeNeed, error) {
	rules, err := edgeRules(bolt, hole)
	if err != nil {
		return EdgeNeed{}, err
	}
	by := map[string]edgeRule{}
	for _, r := range rules {
		by[r.Name] = r
	}
	need := EdgeNeed{Least: by[edgeLeast].Edge, LeastPitch: by[edgeLeast].Pitch, LeastBy: edgeLeast}
	switch material {
	case "steel":
		need.Enough, need.EnoughPitch, need.EnoughBy = by[edgeBracket].Edge, 2.4*hole, edgeBracket
	case "aluminium":
		need.Enough, need.EnoughBy = max(by[edgeBracket].Edge, by[edgeAlloy].Edge), edgeAlloy
		need.EnoughPitch = max(2.4*hole, by[edgeAlloy].Pitch)
	default:
		return EdgeNeed{}, &inputError{"material", "\"" + material + "\"", "steel or aluminium"}
	}
	return need, nil
}

// SleeveWall is the least wall of a made sleeve by its bore, in mm.
//
//	bore up to 18: 1.0, up to 28: 1.5, up to 44: 2.0, above: 2.5
//
// Source: the walls of wrapped bushes of ISO 3547, from memory: it alone
// decides nothing. Refuses a bore outside 3 to 75 mm.
func SleeveWall(bore float64) (float64, error) {
	if err := between("bore", bore, 3, 75, "mm"); err != nil {
		return 0, err
	}
	switch {
	case bore <= 18:
		return 1, nil
	case bore <= 28:
		return 1.5, nil
	case bore <= 44:
		return 2, nil
	}
	return 2.5, nil
}
