package donor_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
)

// isOn reports whether a step puts something on at a place.
func isOn(s donor.WorkStep, id graph.PositionID) bool {
	return s.Position == id && slices.Contains([]string{donor.DoFit, donor.DoIn, donor.DoBack}, s.Do)
}

// TestWhatIsRenewedGoesOn: each part that is to be renewed for some work goes on in a step of it:
// a seal that a spacer ran in, too.
func TestWhatIsRenewedGoesOn(t *testing.T) {
	demotest.Alone(t)
	for _, on := range []string{"skerry-620/2003/eu/late", "fjeld-750/2003/eu"} {
		b, share := benchOf(t, demotest.Facts(t), on), sampletest.OneIn(t, 24)
		for _, p := range b.places {
			isSpacer := strings.Contains(string(p.Kind), "spacer")
			if b.before.Seat(p.ID).Empty || !isSpacer && !share(on+" "+p.ID.Local()) {
				continue
			}
			steps, a := b.workFor(t, map[graph.PositionID]graph.PartID{p.ID: b.before.Seat(p.ID).Part.ID})
			for _, r := range a.Renew {
				if r.Part == "" || r.Work || r.Link {
					continue
				}
				if !slices.ContainsFunc(steps, func(s donor.WorkStep) bool { return isOn(s, r.Position) && s.New }) {
					t.Errorf("%s, %s replaced: %s is renewed at %s, and no step puts it on", on, p.ID.Local(), r.Part,
						r.Position.Local())
				}
			}
		}
	}
}

// TestTakenOffForGoodIsDrained: whatever a circuit is made of and that is taken off for good, its
// fluid is out before anything comes off, and what is said of filling and bleeding names the place
// that is empty.
func TestTakenOffForGoodIsDrained(t *testing.T) {
	demotest.Alone(t)
	facts := demotest.Facts(t)
	b := benchOf(t, facts, "skerry-620/2005/eu")
	for _, c := range facts.Circuits {
		if !slices.Contains(c.On, b.before.Variant.ID) || c.Carries == "current" {
			continue
		}
		for _, id := range c.Places() {
			if b.before.Seat(id).Empty || !slices.Contains([]graph.KindID{"reservoir", "brake-hose", "reservoir-hose",
				"master-cylinder", "caliper"}, b.before.Position(id).Kind) {
				continue
			}
			steps, _ := b.workFor(t, map[graph.PositionID]graph.PartID{id: ""})
			n := turnsOf(steps)
			if n.do[donor.DoDrain] == 0 || n.do[donor.DoDrain] > n.firstOff()+1 {
				t.Errorf("%s off for good: not drained first: %v", id.Local(), steps)
			}
			for _, s := range steps {
				isWet := (s.Do == donor.DoFill || s.Do == donor.DoBleed) && strings.Contains(s.Text, c.Carries)
				if isWet && !strings.Contains(s.Text, id.Local()) {
					t.Errorf("%s off for good: %s %s", id.Local(), s.Do, s.Text)
				}
			}
		}
	}
}

// TestOneLegAfterTheOther: with a whole fork replaced, all that goes into one leg is in before
// anything goes into the other, and so it comes off. Common practice, no source.
func TestOneLegAfterTheOther(t *testing.T) {
	demotest.Alone(t)
	b := benchOf(t, demotest.Facts(t), "skerry-620/2005/eu")
	changes := map[graph.PositionID]graph.PartID{}
	for _, p := range b.places {
		if p.Assembly.Local() == "fork" && !b.before.Seat(p.ID).Empty {
			changes[p.ID] = b.before.Seat(p.ID).Part.ID
		}
	}
	steps, _ := b.workFor(t, changes)
	for _, dos := range [][]string{{donor.DoOff}, {donor.DoFit, donor.DoBack}} {
		var sides []string
		for _, s := range steps {
			if slices.Contains(dos, s.Do) && s.Position.Assembly().Local() == "fork" {
				sides = append(sides, b.before.Position(s.Position).Side)
			}
		}
		if turns := slices.Compact(slices.Clone(sides)); len(turns) != 2 {
			t.Errorf("%v: %v", dos, turns)
		}
	}
}

// TestHubBeforeItsCarrier: of a rear wheel bearings and tube are in before the sprocket carrier
// covers them. Common practice, no source.
func TestHubBeforeItsCarrier(t *testing.T) {
	demotest.Alone(t)
	b := benchOf(t, demotest.Facts(t), "skerry-620/2005/eu")
	changes := map[graph.PositionID]graph.PartID{}
	for _, name := range []string{"rear-wheel/wheel", "rear-wheel/bearing-left", "final-drive/carrier"} {
		id := graph.PositionID("skerry-620:" + name)
		changes[id] = b.before.Seat(id).Part.ID
	}
	steps, _ := b.workFor(t, changes)
	n := turnsOf(steps)
	for _, id := range []string{"rear-wheel/bearing-left", "rear-wheel/bearing-right", "rear-wheel/distance-tube"} {
		before(t, "on", n.on, id, "final-drive/carrier")
	}
	before(t, "on", n.on, "final-drive/sprocket-stud", "final-drive/sprocket-rear")
}

// TestBothSidesOfAnAdapterAreTightened: what stands between two ends is tightened to each of them,
// first to the one that carries it.
func TestBothSidesOfAnAdapterAreTightened(t *testing.T) {
	a := answered(t, donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu", Time: 5 * time.Second,
		Take: []string{"front-brake/caliper-left", "front-brake/caliper-right"}, Keep: []string{"fork"}})
	if len(a.Plans) == 0 {
		t.Fatal("no plan")
	}
	for _, side := range []string{"left", "right"} {
		var said []string
		for _, s := range a.Plans[0].Work {
			if s.Do == donor.DoTight && strings.HasSuffix(string(s.Joint), fmt.Sprintf("caliper-%s-on-leg", side)) {
				said = append(said, s.Text)
			}
		}
		if len(said) != 2 || !strings.Contains(said[0], "to fork/leg-"+side) ||
			!strings.Contains(said[1], "front-brake/caliper-"+side+" to the") {
			t.Errorf("%s: %v", side, said)
		}
	}
}

// TestNothingIsAdaptedThatAPartSays: no step adapts what the order of a bracket says already, or
// what the bolts that go in are.
func TestNothingIsAdaptedThatAPartSays(t *testing.T) {
	for _, take := range [][]string{{"front-brake/caliper-left", "front-brake/caliper-right"}, {"front-wheel/wheel"}} {
		a := answered(t, donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu", Time: 3 * time.Second,
			Take: take, Keep: []string{"fork"}})
		for _, p := range a.Plans {
			for _, s := range p.Work {
				said := strings.Contains(s.Text, "bolts instead of") || strings.Contains(s.Text, "let the bracket")
				if s.Do == donor.DoAdapt && said {
					t.Errorf("%v: %s", take, s.Text)
				}
			}
		}
	}
}
