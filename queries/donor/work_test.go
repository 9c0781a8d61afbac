package donor_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/lists"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// Real plans, taken apart by the joints of the data as they are: no part comes
// off with a bolt in it, fluid is out before its hose, and what is made is ready
// before anything goes on.
func TestWorkOnTheDemo(t *testing.T) {
	facts, some := demotest.Facts(t), time.Duration(sampletest.Of(t, 300, 5000))*time.Millisecond
	for _, q := range []donor.DonorQuestion{
		{On: "skerry-620/2002/eu", From: "fjeld-750/2003/eu", Take: []string{"front-brake/master-cylinder"}},
		{On: "skerry-620/2005/eu", From: "skerry-620/2006/eu", Take: []string{"front-wheel/wheel"}},
		{On: "skerry-620/2005/eu", From: "skerry-620/2006/eu", Take: []string{"fork"}},
		{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu",
			Take: []string{"front-brake/caliper-left", "front-brake/caliper-right"}, Time: some},
		{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu", Take: []string{"front-wheel/wheel"}},
	} {
		a := answered(t, q)
		if len(a.Plans) == 0 {
			t.Errorf("%v from %s: no plan", q.Take, q.From)
			continue
		}
		p := a.Plans[0]
		inTurn(t, p.Work)
		madeInTurn(t, p)
		out := map[graph.PositionID]bool{}
		for i, step := range p.Work {
			if step.Do != donor.DoOff && step.Do != donor.DoOut {
				continue
			}
			out[step.Position] = true
			for _, j := range facts.Joints {
				if slices.Contains(j.On, a.On) && (j.A.Position == step.Position || j.B.Position == step.Position) {
					boltsOut(t, p.Work[i:], out, j, step)
				}
			}
		}
	}
}

// madeInTurn checks that the bolts which hold a bracket are in before what it carries is
// on, that discs are on their wheel and bearings on both sides of their tube before the
// wheel is on the machine, and that no torque is told for a joint with a bolt made anew.
func madeInTurn(t *testing.T, p donor.DonorPlan) {
	t.Helper()
	last := map[string]int{}
	for i, step := range p.Work {
		if step.Do == donor.DoFit || step.Do == donor.DoBack || step.Do == donor.DoIn {
			last[step.Position.Local()+" "+string(step.Part)] = i
			last[step.Position.Local()] = i
		}
	}
	for i, step := range p.Work {
		at := step.Position.Local()
		if _, carried, ok := strings.Cut(at, "caliper-bolt-"); ok && step.Do == donor.DoFit &&
			strings.Contains(step.Text, "through the bracket into") && i > last["front-brake/caliper-"+carried] {
			t.Errorf("step %d: %s comes after its caliper", i, step.Text)
		}
		isBench := strings.Contains(at, "/disc-bolt") || strings.Contains(at, "front-wheel/bearing") ||
			strings.Contains(at, "distance-tube")
		if wheel, on := last["front-wheel/wheel"]; on && step.Do != donor.DoTight && i > wheel && isBench {
			t.Errorf("step %d: %s %s once the wheel is on", i, step.Do, at)
		}
	}
	for _, row := range p.Swap.Torques {
		if slices.ContainsFunc(p.Make, func(g swap.Get) bool { return slices.Contains(row.Fasteners, g.Position) }) &&
			row.Torque != "" {
			t.Errorf("%s: %s is told though a bolt of it is made anew", row.Joint, row.Torque)
		}
	}
}

// boltsOut checks that no bolt of a joint comes out later, but that of what is
// taken off its part on the bench.
func boltsOut(t *testing.T, later []donor.WorkStep, out map[graph.PositionID]bool, j graph.Joint, step donor.WorkStep) {
	t.Helper()
	other := j.A.Position
	if other == step.Position {
		other = j.B.Position
	}
	bench := slices.ContainsFunc(later,
		func(s donor.WorkStep) bool { return s.Position == other && s.MoveTo == step.Position })
	for _, bolt := range j.Fasteners {
		comes := slices.ContainsFunc(later, func(s donor.WorkStep) bool { return s.Position == bolt && s.Do == donor.DoOut })
		if comes && !slices.Contains(step.With, other) && !out[bolt] && !bench {
			t.Errorf("%s %s with %s still in (%s)", step.Do, step.Position, bolt, j.ID)
		}
	}
}

// inTurn checks that the sorts of steps follow one another as they must, but for what is done
// on the bench, while a fork leg is open, and for covers, which close once all under them is tight.
func inTurn(t *testing.T, work []donor.WorkStep) {
	t.Helper()
	turn := map[string]int{donor.DoPart: -2, donor.DoSupport: -1, donor.DoMeasure: -1, donor.DoDrain: 0, donor.DoOut: 1,
		donor.DoOff: 1, donor.DoMake: 2, donor.DoAdapt: 2, donor.DoFit: 3, donor.DoBack: 3, donor.DoCheck: 8, donor.DoJoin: 9,
		donor.DoIn: 3, donor.DoAlign: 4, donor.DoTight: 5, donor.DoSecure: 6, donor.DoFill: 6, donor.DoBleed: 7}
	if len(work) == 0 {
		t.Error("no step of work")
	}
	aligned := slices.IndexFunc(work, func(s donor.WorkStep) bool { return s.Do == donor.DoAlign })
	secured := slices.IndexFunc(work, func(s donor.WorkStep) bool { return s.Do == donor.DoSecure })
	var turned []donor.WorkStep
	for i, s := range work {
		isLeg := strings.HasPrefix(s.Position.Local(), "fork/leg") && (s.Do == donor.DoDrain || s.Do == donor.DoFill)
		isBench := s.Do == donor.DoTight && i < aligned
		isCover := strings.Contains(s.Position.Local(), "-cover") || secured >= 0 && i > secured && s.Do == donor.DoTight
		if !isLeg && !isBench && !isCover && s.Do != donor.DoPump && s.Do != donor.DoSlack {
			turned = append(turned, s)
		}
	}
	for i, step := range turned[min(1, len(turned)):] {
		if turn[step.Do] < turn[turned[i].Do] {
			t.Errorf("%s %s after %s %s", step.Do, step.Position, turned[i].Do, turned[i].Position)
		}
	}
}

// A fork leg gets its oil before the spring goes in and the cap shuts it, the cap its turn
// among what is tightened, and the torque of an axle stands at the axle, not at the bolt
// that pinches it. Common practice, no source.
func TestLegIsFilledAndShut(t *testing.T) {
	a := answered(t, donor.DonorQuestion{On: "skerry-620/2005/eu", From: "skerry-620/2006/eu", Take: []string{"fork"}})
	if len(a.Plans) == 0 {
		t.Fatal(a.Outcome)
	}
	at := map[string]int{}
	for i, step := range a.Plans[0].Work {
		at[step.Do+" "+step.Position.Local()] = i + 1
	}
	for _, side := range []string{"left", "right"} {
		fill, spring := at["fill fork/leg-"+side], at["fit fork/spring-"+side]
		if fill == 0 || spring < fill || at["fit fork/cap-"+side] < spring || at["tighten fork/cap-"+side] == 0 {
			t.Errorf("%s: %v", side, at)
		}
	}
	if at["tighten front-wheel/axle"] == 0 {
		t.Errorf("the axle is tightened nowhere: %v", at)
	}
}

// What must be new every time is not taken from the donor: it stands among what to
// renew, with its number and how many.
func TestDonorsOneUsePartsAreRenewed(t *testing.T) {
	a := answered(t, donor.DonorQuestion{On: "skerry-620/2005/eu", From: "skerry-620/2006/eu",
		Take: []string{"front-brake/hose-left", "front-brake/banjo-washer-left"}})
	if len(a.Plans) == 0 {
		t.Fatal(a.Outcome)
	}
	p := a.Plans[0]
	for _, part := range p.Take {
		if washer := part.Position.Local() == "front-brake/banjo-washer-left"; part.Renew != washer {
			t.Errorf("%s: renewed %v", part.Position, part.Renew)
		}
	}
	for _, row := range p.Swap.Renew {
		if row.Position.Local() == "front-brake/banjo-washer-left" {
			if row.Part == "" || row.Quantity != 2 || len(row.For) == 0 {
				t.Errorf("two washers go on new at a banjo, got %+v", row)
			}
			return
		}
	}
	t.Errorf("the washer is not among what to renew: %+v", p.Swap.Renew)
}

// A wheel with six holes takes six bolts where five sat: the order of work, what is to
// be got, what goes on new, the parts and the money, and the list for the shop all count
// six, and the old five stand nowhere beside them.
func TestOneCountOfBolts(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	q := demoDonors()[3]
	a := answered(t, q)
	if len(a.Plans) == 0 {
		t.Fatal(a.Outcome)
	}
	p := a.Plans[0]
	list, err := donor.Shop(context.Background(), r, q, p)
	if err != nil {
		t.Fatal(err)
	}
	for _, side := range []string{"left", "right"} {
		at := "front-brake/disc-bolt-" + side
		counts := map[string]int{}
		for _, step := range p.Work {
			if step.Position.Local() == at && slices.Contains([]string{donor.DoFit, donor.DoIn, donor.DoBack}, step.Do) {
				counts["put on"] += step.Quantity
			}
		}
		for _, g := range p.Make {
			if g.Position.Local() == at {
				counts["got"] += g.Quantity
			}
		}
		if counts["put on"] != 6 || counts["got"] != 6 {
			t.Errorf("%s: %v, want six of each", at, counts)
		}
		if slices.ContainsFunc(p.Swap.Renew, func(r swap.RenewRow) bool { return r.Position.Local() == at }) {
			t.Errorf("%s: the old ones are renewed too", at)
		}
	}
	if p.Cost.Parts < 12 {
		t.Errorf("%d parts to find or make, twelve are bolts", p.Cost.Parts)
	}
	bolts := 0
	for _, line := range list.Rows {
		if line.Part == "Tarnholt 914.0820" {
			bolts += line.Quantity
		}
	}
	if bolts != 12 {
		t.Errorf("%d bolts on the list, want 12: %+v", bolts, list.Rows)
	}
	told := lists.Kept(slices.Clone(list.NotReady), func(h swap.Hindrance) bool {
		return strings.Contains(h.Why, "there are 5")
	})
	if len(told) != 2 || slices.ContainsFunc(told, func(h swap.Hindrance) bool {
		return !strings.HasSuffix(h.Why, "; the list brings 6")
	}) {
		t.Errorf("of too few bolts is said %v", told)
	}
}

// What is taken from the donor and goes on new is on the list of the shop once, and what
// the donor gives costs nothing.
func TestShopCountsWhatIsRenewedOnce(t *testing.T) {
	q := donor.DonorQuestion{On: "skerry-620/2005/eu", From: "skerry-620/2006/eu",
		Take: []string{"front-brake/hose-left", "front-brake/banjo-washer-left"}}
	a := answered(t, q)
	if len(a.Plans) == 0 {
		t.Fatal(a.Outcome)
	}
	list, err := donor.Shop(t.Context(), readertest.New(demotest.Facts(t)), q, a.Plans[0])
	if err != nil {
		t.Fatal(err)
	}
	counts := map[graph.PartID]int{}
	for _, row := range list.Rows {
		counts[row.Part] += row.Quantity
	}
	want := map[graph.PartID]int{}
	for _, row := range a.Plans[0].Swap.Renew {
		if row.Part != "" && !row.Work {
			want[row.Part] += row.Quantity
		}
	}
	for part, n := range want {
		if counts[part] != n {
			t.Errorf("%d of %s on the list, want the %d that go on new", counts[part], part, n)
		}
	}
	if len(want) == 0 || a.Plans[0].Cost.Money != "" {
		t.Errorf("renewed %v, money %q", want, a.Plans[0].Cost.Money)
	}
}
