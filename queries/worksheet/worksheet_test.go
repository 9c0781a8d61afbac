package worksheet_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/readertest"
	"matewell/queries/swap"
	"matewell/queries/worksheet"
)

func sheetOf(t *testing.T, on string, swaps ...swap.Replacement) (swap.SwapAnswer, worksheet.Sheet) {
	t.Helper()
	r := readertest.New(demotest.Facts(t))
	q := swap.SwapQuestion{On: on, Swaps: swaps}
	a, err := swap.Swap(t.Context(), r, q)
	if err != nil {
		t.Fatal(err)
	}
	w, err := worksheet.ForSwap(t.Context(), r, q, a)
	if err != nil {
		t.Fatal(err)
	}
	return a, w
}

// What is altered so that it mates has its step before it goes on, and what it is altered
// with; what is on the machine comes off first, scrap or not. Nothing is altered where a part
// fits as it is.
func TestSheetOfAnAlteredPart(t *testing.T) {
	facts := demotest.Facts(t)
	const lever = graph.PositionID("skerry-620s:front-brake/lever")
	facts.Bikes = []graph.Bike{{ID: "cracked", Variant: "skerry-620s/2006/uk", Found: []graph.Fitted{{Position: lever,
		AsBuilt: true, Specimen: graph.Specimen{Condition: "cracked"}}}}}
	r := readertest.New(facts)
	for _, tt := range []struct {
		part    string
		altered bool
	}{{"Tarnholt 207.7008", true}, {"Tarnholt 207.4007a", false}} {
		q := swap.SwapQuestion{On: "cracked", Swaps: []swap.Replacement{{Position: "front-brake/lever", Part: tt.part}}}
		a, err := swap.Swap(t.Context(), r, q)
		if err != nil {
			t.Fatal(err)
		}
		w, err := worksheet.ForSwap(t.Context(), r, q, a)
		if err != nil {
			t.Fatal(err)
		}
		at := func(do string) int {
			return slices.IndexFunc(w.Steps, func(s donor.WorkStep) bool {
				return s.Do == do && (s.Position == lever || do == donor.DoAdapt)
			})
		}
		off, adapt, on := at(donor.DoOff), at(donor.DoAdapt), at(donor.DoFit)
		if off < 0 || on < off || tt.altered != (off < adapt && adapt < on) || !tt.altered && adapt >= 0 {
			t.Errorf("%s: off is step %d, altered %d, on %d: %v", tt.part, off, adapt, on, w.Steps)
		}
		if has := strings.Contains(strings.Join(w.Tools, "; "), "lathe"); has != tt.altered {
			t.Errorf("%s: tools %q", tt.part, w.Tools)
		}
	}
}

// The sheet of another master cylinder: what goes on and what must be new lies there
// before the work, fluid is out before anything is opened, every joint that is opened
// is tightened once, and no torque stands there without a source.
func TestSheetOfMasterCylinder(t *testing.T) {
	a, w := sheetOf(t, "skerry-620/2002/eu", swap.Replacement{Position: "front-brake/master-cylinder", Part: "207.7003"})
	at := func(text string) int {
		return slices.IndexFunc(w.LayOut, func(i worksheet.Item) bool { return i.Position.Local() == text })
	}
	for _, place := range []string{"front-brake/master-cylinder", "front-brake/banjo-bolt-master", "front-brake/lever",
		"front-brake/banjo-washer-master"} {
		if at(place) < 0 {
			t.Errorf("nothing lies there for %s", place)
		}
	}
	if i := at("front-brake/banjo-washer-master"); i >= 0 && (!w.LayOut[i].New || w.LayOut[i].Quantity != 2) {
		t.Errorf("the washers are %+v", w.LayOut[i])
	}
	first := func(does ...string) int {
		return slices.IndexFunc(w.Steps, func(s donor.WorkStep) bool { return slices.Contains(does, s.Do) })
	}
	if drain := first(donor.DoDrain); drain < 0 || drain > first(donor.DoOut, donor.DoOff) {
		t.Error("fluid is not drained first")
	}
	if tight := first(donor.DoTight); tight < first(donor.DoIn) || tight > first(donor.DoFill) {
		t.Error("the hose is filled before it is tight")
	}
	seen := map[graph.JointID]int{}
	for _, j := range w.Joints {
		seen[j.Joint]++
		if (j.Torque != "") != (j.Source != nil) || j.Torque == "" && j.See == "" {
			t.Errorf("%s: torque %q, source %v, see %q", j.Joint, j.Torque, j.Source, j.See)
		}
	}
	for _, row := range a.Torques {
		if seen[row.Joint] != 1 {
			t.Errorf("%s is tightened %d times", row.Joint, seen[row.Joint])
		}
	}
	if slices.ContainsFunc(w.Steps, func(s donor.WorkStep) bool { return s.Joint != "" }) {
		t.Error("joints are tightened among the steps too")
	}
	checks := strings.Join(w.Checks, "\n")
	for _, want := range []string{"full lock", "no leak", "firm", "walking pace"} {
		if !strings.Contains(checks, want) {
			t.Errorf("nothing of %q among the checks", want)
		}
	}
	for want, isOpened := range map[string]bool{"M10x1.25 in front-brake/master-cylinder": true,
		"M10x1 in front-brake/splitter": false} { // the hose stays on its splitter
		if slices.Contains(w.Threads, want) != isOpened {
			t.Errorf("%q among the threads, want %v: %q", want, isOpened, w.Threads)
		}
	}
}

// The step that puts two parts together which do not mate says that the work ends there; a
// swap that goes has no such step.
func TestStepThatEndsTheWork(t *testing.T) {
	for _, tt := range []struct {
		swaps []swap.Replacement
		stops string // the place of the step
	}{
		{[]swap.Replacement{{Position: "fork/leg-left", Part: "Tarnholt 203.4009"},
			{Position: "fork/leg-right", Part: "Tarnholt 203.4037"}}, "front-wheel/axle"},
		{[]swap.Replacement{{Position: "fork/leg-left", Part: "Tarnholt 203.4004"}}, ""},
	} {
		_, w := sheetOf(t, "skerry-620s/2003/eu/late", tt.swaps...)
		found := ""
		for _, step := range w.Steps {
			if strings.Contains(step.Text, "STOP: does not fit") && step.Position.Local() == "front-wheel/axle" {
				found = step.Position.Local()
			}
		}
		if found != tt.stops {
			t.Errorf("%v: the work stops at %q, want %q", tt.swaps, found, tt.stops)
		}
	}
}

// What is done after discs were changed lies nowhere to be picked up; the pads do, and no
// number stands twice.
func TestLayOutHoldsThingsOnly(t *testing.T) {
	_, w := sheetOf(t, "skerry-620/2002/eu",
		swap.Replacement{Position: "front-brake/disc-left", Part: "Varnhegg 35-296.1"})
	pads := false
	for _, i := range w.LayOut {
		pads = pads || i.Position == "skerry-620:front-brake/pads-left" && i.New && i.Part != ""
		if strings.HasPrefix(i.Text, "pump") || strings.HasPrefix(i.Text, "disc clean") ||
			i.Part != "" && strings.HasPrefix(i.Text, string(i.Part)) {
			t.Errorf("%+v", i)
		}
	}
	if !pads {
		t.Errorf("no pads in %+v", w.LayOut)
	}
}

// A panel touches nothing that anyone rides by: no brake, no bars, and the frame that
// carries it is not worked at.
func TestSheetOfPanel(t *testing.T) {
	_, w := sheetOf(t, "skerry-620/2002/eu", swap.Replacement{Position: "bodywork/side-panel-left",
		Part: "Tarnholt 302.4026/sl"})
	checks := strings.Join(w.Checks, "\n")
	for _, not := range []string{"lock", "walking pace", "lever"} {
		if strings.Contains(checks, not) {
			t.Errorf("%q among the checks of a panel:\n%s", not, checks)
		}
	}
	if len(w.Joints) == 0 || w.Joints[0].Torque == "" {
		t.Errorf("the panel's bolts have no torque: %+v", w.Joints)
	}
}

// What somebody's own machine was built as is proved by its frame number.
func TestSheetOfBike(t *testing.T) {
	_, w := sheetOf(t, "winter-project", swap.Replacement{Position: "lamps/headlamp", Part: "402.4004"})
	if proof := strings.Join(w.Proof, " "); !strings.Contains(proof, "TK6A-011377 lies within") {
		t.Errorf("proof: %q", proof)
	}
	if !strings.Contains(strings.Join(w.Checks, "\n"), "Headlamp aim") {
		t.Errorf("checks: %q", w.Checks)
	}
}
