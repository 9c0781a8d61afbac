package swap

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/assemble"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/trade"
)

// TorqueRow is what is known of tightening one disturbed joint.
type TorqueRow struct {
	Joint     graph.JointID      `json:"joint"`
	Between   []examine.End      `json:"between"`
	Fasteners []graph.PositionID `json:"fasteners,omitempty"`
	// Torque is the value to use; empty when only See says where to look.
	Torque string           `json:"torque,omitempty"`
	Source *evidence.Source `json:"source,omitempty"`
	// Given are all values that sources give, best first, also those that do
	// not hold for this pairing.
	Given []TorqueGiven `json:"given,omitempty"`
	// See says where to look, or why a given value does not hold.
	See string `json:"see,omitempty"`
	// Conflict is true when sources give values that exclude each other.
	Conflict bool `json:"conflict,omitempty"`
}

// TorqueAsBuilt is what a TorqueGiven is for that speaks of the joint itself.
const TorqueAsBuilt = "this joint as built"

// TorqueGiven is one source's value.
type TorqueGiven struct {
	Value  string          `json:"value"`
	For    string          `json:"for"` // "this joint", "fjeld-750/2004/eu", "a plain joint"
	Source evidence.Source `json:"source"`
}

// torques lists the disturbed joints that are held by fasteners or for which a
// source gives a torque. A torque belongs to a joint: it is never worked out,
// and holds only while the part that carries the thread is the one it was
// given for; where nobody recorded which that is, while each side is as built, or has what
// it is joined by recorded and no thread there.
func torques(x *judging, outcomes []examine.Outcome, donors map[graph.PositionID]donorSeat) []TorqueRow {
	var rows []TorqueRow
	for _, o := range outcomes {
		if !o.Disturbed || len(o.Joint.Fasteners) == 0 && len(o.Joint.Torque) == 0 ||
			x.After.IsLeftOut(o.Joint.A.Position) || x.After.IsLeftOut(o.Joint.B.Position) ||
			isThreadJoint(x, o.Joint) && heldElsewhere(x, o.Joint, outcomes) {
			continue
		}
		rows = append(rows, torque(x, o, donors))
		rows = append(rows, clampTorques(x, o, outcomes, donors)...)
	}
	return rows
}

// clampTorques are the rows of the bolts that clamp something screwed in, as the
// pinch bolts of an axle: they have a torque of their own.
func clampTorques(x *judging, o examine.Outcome, outcomes []examine.Outcome,
	donors map[graph.PositionID]donorSeat) []TorqueRow {
	if !isThreadJoint(x, o.Joint) {
		return nil
	}
	var rows []TorqueRow
	for _, k := range threadsOf(x, o.Joint) {
		told := slices.ContainsFunc(outcomes,
			func(t examine.Outcome) bool { return t.Disturbed && t.Joint.ID == k.ID })
		if !told {
			rows = append(rows, torque(x, examine.Outcome{What: examine.OfJoint, ID: string(k.ID), Joint: k,
				Ends: x.Ends(k.A, k.B)}, donors))
		}
	}
	return rows
}

// TorquesOpened are the rows of joints that come apart only because something else
// has to come off, of all that are opened: those that have no row yet. With the parts as
// they are, what is said of each holds. Known are all joints of the machine, before and
// after say what sits on it.
func TorquesOpened(before *examine.Before, after *machine.Setup, joints, known []graph.Joint,
	have []TorqueRow) []TorqueRow {
	x := judgingBy((&examine.Connections{Known: known}).Examiner(before, after), nil)
	return openedRows(x, openedOutcomes(x, joints), have)
}

// openedOutcomes are joints that come apart, none of which was judged.
func openedOutcomes(x *judging, joints []graph.Joint) []examine.Outcome {
	return lists.Mapped(joints, func(j graph.Joint) examine.Outcome {
		return examine.Outcome{What: examine.OfJoint, ID: string(j.ID), Joint: j, Ends: x.Ends(j.A, j.B), Disturbed: true}
	})
}

func openedRows(x *judging, opened []examine.Outcome, have []TorqueRow) []TorqueRow {
	var rows []TorqueRow
	for _, o := range opened {
		if hasRow(have, o.Joint.ID) {
			continue
		}
		isTurned := len(o.Joint.Torque)+len(o.Joint.Fasteners) > 0 || assemble.JointOf(x.After, o.Joint).Nut != ""
		if !isThreadJoint(x, o.Joint) || isTurned && !heldElsewhere(x, o.Joint, opened) {
			rows = append(rows, torque(x, o, nil))
		}
	}
	return rows
}

// OnceMade is a row once what is made or got besides is on: where a bolt of the joint is
// ordered anew, or something made is clamped in it, bolt, grip or thread is not the one
// that a value was given for.
func (r TorqueRow) OnceMade(gets []Get) TorqueRow {
	isAnother := func(g Get) bool {
		if g.Part != "" && g.What != GetAdapter || g.IsWork() {
			return false
		}
		return slices.Contains(g.For, string(r.Joint)) || g.Position != "" && slices.Contains(r.Fasteners, g.Position)
	}
	if r.Torque != "" && slices.ContainsFunc(gets, isAnother) {
		r.Torque, r.Source = "", nil
		r.See = "the values given hold for the joint as built, and a bolt, or what it clamps, is made anew: see the " +
			"maker's manual for that"
	}
	return r
}

// screwedIn is what is turned in a joint that is only a thread: the nut of an axle, else
// what goes into the thread.
func screwedIn(s *machine.Setup, j graph.Joint) []graph.PositionID {
	if nut := assemble.JointOf(s, j).Nut; nut != "" {
		return []graph.PositionID{nut}
	}
	ends := lists.Kept([]graph.FeatureRef{j.A, j.B}, func(ref graph.FeatureRef) bool {
		return s.Side(ref).Feature.Kind == "male-thread"
	})
	return lists.Mapped(ends, func(ref graph.FeatureRef) graph.PositionID { return ref.Position })
}

// isThreadJoint reports whether a joint is only a bolt in its thread.
func isThreadJoint(x *judging, j graph.Joint) bool {
	return x.After.Side(j.A).Feature.Kind == "male-thread" || x.After.Side(j.B).Feature.Kind == "male-thread"
}

// heldElsewhere reports whether the bolt of a thread joint is listed under
// another disturbed joint, which then stands for both. What clamps something
// screwed in stands for itself.
func heldElsewhere(x *judging, j graph.Joint, outcomes []examine.Outcome) bool {
	return slices.ContainsFunc(outcomes, func(o examine.Outcome) bool {
		return o.Disturbed && !isThreadJoint(x, o.Joint) && (slices.Contains(o.Joint.Fasteners, j.A.Position) ||
			slices.Contains(o.Joint.Fasteners, j.B.Position))
	})
}

func torque(x *judging, o examine.Outcome, donors map[graph.PositionID]donorSeat) TorqueRow {
	row := TorqueRow{Joint: o.Joint.ID, Between: o.Ends, Fasteners: o.Joint.Fasteners}
	carrier := carrierOf(x, o.Joint)
	readings := slices.Clone(o.Joint.Torque)
	if isThreadJoint(x, o.Joint) {
		row.Fasteners = screwedIn(x.After, o.Joint) // its fasteners only clamp it
	} else {
		for _, j := range threadsOf(x, o.Joint) {
			readings = append(readings, j.Torque...)
		}
	}
	readings = x.After.Library().Evidence().Holding(readings, x.After.Variant)
	row.Given = torqueGiven(x.After, readings, TorqueAsBuilt)
	sameCarrier := x.isAsBuilt(carrier.Position)
	if carrier.Position == "" {
		isKnown := func(ref graph.FeatureRef) bool { return x.isAsBuilt(ref.Position) || x.After.KindOf(ref) != "" }
		sameCarrier = isKnown(o.Joint.A) && isKnown(o.Joint.B)
	}
	switch {
	case len(row.Given) > 0 && !torquesClash(equals(row.Given)) && !boltsAsBuilt(x, o.Joint):
		row.Conflict = torquesClash(row.Given)
		row.See = "the values given hold for the bolt as built, which has another thread or a higher class; " +
			seeManual(x.After, carrier)
	case len(row.Given) > 0 && sameCarrier:
		row.use(seeManual(x.After, carrier))
	case len(row.Given) > 0:
		row.See = "the values given hold for the part as built; " + seeManual(x.After, carrier)
	case examine.FirstSafety(safetyWithBolts(x, o)) == graph.SafetyNone:
		genericTorque(x, &row, o.Joint, carrier)
	default:
		row.See = seeManual(x.After, carrier)
	}
	if !sameCarrier {
		row.Given = append(row.Given, donorTorques(x, o, carrier, donors)...)
	}
	return row
}

// boltsAsBuilt reports whether the torque of the joint as built may be that of its bolts:
// none has another thread than the one built in, or a lower property class.
func boltsAsBuilt(x *judging, j graph.Joint) bool {
	for _, ref := range append([]graph.FeatureRef{j.A, j.B}, examine.RefsOf(j.Fasteners)...) {
		if ref.Feature != "" && !isThreadJoint(x, j) {
			continue // what is clamped is no bolt
		}
		now, built := boltOf(x.After.Seat(ref.Position).Part), boltOf(x.After.BuiltAt(ref.Position).Part)
		if now.Kind != "" && built.Kind != "" && mating.IsLesserBolt(now, built) {
			return false
		}
	}
	return true
}

func boltOf(p graph.Part) graph.Feature {
	at := slices.IndexFunc(p.Features, func(f graph.Feature) bool { return f.Kind == "male-thread" })
	if at < 0 {
		return graph.Feature{}
	}
	return p.Features[at]
}

// use takes the best value that is given, or see where sources of equal rank exclude one
// another.
func (r *TorqueRow) use(see string) {
	r.Conflict = torquesClash(r.Given)
	if torquesClash(equals(r.Given)) {
		r.See = "sources of equal rank disagree; " + see
		return
	}
	r.Torque, r.Source = r.Given[0].Value, &r.Given[0].Source
}

// TorquesStanding are the rows of joints of a machine that is put together as it stands, in
// their order, and of the bolts that clamp what is screwed into one of them: those that
// have no row yet. Known are these joints and all that their fasteners are in; who gives their
// torques must have been read.
func TorquesStanding(s *machine.Setup, joints, known []graph.Joint, have []TorqueRow) []TorqueRow {
	x := judgingBy((&examine.Connections{Known: known}).Examiner(examine.From(s), s), nil)
	opened := openedOutcomes(x, joints)
	rows := openedRows(x, opened, have)
	for _, o := range opened {
		for _, clamp := range clampTorques(x, o, nil, nil) {
			if !hasRow(rows, clamp.Joint) && !hasRow(have, clamp.Joint) {
				rows = append(rows, clamp)
			}
		}
	}
	return rows
}

func hasRow(rows []TorqueRow, id graph.JointID) bool {
	return slices.ContainsFunc(rows, func(r TorqueRow) bool { return r.Joint == id })
}

func safetyWithBolts(x *judging, o examine.Outcome) []graph.Safety {
	refs := []graph.FeatureRef{o.Joint.A, o.Joint.B}
	return x.SafetyOf(x.Ends(append(refs, examine.RefsOf(o.Joint.Fasteners)...)...))
}

// threadsOf are the joints of the fasteners of a joint with their threads.
func threadsOf(x *judging, j graph.Joint) []graph.Joint {
	var threads []graph.Joint
	for k := range x.JointsAt(j.Fasteners...) {
		if k.ID != j.ID && isThreadJoint(x, *k) {
			threads = append(threads, *k)
		}
	}
	return threads
}

// carrierOf is the feature that carries the thread of a joint: the tapped side
// of a fastener's own joint, else the side of the joint that is tapped.
func carrierOf(x *judging, j graph.Joint) graph.FeatureRef {
	through := append(threadsOf(x, j), j)
	if isThreadJoint(x, j) {
		through = []graph.Joint{j}
	}
	for _, k := range through {
		for _, ref := range []graph.FeatureRef{k.A, k.B} {
			f, _ := x.After.Seat(ref.Position).Part.Feature(ref.Feature)
			if f.Kind == "female-thread" || f.Kind == "port" || f.Kind != "male-thread" && len(f.Dims["thread"]) > 0 {
				return ref
			}
		}
	}
	return graph.FeatureRef{}
}

func seeManual(s *machine.Setup, carrier graph.FeatureRef) string {
	if carrier.Position == "" {
		return "see the maker's manual for the part that carries the thread"
	}
	return fmt.Sprintf("see the maker's manual for the part that carries the thread (%s at %s)",
		s.Seat(carrier.Position).Part.ID, carrier.Position.Local())
}

// torqueGiven puts readings in rank order, each value with its source.
func torqueGiven(s *machine.Setup, readings []graph.Reading, whose string) []TorqueGiven {
	var given []TorqueGiven
	for _, r := range s.Library().Evidence().RankReadings(graph.DimSpec{Type: measure.Torque}, readings, &s.Variant) {
		given = append(given, TorqueGiven{Value: r.Text, For: whose,
			Source: s.Library().Evidence().ReadingVoice(r, &s.Variant)})
	}
	return given
}

// torquesClash reports whether two values have nothing in common.
func torquesClash(given []TorqueGiven) bool {
	for i, a := range given {
		for _, b := range given[i+1:] {
			x, errX := measure.ParseQuantity(a.Value, measure.Torque)
			y, errY := measure.ParseQuantity(b.Value, measure.Torque)
			if errX == nil && errY == nil && (x.High < y.Low-1e-9 || y.High < x.Low-1e-9) {
				return true
			}
		}
	}
	return false
}

// equals are the values with sources as good as the best.
func equals(given []TorqueGiven) []TorqueGiven {
	return lists.Kept(slices.Clone(given), func(g TorqueGiven) bool { return g.Source.Rank == given[0].Source.Rank })
}

// donorTorques are the values that sources give where the new part that carries
// the thread is built on.
func donorTorques(x *judging, o examine.Outcome, carrier graph.FeatureRef,
	donors map[graph.PositionID]donorSeat) []TorqueGiven {
	d, ok := donors[carrier.Position]
	if !ok {
		return nil
	}
	var given []TorqueGiven
	for _, j := range d.joints {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			for _, own := range []graph.FeatureRef{o.Joint.A, o.Joint.B, carrier} {
				if ref.Position == d.position && own.Position == carrier.Position && ref.Feature == own.Feature {
					given = append(given, torqueGiven(d.setup, j.Torque, string(d.setup.Variant.ID))...)
				}
			}
		}
	}
	slices.SortStableFunc(given, func(a, b TorqueGiven) int {
		return cmp.Or(evidence.CompareSources(a.Source, b.Source), cmp.Compare(a.Value, b.Value))
	})
	return slices.CompactFunc(given,
		func(a, b TorqueGiven) bool { return a.Value == b.Value && a.Source.ID == b.Source.ID })
}

// genericTorque quotes the general tables for a plain joint of no safety class,
// dry, steel in steel.
func genericTorque(x *judging, row *TorqueRow, j graph.Joint, carrier graph.FeatureRef) {
	row.See = seeManual(x.After, carrier)
	bolts, _ := x.After.FastenersOf(j)
	if len(bolts) == 0 {
		return
	}
	thread, err := measure.ParseThread(machine.BestText(bolts[0].Feature, "thread"))
	tapped, _ := x.After.Seat(carrier.Position).Part.Feature(carrier.Feature)
	material := strings.ToLower(machine.BestText(tapped, "material"))
	if err != nil || thread.Standard != "metric" || material == "" {
		return
	}
	plain := trade.PlainJoint{Diameter: thread.Nominal, Pitch: thread.Pitch, Alloy: material != "steel",
		Oiled: surfaced(bolts[0])}
	claims, err := trade.GenericTorque(plain)
	if err != nil {
		row.See = noTable(plain, material) + "; " + row.See
		return
	}
	for _, c := range claims {
		value := measure.Format(c.Low, measure.Torque)
		if c.High > c.Low {
			value = measure.Quantity{Type: measure.Torque, Low: c.Low, High: c.High, Nominal: (c.Low + c.High) / 2, Range: true,
				Unit: "N m"}.String()
		}
		row.Given = append(row.Given, TorqueGiven{Value: value, For: "a plain dry joint",
			Source: evidence.Source{ID: "general table", Kind: string(graph.SourcePractice), Title: c.Source,
				Rank: evidence.RankReport, At: "-"}})
	}
	row.Torque, row.Source = row.Given[0].Value, &row.Given[0].Source
	row.Conflict = trade.TorquesConflict(claims)
	row.See = "a general table, only where no source gives the joint's own value"
}

// noTable says why the general tables give nothing for a plain joint.
func noTable(j trade.PlainJoint, material string) string {
	switch {
	case j.Alloy:
		return "the thread is cut in " + material + ", for which general tables don't hold"
	case j.Oiled:
		return "the bolt is plated or glued, for which general tables don't hold"
	}
	return "no general table has this thread"
}

// surfaced reports whether a bolt is plated, oiled or glued, which a general
// table does not hold for.
func surfaced(bolt mating.Side) bool {
	finish := strings.ToLower(machine.BestText(bolt.Feature, "finish"))
	return finish != "" && finish != "plain" && finish != "black" && finish != "bare"
}
