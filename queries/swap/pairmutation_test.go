package swap_test

import (
	"fmt"
	"maps"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// pairMutant are both parts of a joint as built, each with one dimension changed by
// the same factor: they go together as they did, and what stays on the machine was made
// for neither.
type pairMutant struct {
	on    graph.VariantID
	joint graph.Joint
	ends  [2]mutant
}

func (p pairMutant) String() string {
	return fmt.Sprintf("%s %s: %s; %s", p.on, p.joint.ID, p.ends[0], p.ends[1])
}

// name is the same on all machines that have both parts in that joint.
func (p pairMutant) name() string {
	return fmt.Sprintf("%s: %s; %s", p.joint.ID, p.ends[0].name(), p.ends[1].name())
}

// sort is what survivors are counted by.
func (p pairMutant) sort() string {
	end := func(m mutant) string {
		return fmt.Sprintf("%s.%s (%s.%s)", m.feature.Kind, m.dim, m.part.Kind, m.feature.Name)
	}
	return end(p.ends[0]) + " with " + end(p.ends[1])
}

// pairFactors are what both sizes of a pair are multiplied by.
var pairFactors = []float64{4.0 / 3, 2, 0.5}

// pairsOf are the mutants of a joint: of each two dimensions of its ends that measure
// about the same, or say the same, both are another; and of a tyre and its rim both
// widths.
func pairsOf(on graph.VariantID, j graph.Joint, s *machine.Setup, kinds map[graph.KindID]graph.Kind) []pairMutant {
	ends := [2]mutant{}
	for i, ref := range []graph.FeatureRef{j.A, j.B} {
		seat := s.Seat(ref.Position)
		f, ok := seat.Part.Feature(ref.Feature)
		if seat.Empty || !ok {
			return nil
		}
		ends[i] = mutant{on: on, at: seat.Position, part: seat.Part, kind: kinds[seat.Part.Kind], feature: f}
	}
	if ends[0].at.ID == ends[1].at.ID {
		return nil
	}
	var all []pairMutant
	specA, _ := graph.FeatureKindNamed(ends[0].feature.Kind)
	specB, _ := graph.FeatureKindNamed(ends[1].feature.Kind)
	for _, a := range specA.Dims {
		for _, b := range specB.Dims {
			for _, factor := range pairFactors {
				p := pairMutant{on: on, joint: j, ends: ends}
				if p.set(a, b, factor) && !slices.ContainsFunc(all, func(o pairMutant) bool { return o.name() == p.name() }) {
					all = append(all, p)
				}
			}
		}
	}
	return all
}

// set changes one dimension of either end; false where the two do not belong together,
// where one decides nothing, and where there is no other value.
func (p *pairMutant) set(a, b graph.DimSpec, factor float64) bool {
	tyre := p.ends[0].feature.Kind == "tyre" && a.Name == "size" && b.Name == "width"
	if !tyre && a.Type != b.Type {
		return false
	}
	texts := [2]string{}
	for i, spec := range []graph.DimSpec{a, b} {
		m := &p.ends[i]
		if len(m.feature.Dims[spec.Name]) == 0 || m.kind.WhyNot(m.feature.Name, spec) != "" {
			return false
		}
		m.dim, m.was = spec.Name, m.feature.Dims[spec.Name][0].Text
		texts[i] = byFactor(spec, m.was, factor)
		m.text = texts[i]
	}
	if tyre {
		return texts[0] != p.ends[0].was && texts[1] != p.ends[1].was
	}
	return alike(a, p.ends[0].was, p.ends[1].was) && texts[0] != "" && texts[1] != "" &&
		texts[0] != p.ends[0].was && texts[1] != p.ends[1].was
}

// alike reports whether two dimensions measure about the same, so that a change of
// both by one factor leaves them going together.
func alike(spec graph.DimSpec, a, b string) bool {
	if !spec.Type.Measured() && spec.Type != measure.Count {
		return strings.EqualFold(a, b)
	}
	x, errX := measure.ParseQuantity(a, spec.Type)
	y, errY := measure.ParseQuantity(b, spec.Type)
	return errX == nil && errY == nil && x.Nominal > 0 && y.Nominal > 0 &&
		math.Abs(x.Nominal/y.Nominal-1) < 0.15
}

var tyreWidth = regexp.MustCompile(`^(\d+(?:\.\d+)?)`)

// byFactor is a value times a factor: of a thread the next larger one, of a word another,
// of a tyre its width.
func byFactor(spec graph.DimSpec, text string, factor float64) string {
	switch {
	case spec.Name == "size" && tyreWidth.MatchString(text) && spec.Type == measure.Word:
		return tyreWidth.ReplaceAllStringFunc(text, func(width string) string {
			f, _ := strconv.ParseFloat(width, 64)
			if f < 20 { // inches
				return fmt.Sprintf("%.2f", math.Round(f*factor*4)/4)
			}
			return fmt.Sprintf("%.0f", math.Round(f*factor/10)*10)
		})
	case spec.Type == measure.Count:
		v, err := measure.ParseQuantity(text, spec.Type)
		if err != nil {
			return ""
		}
		return fmt.Sprint(int(math.Ceil(v.Nominal * factor)))
	case spec.Type.Measured():
		v, err := measure.ParseQuantity(text, spec.Type)
		if err != nil || v.Nominal == 0 {
			return ""
		}
		if v.Low == v.High {
			return measure.Format(v.Nominal*factor, spec.Type)
		}
		return measure.Format(v.Low*factor, spec.Type) + "-" + measure.Format(v.High*factor, spec.Type)
	case factor != pairFactors[0]:
		return "" // there is one other word only
	}
	return byAThird(spec, text)
}

// Two parts that are changed alike go together as they did. What stays on the machine,
// and what fastens, seals or guides them, was made for neither: a third thing must be
// asked about one of the two, to which the other then is held, or the answer leave it open.
func TestPairedMutants(t *testing.T) {
	demotest.Alone(t)
	for _, set := range dataSets(t) {
		t.Run(set.name, func(t *testing.T) { tryPairs(t, set.facts, set.share) })
	}
}

func tryPairs(t *testing.T, facts graph.Facts, many int) {
	t.Helper()
	share := sampletest.OneIn(t, many)
	all := tallied(t, "joints", facts.Joints, func(t *testing.T, joints []graph.Joint) mutantTally {
		return tryPairsAt(t, facts, joints, share)
	})
	left := 0
	for _, sort := range slices.Sorted(maps.Keys(all.survivors)) {
		left += len(all.survivors[sort])
		t.Errorf("%d survive: %s, as %s", len(all.survivors[sort]), sort, all.survivors[sort][0])
	}
	t.Logf("%d pairs tried, %d told, %d survive unexplained", all.tried, all.told, left)
	enough(t, all.tried, 22)
}

// tryPairsAt tries those of some joints on all machines.
func tryPairsAt(t *testing.T, facts graph.Facts, joints []graph.Joint, share func(string) bool) mutantTally {
	t.Helper()
	r, tally := mutantsOver(facts), mutantTally{survivors: map[string][]string{}}
	eachPair(t, r, facts, joints, share, func(before *machine.Setup, p pairMutant) {
		tally.tried++
		if pairSurvives(t, r, before, p) {
			tally.survivors[p.sort()] = append(tally.survivors[p.sort()], p.String())
		} else {
			tally.told++
		}
	})
	return tally
}

// eachPair gives those of some joints that are in the share, each once, with the first
// machine that has both parts in that joint.
func eachPair(t *testing.T, r *mutants, facts graph.Facts, joints []graph.Joint, share func(string) bool,
	try func(*machine.Setup, pairMutant)) {
	t.Helper()
	kinds := lists.ByKey(facts.Kinds, func(k graph.Kind) graph.KindID { return k.ID })
	seen, made := map[string]bool{}, map[string][2]graph.Part{}
	for _, v := range facts.Variants {
		before := machine.StartIn(machine.NewLibrary(r), v, "")
		for _, j := range jointsOn(t, before, joints) {
			a, b := before.Seat(j.A.Position).Part, before.Seat(j.B.Position).Part
			key := fmt.Sprint(j.ID, " ", a.ID, " ", b.ID)
			if was, ok := made[key]; ok && readAlike(was[0], a) && readAlike(was[1], b) {
				continue // all of them were tried
			}
			made[key] = [2]graph.Part{a, b}
			for _, p := range pairsOf(v.ID, j, before, kinds) {
				if name := p.name(); !seen[name] && share(name) {
					seen[name] = true
					try(before, p)
				}
			}
		}
	}
}

// jointsOn are those of some joints that a machine has, their places loaded.
func jointsOn(t *testing.T, before *machine.Setup, joints []graph.Joint) []graph.Joint {
	t.Helper()
	own := lists.Kept(joints, func(j graph.Joint) bool { return slices.Contains(j.On, before.Variant.ID) })
	var at []graph.PositionID
	for _, j := range own {
		at = append(at, j.A.Position, j.B.Position)
	}
	if err := before.Load(t.Context(), at...); err != nil {
		t.Fatal(err)
	}
	return own
}

// pairSurvives reports whether a pair is called usable although nothing but the two was
// held against what is another in one of them.
func pairSurvives(t *testing.T, r *mutants, before *machine.Setup, p pairMutant) bool {
	t.Helper()
	defer clear(r.parts)
	stood, after := r.put(t, before, string(p.joint.ID), p.ends[:]...)
	refused := isRefused(t, stood, after, graph.FitsWithChanges, p.ends[:]...)
	if refused && r.count%judgedAllTheSame > 1 { // two are made for each
		return false
	}
	j, err := swap.Judge(t.Context(), stood, after, swap.Asked{})
	if err != nil {
		t.Fatalf("%s: %v", p, err)
	}
	if refused {
		mustRefuse(t, p, j, graph.FitsWithChanges)
	}
	if j.Answer.Verdict > graph.FitsWithChanges {
		return false
	}
	survives := !slices.ContainsFunc(p.ends[:], func(m mutant) bool { return isAskedOfThird(j, p, m) }) && !isScrewed(p)
	if only := os.Getenv("MATEWELL_DEBUG"); survives && only != "" && strings.HasPrefix(p.sort(), only) {
		fmt.Println(p, j.Answer.Verdict)
		for _, o := range j.Outcomes {
			for _, c := range o.Checks {
				fmt.Println("   ", o.What, o.ID, c.Rule, c.Verdict, c.Why, lists.Mapped(c.Uses, func(u mating.Use) string {
					return fmt.Sprint(u.Position.Local(), ".", u.Feature, ".", u.Dim, " ", u.Part)
				}))
			}
		}
	}
	return survives
}

// isScrewed reports whether one part is screwed into the other, as a mirror into its perch:
// their thread clamps nothing else. Bolts and nuts must suit what they hold.
func isScrewed(p pairMutant) bool {
	return p.ends[0].dim == "thread" && p.ends[1].dim == "thread" &&
		!machine.IsHardware(p.ends[0].at.Kind) && !machine.IsHardware(p.ends[1].at.Kind)
}

// isAskedOfThird reports whether something besides the pair was held against what is
// another in one of the two, or the answer leaves it open.
func isAskedOfThird(j swap.Judgement, p pairMutant, m mutant) bool {
	if graph.Confined(m.feature.Kind, m.dim) != "" {
		return true // the reason is written there
	}
	for _, o := range j.Outcomes {
		if slices.ContainsFunc(o.Checks, func(c mating.Check) bool { return looksFurther(c, p, m) }) {
			return true
		}
	}
	return slices.ContainsFunc(j.Answer.NotJudged, func(n examine.NotJudged) bool {
		return n.Position == m.at.ID && n.Feature == m.feature.Name && (n.Dim == m.dim || n.Dim == "") && n.Decides
	})
}

// looksFurther reports whether a check holds what is another against more than the pair.
func looksFurther(c mating.Check, p pairMutant, m mutant) bool {
	looks := slices.ContainsFunc(c.Uses, func(u mating.Use) bool {
		return u.Position == m.at.ID && u.Feature == m.feature.Name && u.Dim == m.dim
	})
	return looks && slices.ContainsFunc(c.Uses, func(u mating.Use) bool {
		return u.Position != p.ends[0].at.ID && u.Position != p.ends[1].at.ID
	})
}
