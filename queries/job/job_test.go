package job_test

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/job"
	"matewell/queries/lists"
	"matewell/queries/readertest"
	"matewell/queries/worksheet"
)

func card(t *testing.T, facts graph.Facts, name, on string) *job.JobCard {
	t.Helper()
	a, err := job.Job(t.Context(), readertest.New(facts), job.JobQuestion{Name: name, On: on})
	if err != nil {
		t.Fatal(err)
	}
	return a.Card
}

// What is on a machine of one's own is told: another part than the job was written
// for, with a warning first; that nothing is there; and nothing of it for the variant.
func TestWhatIsThere(t *testing.T) {
	facts := demotest.Facts(t)
	const late = "skerry-620/2003/eu/late"
	tests := []struct {
		name, job, on string
		place         string
		part, book    graph.PartID
		there         string
		open          bool
	}{
		{"another part", "master-cylinder", "winter-project", "front-brake/master-cylinder", "Tarnholt 207.7003",
			"Tarnholt 207.4006", "", true},
		{"nothing is there", "front-calipers", "box-find", "front-brake/caliper-left", "", "", "nothing is there",
			true}, // a disc beside it is worn out
		{"as built", "master-cylinder", "box-find", "front-brake/master-cylinder", "Tarnholt 207.4006b", "", "",
			true}, // its lever is cracked
		{"nobody looked", "front-calipers", "winter-project", "front-brake/caliper-left", "Tarnholt 207.4418b", "", "",
			false},
		{"the variant", "master-cylinder", late, "front-brake/master-cylinder", "Tarnholt 207.4006", "", "", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := card(t, facts, tt.job, tt.on)
			at := slices.IndexFunc(c.Places, func(p job.Place) bool { return p.Position.Local() == tt.place })
			if at < 0 {
				t.Fatalf("no place %s", tt.place)
			}
			if p := c.Places[at]; p.Part != tt.part || p.Book != tt.book || p.There != tt.there {
				t.Errorf("got %+v", p)
			}
			warned := strings.Contains(c.Cautions[0].Text, "Order nothing by them")
			if warned != (tt.book != "") {
				t.Errorf("first caution: %s", c.Cautions[0].Text)
			}
			if open := (job.JobAnswer{Card: c}).SafetyOpen(); open != tt.open {
				t.Errorf("open %v", open)
			}
		})
	}
}

// A kit that was superseded is ordered by the number that is sold, and what lies in a
// box under either number is found.
func TestKitsAsSoldToday(t *testing.T) {
	edge := func(may graph.Usable) graph.Supersession {
		return graph.Supersession{ID: "kit", Old: "Tarnholt 500.4057", New: "Tarnholt 599.0001", NewOnOld: may,
			OldOnNew: graph.No, Companions: []graph.Content{{Part: "Tarnholt 924.1014", Quantity: 4}}}
	}
	newer := graph.Part{ID: "Tarnholt 599.0001", Brand: "Tarnholt", Name: "caliper seals, better rubber",
		Number: graph.Number{Text: "599.0001"}, Contains: []graph.Content{{Part: "Tarnholt 207.4461", Quantity: 2}}}
	tests := []struct {
		name   string
		may    graph.Usable
		soldAs graph.PartID
		gone   bool
	}{
		{"may go there", graph.Yes, "Tarnholt 599.0001", false},
		{"must not", graph.No, "", true},
		{"nobody says", graph.NotStated, "", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			facts := demotest.Facts(t)
			facts.Supersessions = append(slices.Clone(facts.Supersessions), edge(tt.may))
			facts.Parts = append(slices.Clone(facts.Parts), newer)
			c := card(t, facts, "front-calipers", "skerry-620/2003/eu/late")
			if len(c.Kits) != 1 {
				t.Fatalf("%d kits", len(c.Kits))
			}
			k := c.Kits[0]
			if k.Part.Part != "Tarnholt 500.4057" || k.SoldAs != tt.soldAs || k.Gone != tt.gone {
				t.Errorf("got %+v", k)
			}
			if tt.soldAs == "" {
				return
			}
			if len(k.With) != 1 || k.With[0].Quantity != 4 {
				t.Errorf("with %+v", k.With)
			}
			seals := c.Parts[0]
			if seals.Part != "Tarnholt 207.4461" || !slices.Equal(seals.Kits, []graph.PartID{"Tarnholt 599.0001"}) {
				t.Errorf("seals come in %v", seals.Kits)
			}
		})
	}
}

// The list counts the steps that the card then has: those of one year are none of another.
func TestStepsAreCountedAsTheCardHasThem(t *testing.T) {
	facts := demotest.Facts(t)
	for _, on := range []string{"skerry-620/2003/eu/late", "skerry-620/2005/eu"} {
		a, err := job.Job(t.Context(), readertest.New(facts), job.JobQuestion{On: on})
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range a.Jobs {
			if c := card(t, facts, string(line.Job), on); len(c.Steps) != line.Steps || line.Steps == 0 {
				t.Errorf("%s on %s: %d steps in the list, %d on the card", line.Job, on, line.Steps, len(c.Steps))
			}
		}
	}
	all, err := job.Job(t.Context(), readertest.New(facts), job.JobQuestion{})
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(all.Jobs, func(l job.JobLine) bool { return l.Job == "front-calipers" })
	if got := all.Jobs[at].Steps; got != 13 {
		t.Errorf("%d steps, of which no machine has more than 13", got)
	}
}

// A torque that two sources of the same machine give differently is told with both, and used
// of neither when they rank alike; one for other years is no voice.
func TestTorquesThatDisagree(t *testing.T) {
	const on = "skerry-620/2003/eu/late"
	for name, tt := range map[string]struct {
		kind        graph.SourceKind
		years       measure.Years
		value, said string
	}{
		"as good": {graph.SourceManual, measure.Years{}, "", "sources of equal rank disagree; see the maker's manual for " +
			"the part that carries the thread (Tarnholt 203.4004 at fork/leg-left); given: 46 N m (other), " +
			"31 N m (workshop-manual-2001)"},
		"as good, of another year": {graph.SourceManual, measure.Years{From: 2004, To: 2006}, "31 N m", ""},
		"not as good": {graph.SourceReport, measure.Years{}, "31 N m",
			"sources disagree; given: 31 N m (workshop-manual-2001), 46 N m (other)"},
	} {
		facts := demotest.Facts(t)
		facts.Sources = append(slices.Clone(facts.Sources), graph.Source{ID: "other", Kind: tt.kind, Title: "Other",
			Date: "2001-03", Scope: graph.Scope{Years: tt.years}})
		facts.Joints = slices.Clone(facts.Joints)
		for i, j := range facts.Joints {
			if j.ID == "skerry-620:caliper-left-on-leg" {
				facts.Joints[i].Torque = append(slices.Clone(j.Torque),
					graph.Reading{Text: "46 N m", Cite: graph.Cite{Source: "other"}})
			}
		}
		for _, j := range card(t, facts, "front-calipers", on).Joints {
			if j.Joint == "skerry-620:caliper-left-on-leg" && (j.Torque != tt.value || j.See != tt.said) {
				t.Errorf("%s: %q, %q", name, j.Torque, j.See)
			}
		}
	}
}

// What must be new each time a joint is opened is laid out with the inner parts, whether
// or not the job names it, once, with who lists it there; what may go on again is not.
func TestRenewedWithTheJoints(t *testing.T) {
	facts := demotest.Facts(t)
	for _, tt := range []struct {
		job, on string
		part    graph.PartID
		pieces  int // 0 for not
	}{
		{"chain-and-sprockets", "skerry-620/2005/eu", "Tarnholt 932.1025", 6},
		{"chain-and-sprockets", "skerry-620/2005/eu", "Tarnholt 937.2015", 1},
		{"chain-and-sprockets", "skerry-620/2005/eu", "Tarnholt 935.1038", 0}, // the studs
		{"front-calipers", "skerry-620/2005/eu", "Tarnholt 916.1040", 4},
	} {
		pieces := 0
		for _, p := range card(t, facts, tt.job, tt.on).Parts {
			if p.Part == tt.part {
				pieces += p.Quantity
				if !p.Renew || p.Source != "parts-list-2006" {
					t.Errorf("%s: %+v", tt.part, p)
				}
			}
		}
		if pieces != tt.pieces {
			t.Errorf("%s on %s: %d x %s, want %d", tt.job, tt.on, pieces, tt.part, tt.pieces)
		}
	}
}

// A job for any machine is done where a place takes one of its kinds: so many inner
// parts as there are places, none of what a job of the machine's own rebuilds; and
// never without a machine.
func TestJobOfAnyMachine(t *testing.T) {
	facts := demotest.Facts(t)
	c := card(t, facts, "any-caliper", "skerry-620/2002/eu")
	if len(c.Places) != 1 || c.Places[0].Position.Local() != "rear-brake/caliper" {
		t.Errorf("on the machine with a job for its front calipers: %v", c.Places)
	}
	c = card(t, facts, "any-caliper", "fjeld-750/2003/eu")
	washers := slices.IndexFunc(c.Parts, func(p job.Part) bool { return p.Part == "Tarnholt 924.1014" })
	if len(c.Places) != 3 || washers < 0 || c.Parts[washers].Quantity != 6 {
		t.Errorf("on the machine without a job of its own: %d places, parts %+v", len(c.Places), c.Parts)
	}
	if len(c.Steps) == 0 || c.Steps[0].Source != "standard-jobs" || !c.Steps[0].Practice {
		t.Errorf("steps are %+v", c.Steps)
	}
	ask := func(q job.JobQuestion) error {
		_, err := job.Job(t.Context(), readertest.New(facts), q)
		return err
	}
	var none *job.NoMachineError
	if err := ask(job.JobQuestion{Name: "any-caliper"}); !errors.As(err, &none) {
		t.Errorf("without a machine: %v", err)
	}
	var unknown *queries.NotFoundError
	if err := ask(job.JobQuestion{Name: "any-shaft-drive", On: "fjeld-750"}); !errors.As(err, &unknown) {
		t.Errorf("a shaft on a machine with a chain: %v", err)
	}
}

// A card for an assembly has every joint that is opened to get at it, what is in the way too,
// each with what is turned: an axle that is screwed into a leg has the torque, and the bolt
// that pinches it its own. Inner parts that a description means are named with their number,
// once for each of them on the machine.
func TestJointsOfACard(t *testing.T) {
	facts := demotest.Facts(t)
	for _, tt := range []struct {
		job, on, joint string
		turned         graph.PartID
		torque         string
	}{
		{"front-wheel-bearings", "skerry-620s/2006/uk", "axle-in-right-leg", "Tarnholt 205.4009", "71 N m"},
		{"front-wheel-bearings", "skerry-620s/2006/uk", "pinch-bolt-right-thread", "Tarnholt 901.0830", "20 N m"},
		{"front-wheel-bearings", "skerry-620s/2006/uk", "caliper-left-on-leg", "Tarnholt 916.1040", "46 N m"},
		{"fork-legs", "skerry-620s/2002/uk", "axle-in-right-leg", "Tarnholt 205.4006", "59 N m"},
		{"any-wheel-bearings", "fjeld-750/2004/uk", "axle-nut-thread", "Tarnholt 937.1815", "110 N m"},
		{"any-swingarm", "skerry-620s/2002/uk", "pivot-nut-thread", "Tarnholt 937.1616", "92 N m"},
		{"any-steering-head", "fjeld-750/2004/uk", "leg-left-in-upper-yoke", "Tarnholt 901.0830", "25 N m"},
		{"any-wheel-bearings", "fjeld-750/2004/uk", "disc-left-on-wheel", "", ""}, // stays on its wheel
	} {
		var turned graph.PartID
		torque := ""
		for _, j := range card(t, facts, tt.job, tt.on).Joints {
			if _, local, _ := strings.Cut(string(j.Joint), ":"); local == tt.joint {
				turned, torque = j.Fasteners[0].Part, j.Torque
			}
		}
		if turned != tt.turned || torque != tt.torque {
			t.Errorf("%s on %s: %s is %s with %s, want %s with %s", tt.job, tt.on, tt.joint, turned, torque, tt.turned,
				tt.torque)
		}
	}
	for _, tt := range []struct {
		job, on string
		part    graph.PartID
		pieces  int
	}{
		{"any-wheel-bearings", "fjeld-750/2004/uk", "Tarnholt 205.7014", 2},
		{"any-wheel-bearings", "fjeld-750/2004/uk", "Tarnholt 206.7017", 2},
		{"any-wheel-bearings", "fjeld-750/2004/uk", "Tarnholt 914.0820", 0}, // the bolts of its discs
		{"any-master-cylinder", "fjeld-750/2004/uk", "Tarnholt 924.1014", 6},
		{"any-master-cylinder", "fjeld-750/2004/uk", "Tarnholt 971.2016", 1}, // of the pushrod behind, joined to none of them
		{"any-fork-leg", "fjeld-750/2004/uk", "Tarnholt 203.4019", 2},        // dust seals lie in the assembly
		{"any-steering-head", "fjeld-750/2004/uk", "Tarnholt 202.4032", 1},
		{"any-swingarm", "fjeld-750/2004/uk", "Tarnholt 204.4017", 2},
		{"any-clutch-plates", "fjeld-750/2004/uk", "Tarnholt 107.7034", 1},
		{"any-clutch-plates", "fjeld-750/2004/uk", "Tarnholt 107.7024", 1}, // its cover's gasket, not the alternator's
		{"any-clutch-plates", "fjeld-750/2004/uk", "Tarnholt 925.1218", 1}, // under the drain plug of the engine
		{"any-cable", "fjeld-750/2004/uk", "Tarnholt 210.7028", 1},
		{"any-brake-hose", "fjeld-750/2004/uk", "Tarnholt 207.7015", 1},
		{"any-chain", "fjeld-750/2004/uk", "Tarnholt 209.7016", 1},
		{"chain-and-sprockets", "skerry-620s/2002/uk", "Tarnholt 937.1615", 1}, // the nut of the axle
		{"chain-and-sprockets", "skerry-620s/2002/uk", "Tarnholt 209.4017", 1},
		{"clutch-cable", "skerry-620s/2002/uk", "Tarnholt 107.5013", 1}, // its own, not its sister's
		{"clutch-cable", "skerry-620s/2002/uk", "Tarnholt 107.4012", 0},
		{"clutch-cable", "skerry-620/2002/uk", "Tarnholt 107.4012", 1},
	} {
		pieces := 0
		for _, p := range card(t, facts, tt.job, tt.on).Parts {
			if p.Part == tt.part {
				pieces += p.Quantity
			}
		}
		if pieces != tt.pieces {
			t.Errorf("%s on %s: %d x %s, want %d", tt.job, tt.on, pieces, tt.part, tt.pieces)
		}
	}
}

// What nobody measured comes off and goes on as every part of its kind does: a machine whose
// parts are only listed has the joints of the same machine measured, in the same order, with
// the same inner parts.
func TestCardOfWhatNobodyMeasured(t *testing.T) {
	measured := demotest.Facts(t)
	listed := measured
	listed.Parts = slices.Clone(measured.Parts)
	for i := range listed.Parts {
		listed.Parts[i].Features = nil
	}
	const on = "fjeld-750/2004/uk"
	turned := func(c *job.JobCard) []string {
		var found []string
		for _, j := range c.Joints {
			for _, f := range j.Fasteners {
				found = append(found, fmt.Sprintf("%s: %d x %s", j.Joint, f.Quantity, f.Part))
			}
		}
		return found
	}
	for _, name := range []string{"any-caliper", "any-master-cylinder", "any-wheel-bearings", "any-chain", "any-swingarm",
		"any-clutch-plates", "any-brake-hose"} {
		want, got := card(t, measured, name, on), card(t, listed, name, on)
		if !slices.Equal(turned(got), turned(want)) {
			t.Errorf("%s: joints\n%s\nwant\n%s", name, strings.Join(turned(got), "\n"), strings.Join(turned(want), "\n"))
		}
		pieces := func(c *job.JobCard) map[graph.PartID]int {
			found := map[graph.PartID]int{}
			for _, p := range c.Parts {
				found[p.Part] += p.Quantity
			}
			return found
		}
		if !maps.Equal(pieces(got), pieces(want)) {
			t.Errorf("%s: parts %v, want %v", name, pieces(got), pieces(want))
		}
	}
}

// Joints of a card stand in the order in which they are tightened: an axle before the bolts
// that pinch it, the legs in their yokes before the wheel. Common practice, no source.
func TestJointsInOrder(t *testing.T) {
	c := card(t, demotest.Facts(t), "any-fork-leg", "fjeld-750/2004/uk")
	at := func(local string) int {
		return slices.IndexFunc(c.Joints, func(j worksheet.Joint) bool {
			return strings.HasSuffix(string(j.Joint), ":"+local)
		})
	}
	for _, tt := range [][2]string{{"axle-in-right-leg", "axle-in-left-leg"},
		{"axle-in-right-leg", "pinch-bolt-right-thread"}, {"leg-left-in-lower-yoke", "axle-in-right-leg"},
		{"leg-right-in-upper-yoke", "axle-in-right-leg"}} {
		if first, then := at(tt[0]), at(tt[1]); first < 0 || then < first {
			t.Errorf("%s is %d, %s %d: want the first before", tt[0], first, tt[1], then)
		}
	}
}

// A chain hangs on no bar: a job on it does not ask for the steering to be turned.
func TestTrialsOfAChain(t *testing.T) {
	for name, turns := range map[string]bool{"any-chain": false, "any-steering-head": true, "any-brake-hose": true} {
		c := card(t, demotest.Facts(t), name, "fjeld-750/2004/uk")
		asked := slices.ContainsFunc(c.Checks, func(l job.Line) bool {
			return strings.HasPrefix(l.Text, "Bars to full lock")
		})
		if asked != turns {
			t.Errorf("%s: bars turned %v, want %v", name, asked, turns)
		}
	}
}

// A job that takes a caliper off on its way to a wheel has the trials of a brake, and who
// looks at it; one that does not has none of them.
func TestTrialsOfWhatComesOff(t *testing.T) {
	facts := demotest.Facts(t)
	for name, brakes := range map[string]bool{"fork-legs": true, "front-wheel-bearings": true, "any-steering-head": true,
		"clutch-cable": false} {
		c := card(t, facts, name, "skerry-620/2004/uk")
		pumps := slices.ContainsFunc(c.Checks, func(l job.Line) bool { return strings.Contains(l.Text, "Pump each brake") })
		looks := slices.ContainsFunc(c.Before, func(c queries.Caution) bool { return c.Safety == graph.SafetyBrake })
		if pumps != brakes || looks != brakes {
			t.Errorf("%s: pump %v, second person %v; want %v", name, pumps, looks, brakes)
		}
	}
}

// What was noted of a place that the job has open, or that meets it, is told with the job:
// the cracked lever on the master cylinder, and the master that hangs lower. What is sound,
// or is noted elsewhere on the machine, is not.
func TestWhatIsBesideIsTold(t *testing.T) {
	const late = "skerry-620/2003/eu/late"
	at := func(place string) graph.PositionID { return graph.PositionID("skerry-620:" + place) }
	found := func(place, condition string) graph.Fitted {
		return graph.Fitted{Position: at(place), AsBuilt: true, Specimen: graph.Specimen{Condition: condition}}
	}
	for name, tt := range map[string]struct {
		bike graph.Bike
		want []string
		open bool
	}{
		"a cracked lever, a moved master": {graph.Bike{Found: []graph.Fitted{found("front-brake/lever", "cracked")},
			Moved: []graph.Moved{{Position: at("front-brake/master-cylinder"), Up: "-20 mm"}}},
			[]string{"front-brake/lever: cracked", "front-brake/master-cylinder: hangs elsewhere than as built: 20 mm lower"},
			true},
		"a worn lever": {graph.Bike{Found: []graph.Fitted{found("front-brake/lever", "worn")}},
			[]string{"front-brake/lever: worn"}, false},
		"a sound lever":         {graph.Bike{Found: []graph.Fitted{found("front-brake/lever", "used")}}, nil, false},
		"a cracked rear pedal":  {graph.Bike{Found: []graph.Fitted{found("rear-brake/pedal", "cracked")}}, nil, false},
		"nothing but the frame": {graph.Bike{}, nil, false},
	} {
		facts := demotest.Facts(t)
		tt.bike.ID, tt.bike.Variant, tt.bike.Frame = "holm", late, "TK6A-011400"
		facts.Bikes = append(slices.Clone(facts.Bikes), tt.bike)
		c := card(t, facts, "master-cylinder", "holm")
		if len(c.Beside) != len(tt.want) {
			t.Errorf("%s: told %+v, want %q", name, c.Beside, tt.want)
			continue
		}
		for i, want := range tt.want {
			got := c.Beside[i].Position.Local() + ": " + strings.Join(c.Beside[i].Says, "; ")
			if !strings.HasPrefix(got, want) {
				t.Errorf("%s: told %q, want %q", name, got, want)
			}
		}
		if open := (job.JobAnswer{Card: c}).SafetyOpen(); open != tt.open {
			t.Errorf("%s: open %v", name, open)
		}
	}
}

// The steps of a fork leg are those of its form: of the thinner tube below, by its sizes; where
// nobody recorded it both stand, each saying for which, and one warning says so. Common practice,
// no source.
func TestFormOfLegChoosesSteps(t *testing.T) {
	const inner, over = "from its inner end", "the sharp end of the tube"
	facts := demotest.Facts(t)
	bare := facts
	bare.Parts = slices.Clone(facts.Parts)
	for i, p := range bare.Parts {
		if p.Kind == "fork-leg" {
			bare.Parts[i].Features = lists.Kept(slices.Clone(p.Features), func(f graph.Feature) bool {
				return f.Name != "stanchion"
			})
			bare.Parts[i].Name = "fork leg"
		}
	}
	for _, tt := range []struct {
		facts       graph.Facts
		on, name    string
		inner, over bool
		warned      int
	}{
		{facts, "fjeld-750/2004/eu", "any-fork-leg", true, false, 0},
		{bare, "fjeld-750/2004/eu", "any-fork-leg", true, true, 1},
		{facts, "fjeld-750", "any-fork-leg", true, true, 1},
	} {
		c := card(t, tt.facts, tt.name, tt.on)
		has := func(lines []job.Line, what string) (n int) {
			for _, l := range lines {
				n += strings.Count(l.Text, what)
			}
			return n
		}
		if (has(c.Steps, inner) > 0) != tt.inner || (has(c.Steps, over) > 0) != tt.over ||
			has(c.Cautions, "Whether these legs are upside-down") != tt.warned {
			t.Errorf("%s: steps %v, cautions %v", tt.on, c.Steps, c.Cautions)
		}
	}
}

// A card names the sorts of tool that its work asks for, and the bolts of what is tied to the
// machine by a hose are among its joints. Common practice, no source.
func TestCardNamesSpecialTools(t *testing.T) {
	c := card(t, demotest.Facts(t), "any-steering-head", "skerry-620/2003/eu/late")
	for _, what := range []string{"hook spanner", "puller or drift for bearings", "torque wrench",
		"spanner or socket 17 mm"} {
		if !slices.ContainsFunc(c.Tools, func(tool string) bool { return strings.Contains(tool, what) }) {
			t.Errorf("no %s among %v", what, c.Tools)
		}
	}
	if !slices.ContainsFunc(c.Joints, func(j worksheet.Joint) bool {
		return strings.HasSuffix(string(j.Joint), "splitter-on-yoke")
	}) {
		t.Errorf("the splitter's bolts are in none of %v", c.Joints)
	}
}
