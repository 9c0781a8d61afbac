package mating

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"matewell/graph"
)

// rule judges a meeting of a feature of kind a with one of kind b. It is called
// with the sides in that order.
type rule struct {
	a, b  string
	judge func(*bench, Meeting)
}

// rules lists every pair of feature kinds that has a rule. A pair stands here
// once; Judge turns a meeting round when its sides come the other way.
func rules() []rule {
	return []rule{
		{"male-thread", "female-thread", boltInThread},
		{"male-thread", "male-thread", twoMales},
		{"female-thread", "female-thread", twoFemales},
		{"male-thread", "eye", boltInEye},
		{"male-thread", "clevis", boltInClevis},
		{"male-thread", "bore", boltInBore},
		{"washer", "male-thread", washerOnThread},
		{"washer", "port", washerOnThread},
		{"banjo", "port", banjoOnPort},
		{"screwed-end", "port", screwedEndInPort},
		{"bolt-pattern", "bolt-pattern", patternOnPattern},
		{"caliper-mount", "caliper-mount", caliperOnLeg},
		{"caliper-slot", "disc-rim", discInSlot},
		{"shaft", "bore", shaftInBore},
		{"bearing", "shaft", bearingOnShaft},
		{"bearing", "bearing-seat", bearingInSeat},
		{"bearing-seat", "shaft", bridgeSeatToShaft},
		{"seal", "shaft", sealOnShaft},
		{"seal", "seal-seat", sealInSeat},
		{"clamp", "tube", clampOnTube},
		{"eye", "clevis", eyeInClevis},
		{"sleeve", "shaft", sleeveOnShaft},
		{"sleeve", "tube", sleeveOnShaft},
		{"sleeve", "bore", sleeveInBoreOf},
		{"sleeve", "clamp", sleeveInClampOf},
		{"circlip", "circlip-groove", circlipInGroove},
		{"yoke-offset", "yoke-offset", yokesTogether},
		{"steering-stop", "steering-stop", stopsMeet},
		{"spring", "spring-room", springInRoom},
		{"cap", "cap-seat", capInSeat},
		{"friction-plate", "clutch-basket", frictionInBasket},
		{"steel-plate", "clutch-hub", steelOnHub},
		{"cush-rubber", "cush-bay", cushInBay},
		{"joining-link", "chain", joiningLinkOnChain},
		{"sprocket-boss", "sprocket-seat", sprocketInSeat},
		{"tab-washer", "female-thread", tabWasherOnNut},
		{"tab-washer", "spline", tabWasherOnShaft},
		{"bar-fitting", "bar-end", fittingOnBar},
		{"bar-weight", "bar-end", weightInBar},
		{"cable-pull", "cable-draw", cableDrawn},
		{"ferrule", "ferrule-seat", ferruleInSeat},
		{"pushrod", "pushrod-seat", pushrodInSeat},
		{"rod-end", "link-rod", rodEndOnRod},
		{"signal-out", "signal-in", signalRead},
		{"hose-end", "spigot", hoseOnPipe},
		{"hose-end", "hose-end", twoHoseEnds},
		{"spigot", "spigot", twoPipes},
		{"hose-clamp", "hose-end", clampOnHose},
		{"throat-row", "throat-row", throatsMeet},
		{"tap-inlet", "tank-outlet", tapInTank},
		{"fuse", "fuse-holder", fuseInHolder},
		{"stator", "regulator", statorOnRegulator},
		{"stator", "rectifier", statorOnRectifier},
		{"stator", "field-control", statorOnFieldControl},
		{"field-control", "battery", regulatorOnBattery},
		{"regulator", "battery", regulatorOnBattery},
		{"battery", "battery-box", batteryInBox},
		{"ignition-coil", "ignition-output", ignitionOnCoil},
		{"nipple", "nipple-seat", nippleInSeat},
		{"row-width", "gap", rowInGap},
		{"tyre", "tyre", tubeInTyre},
		{"tyre", "rim", tyreOnRim},
		{"tyre", "tyre-need", tyreOnNeed},
		{"tyre", "tyre-room", tyreInRoom},
		{"pad", "pad-seat", padInCaliper},
		{"shoes", "drum", shoesInDrum},
		{"shoes", "shoe-carrier", shoesOnCarrier},
		{"brake-rod", "rod-room", rodInRoom},
		{"chain", "sprocket", chainOnSprocket},
		{"belt", "pulley", beltOnPulley},
		{"spline", "spline", splineOnSpline},
		{"connector", "connector", plugOnPlug},
		{"lamp-cap", "lamp-holder", bulbInHolder},
		{"beam", "traffic", beamInTraffic},
		{"fluid", "fluid", fluidOnFluid},
		{"points", "points", panelOnCarrier},
		{"finish", "finish", finishOnFinish},
	}
}

// ruleFor is the rule for two kinds, in whichever order they come.
func ruleFor(a, b string) (rule, bool) {
	if r, ok := rulesByKinds()[[2]string{a, b}]; ok {
		return r, true
	}
	r, ok := rulesByKinds()[[2]string{b, a}]
	return r, ok
}

// Compares reports whether a rule compares features of two kinds, in whichever
// order they come.
func Compares(a, b string) bool {
	_, ok := ruleFor(a, b)
	return ok
}

// rulesByKinds is made once and then only read.
var rulesByKinds = sync.OnceValue(func() map[[2]string]rule {
	byKinds := map[[2]string]rule{}
	for _, r := range rules() {
		byKinds[[2]string{r.a, r.b}] = r
	}
	return byKinds
})

// Judge says whether the two features of a meeting mate. It gives at least one
// check; several when a joint has several things to go wrong. Two kinds that no
// rule pairs give one unknown.
func Judge(m Meeting) []Check {
	if r, ok := ruleFor(m.A.Feature.Kind, m.B.Feature.Kind); ok {
		if m.A.Feature.Kind != r.a {
			m.A, m.B = m.B, m.A
		}
		if r.a == r.b && turned(m) {
			m.A, m.B = m.B, m.A
		}
		flip := m.New != "" && m.New == m.B.Position && m.New != m.A.Position
		return judge(flip, func(b *bench) {
			b.brief = m.Brief
			r.judge(b, m)
			washersOver(b, m)
			limit(b, m)
		})
	}
	kinds := []string{kindWords(m.A), kindWords(m.B)}
	slices.Sort(kinds)
	return []Check{{Rule: "no rule", Verdict: graph.Unknown,
		Why: fmt.Sprintf("no rule for %s against %s: compare them by hand", kinds[0], kinds[1])}}
}

// Meets lists the kinds of feature that can mate with one of a kind, sorted:
// those that a rule pairs with it, but for two threads of one sort, which never
// do. Empty when no rule knows the kind.
func Meets(kind string) []string {
	var kinds []string
	for _, r := range rules() {
		switch {
		case r.a == r.b && strings.HasSuffix(kind, "-thread"):
		case r.a == kind:
			kinds = append(kinds, r.b)
		case r.b == kind:
			kinds = append(kinds, r.a)
		}
	}
	slices.Sort(kinds)
	return kinds
}

func kindWords(s Side) string {
	if s.Feature.Kind == "" {
		return "a feature nobody described"
	}
	return s.Feature.Kind
}

// turned says whether two sides of one kind must change places, so that the
// answer does not depend on the order they came in: the new part first, else
// by identity.
func turned(m Meeting) bool {
	if m.New != "" && (m.New == m.A.Position) != (m.New == m.B.Position) {
		return m.New == m.B.Position
	}
	return compareSides(m.A, m.B) > 0
}

func compareSides(a, b Side) int {
	return cmp.Or(cmp.Compare(a.Position, b.Position), cmp.Compare(a.Part, b.Part),
		cmp.Compare(a.Feature.Name, b.Feature.Name), cmp.Compare(dimsText(a), dimsText(b)))
}

func dimsText(s Side) string {
	var text strings.Builder
	for _, name := range slices.Sorted(maps.Keys(s.Feature.Dims)) {
		text.WriteString(name)
		for _, r := range s.Feature.Dims[name] {
			text.WriteString("=" + r.Text)
		}
		text.WriteString(";")
	}
	return text.String()
}
