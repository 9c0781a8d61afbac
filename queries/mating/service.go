package mating

import "strings"

// This file says what a change asks for besides parts: what goes in new, what is
// run in, and what proves the work. All of it is common practice, no source; the
// maker's manual says how, and overrides it.

// WetCircuit is a hydraulic circuit as a change leaves it.
type WetCircuit struct {
	// Opened is true when fluid comes out of it.
	Opened bool
	// Fluids says which fluid all of its parts allow, or why they allow none in
	// common; Agreed is true when they do. Which kinds mix stands in 49 CFR
	// 571.116, and is judged by the rule of the circuit.
	Fluids string
	Agreed bool
}

// FluidService is what an opened circuit asks for; empty for one that stays shut.
func FluidService(c WetCircuit) string {
	if !c.Opened {
		return ""
	}
	which := orUnknown(c.Fluids, "which kind the maker's manual and the reservoir's cap say")
	if !c.Agreed {
		which = "settle first which: " + which
	}
	return "new fluid (" + which + "), never what was drained; bleed it until no air comes; " +
		"then with the lever held down hard nothing may sink or weep"
}

// CoolantService is what a cooling of which a hose comes off asks for; empty for one that
// stays shut. Common practice, no source.
func CoolantService(opened bool) string {
	if !opened {
		return ""
	}
	return "engine cold, coolant drained before the hose comes off; new coolant of the sort that the maker's manual " +
		"says, filled slowly at the highest point; run it until the thermostat opens, then top it up cold"
}

// TyreService is what a tyre that goes onto a rim asks for; empty for one that stays on.
// Common practice, no source.
func TyreService(fitted bool) string {
	if !fitted {
		return ""
	}
	return "tyre on with its arrow the way the wheel turns, its bead seated evenly all round on both sides; the wheel " +
		"balanced; pressure as the maker's manual says, cold"
}

// LegOil is what is recorded of the oil in a fork leg; a field is empty when
// nobody recorded it.
type LegOil struct {
	Opened bool   // the leg is another one, or something comes out of it
	Grade  string // "10 W"
	Level  string // air over the oil, spring out, leg fully compressed: "130 mm"
}

// OilService is what an opened fork leg asks for; empty for one that stays shut. A
// grade or level that nobody recorded is never guessed.
func OilService(o LegOil) string {
	if !o.Opened {
		return ""
	}
	grade := orUnknown(o.Grade, "of the grade that the maker's manual says")
	level := orUnknown(o.Level, "as much as the maker's manual says")
	if o.Level != "" {
		level += " of air over it"
	}
	return "new fork oil, " + grade + ", " + level +
		": measure with the spring out and the leg fully compressed, the same in both legs"
}

// Friction is what a change does to a disc or drum and to what rubs on it.
type Friction struct {
	NewDisc bool // the disc is another one
	NewPads bool // the pads are others
}

// FrictionService is what new friction parts ask for: what to get besides, and what to
// do; nothing when nothing is new.
func FrictionService(f Friction) (gets, work []string) {
	if f.NewDisc && !f.NewPads {
		gets = append(gets, "new pads with the new disc: the old ones have worn to the old one")
	}
	if f.NewDisc {
		work = append(work, "disc clean of oil and grease, and running true, before the wheel goes in")
	}
	if f.NewDisc || f.NewPads {
		work = append(work, "pump the lever until it is firm before the machine moves; bed the pads in with gentle stops, "+
			"cooling in between: until then it brakes less")
	}
	return gets, work
}

// ChainLink is what a change does to a chain and to the link that closes it.
type ChainLink struct {
	NewChain bool
	Judged   bool // the link that goes on was held against the chain
}

// LinkService is what a new chain asks for to close it; empty where nothing is. Pins and
// plates of a link are made for the chain of its maker. Source: chain makers' guides.
func LinkService(l ChainLink) string {
	if !l.NewChain || l.Judged {
		return ""
	}
	return "a new connecting link, of the new chain's own make and form: riveted, or clipped with the closed end of the " +
		"clip running forward, as the chain's maker says"
}

func orUnknown(text, otherwise string) string {
	if strings.TrimSpace(text) == "" {
		return otherwise
	}
	return text
}
