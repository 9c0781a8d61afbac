package examine

import (
	"errors"
	"fmt"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/trade"
)

// The hand force and pad clearance at which brakes are compared. Round figures
// of ours for comparison only: common practice, no source.
const (
	handForce    = 100.0 // N at the lever's end
	padClearance = 0.1   // mm between one pad and its disc face
)

// hydraulics is what one master moves. A field that is not known keeps its
// flag false.
type hydraulics struct {
	g                           *gauge
	bore, lever, stroke, reach  float64
	okBore, okLever, okCalipers bool
	okStroke, okReach           bool
	style                       string
	calipers                    []trade.Caliper
	wheel                       string
	slave                       bool
	slaveBore                   float64
}

var errMissing = errors.New("something is not known")

func readHydraulics(s *machine.Setup, c graph.Circuit) hydraulics {
	h := hydraulics{g: &gauge{s: s}, wheel: c.Wheel, okCalipers: len(c.Fed) > 0}
	for _, id := range c.Feeds {
		master := h.g.feature(id, "master-bore")
		h.bore, h.okBore = h.g.number(master, "bore")
		h.lever, h.okLever = h.g.number(master, "lever-ratio")
		h.stroke, h.okStroke = h.g.number(master, "stroke")
		h.reach, h.okReach = h.g.number(master, "reach")
		h.style, _ = h.g.word(master, "style")
		break // of several masters, each would move the calipers alone
	}
	for _, id := range c.Fed {
		h.addCaliper(id)
	}
	return h
}

func (h *hydraulics) addCaliper(id graph.PositionID) {
	pistons := h.g.feature(id, "pistons")
	sizes, okSizes := h.g.value(pistons, "sizes")
	word, okLayout := h.g.word(pistons, "layout")
	layout, err := trade.ParseLayout(word)
	if !okSizes || !okLayout || err != nil {
		h.okCalipers = false
		return
	}
	caliper := trade.Caliper{Layout: layout, Pistons: lists.Mapped(sizes.Sizes, func(s measure.Size) trade.Piston {
		return trade.Piston{Count: s.Count, Diameter: s.Diameter}
	})}
	for range h.g.s.Quantity(id) {
		h.calipers = append(h.calipers, caliper)
	}
	if layout == trade.Slave && len(sizes.Sizes) > 0 {
		h.slave, h.slaveBore = true, sizes.Sizes[0].Diameter
	}
}

func (h hydraulics) ratio() (float64, error) {
	if !h.okBore || !h.okCalipers {
		return 0, errMissing
	}
	return trade.HydraulicRatio(h.bore, h.calipers...)
}

func (h hydraulics) leverage() (float64, error) {
	ratio, err := h.ratio()
	if err != nil || !h.okLever {
		return 0, errors.Join(err, errIf(!h.okLever))
	}
	return trade.TotalLeverage(ratio, h.lever)
}

func (h hydraulics) pressure() (float64, error) {
	if !h.okBore || !h.okLever {
		return 0, errMissing
	}
	return trade.LinePressure(handForce, h.lever, h.bore)
}

func (h hydraulics) clamp() (float64, error) {
	p, err := h.pressure()
	if err != nil || !h.okCalipers {
		return 0, errors.Join(err, errIf(!h.okCalipers))
	}
	return trade.ClampForce(p, h.calipers...)
}

func (h hydraulics) fluid() (float64, error) {
	if !h.okCalipers {
		return 0, errMissing
	}
	return trade.FluidDisplaced(padClearance, h.calipers...)
}

func (h hydraulics) pistonStroke() (float64, error) {
	ratio, err := h.ratio()
	if err != nil {
		return 0, err
	}
	return trade.PistonStroke(ratio, padClearance)
}

func (h hydraulics) travel() (float64, error) {
	stroke, err := h.pistonStroke()
	if err != nil || !h.okLever {
		return 0, errors.Join(err, errIf(!h.okLever))
	}
	return trade.LeverTravel(stroke, h.lever)
}

func (h hydraulics) reserve() (trade.Reserve, error) {
	travel, err := h.travel()
	if err != nil || !h.okReach {
		return trade.Reserve{}, errors.Join(err, errIf(!h.okReach))
	}
	return trade.ReserveToGrip(h.reach, travel)
}

func (h hydraulics) slaveTravel() (float64, error) {
	if !h.okBore || !h.okStroke || !h.slave {
		return 0, errMissing
	}
	return trade.SlaveTravel(h.stroke, h.bore, h.slaveBore)
}

func errIf(missing bool) error {
	if missing {
		return errMissing
	}
	return nil
}

// RefsOf are the positions as places of no particular feature.
func RefsOf(ids []graph.PositionID) []graph.FeatureRef {
	return lists.Mapped(ids, func(id graph.PositionID) graph.FeatureRef { return graph.FeatureRef{Position: id} })
}

const pascal = "Pascal's principle; all pistons of all calipers on that master, both sides, a sliding caliper's " +
	"piston twice"

// pascalSlave is the same for a clutch, which has one slave and no calipers.
const pascalSlave = "Pascal's principle"

const (
	ratioLaw    = "area of all pistons / area of the master, a sliding caliper's pistons twice"
	pressureLaw = "hand force x lever ratio / area of the master"
)

func pressureDims() []string { return []string{"bore", "lever-ratio"} }

// brakeFormulas are the figures of a brake: by hand in front, by foot at the
// rear, where there is no grip to come near.
func brakeFormulas(wheel string) []formula[hydraulics] {
	worked := "lever"
	if wheel == "rear" {
		worked = "pedal"
	}
	atForce := fmt.Sprintf(" at %g N on the %s", handForce, worked)
	atClearance := fmt.Sprintf(" at %g mm pad clearance", padClearance)
	formulas := []formula[hydraulics]{
		{name: "hydraulic ratio", decimals: 2, law: ratioLaw, source: pascal, work: hydraulics.ratio, words: ratioWords,
			needs: ratioDims()},
		{name: "total leverage", decimals: 1, law: "hydraulic ratio x lever ratio", source: "levers and Pascal's principle",
			work: hydraulics.leverage, words: leverageWords,
			needs: append(ratioDims(), "lever-ratio")},
		{name: "line pressure" + atForce, unit: "bar", decimals: 1, law: pressureLaw, source: pascal,
			work: hydraulics.pressure, needs: pressureDims()},
		{name: "clamp force" + atForce, unit: "N", law: "line pressure x piston area, a sliding piston's twice",
			source: pascal, work: hydraulics.clamp, needs: append(ratioDims(), "lever-ratio")},
		{name: "fluid moved" + atClearance, unit: "cm3", decimals: 2,
			law: "piston area x pad clearance, a sliding piston's twice", source: "volume of a cylinder", work: hydraulics.fluid,
			needs: []string{"sizes", "layout"}},
		{name: "stroke of the master" + atClearance, unit: "mm", decimals: 2, law: "hydraulic ratio x pad clearance",
			source: "the same fluid in and out", work: hydraulics.pistonStroke,
			judge: judgeStroke, needs: append(ratioDims(), "stroke")},
		{name: worked + " travel" + atClearance, unit: "mm", decimals: 1, law: "stroke of the master x lever ratio",
			source: "levers; hoses swell, so it is a lower bound", work: hydraulics.travel,
			needs: append(ratioDims(), "lever-ratio")},
	}
	if worked == "pedal" {
		return formulas
	}
	return append(formulas, formula[hydraulics]{name: "reserve to the grip", unit: "mm", decimals: 1,
		law: "reach of the lever - lever travel", needs: append(ratioDims(), "lever-ratio", "reach"),
		source: "reach less travel; 13 mm at the hardest squeeze: a rider-training guide",
		work:   func(h hydraulics) (float64, error) { r, err := h.reserve(); return r.Gap, err }, judge: judgeReserve})
}

// ratioDims are what the hydraulic ratio is worked out from.
func ratioDims() []string { return []string{"bore", "sizes", "layout"} }

// clutchFormulas are the figures of a hydraulic clutch. Where one was built in, the
// travel is judged against that one's, as its leverage is.
func clutchFormulas(before hydraulics, isBuiltIn bool) []formula[hydraulics] {
	judge := func(_ hydraulics, travel float64) (graph.Verdict, string) { return judgeSlave(before, travel) }
	if isBuiltIn {
		judge = nil
	}
	return []formula[hydraulics]{
		{name: "hydraulic ratio", decimals: 2, law: "area of the slave / area of the master", source: pascalSlave,
			work: hydraulics.ratio, needs: ratioDims()},
		{name: "slave travel at full stroke", unit: "mm", decimals: 2, law: "stroke x area of the master / area of the slave",
			source: "the same fluid in and out; common practice", needs: append(ratioDims(), "stroke"),
			work:  hydraulics.slaveTravel,
			judge: judge},
		{name: fmt.Sprintf("line pressure at %g N on the lever", handForce), unit: "bar", decimals: 1, law: pressureLaw,
			source: pascalSlave, work: hydraulics.pressure, needs: pressureDims()},
	}
}

// judgeSlave holds the travel of a slave cylinder against that before, which is
// known to have released the clutch.
func judgeSlave(before hydraulics, travel float64) (graph.Verdict, string) {
	was, err := before.slaveTravel()
	switch {
	case err != nil:
		return graph.Unknown, "what the clutch needs to release is not known: measure how far the pushrod moves from rest " +
			"to released"
	case travel < was:
		return graph.Unknown, "less than before, so the clutch may drag: measure how far the pushrod moves from rest to " +
			"released"
	}
	return graph.Fits, "as much as before or more"
}

func judgeStroke(h hydraulics, stroke float64) (graph.Verdict, string) {
	switch {
	case !h.okStroke:
		return graph.Unknown, "the usable stroke of the master is not known"
	case stroke > h.stroke:
		return graph.DoesNotFit, fmt.Sprintf("the master bottoms: its usable stroke is %s",
			measure.Format(h.stroke, measure.Length))
	}
	return graph.Fits, ""
}

func judgeReserve(h hydraulics, gap float64) (graph.Verdict, string) {
	r, err := h.reserve()
	if err != nil {
		return graph.NoVerdict, ""
	}
	if !r.Enough {
		return graph.DoesNotFit, "less than " + measure.Format(trade.LeastReserve,
			measure.Length) + ": the lever comes too near the grip"
	}
	return graph.Fits, "enough by pad clearance alone; try it at the hardest squeeze"
}
