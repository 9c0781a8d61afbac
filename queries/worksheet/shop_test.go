package worksheet_test

import (
	"slices"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
	"matewell/queries/worksheet"
)

// What the sheet of a swap lays out and what its list says to get are the same: each place
// for which a part lies there is one for which a number stands on the list, and the other
// way round, and a number stands there for as many pieces. Tried with what other machines
// have at each place.
func TestListIsWhatTheSheetLaysOut(t *testing.T) {
	demo, single := once.New(readertest.New(demotest.Facts(t))), once.New(readertest.New(demotest.Single(t)))
	inSample := sampletest.Share(t, 32, 6)
	tried := 0
	for _, tt := range []struct {
		r        graph.Reader
		on, from string
	}{
		{demo, "skerry-620/2003/eu/late", "fjeld-750/2004/eu"},
		{demo, "skerry-620/2002/eu", "skerry-620/2006/eu"},
		{demo, "skerry-620s/2006/uk", "skerry-620/2003/eu/late"},
		{demo, "fjeld-750/2004/eu", "skerry-620/2005/eu"},
		{demo, "skerry-620/2005/eu", "skerry-620/2005/eu"}, // the same parts, new
		{single, "tern-125/1974/any", "tern-125/1974/any"},
	} {
		s, err := machine.NewSetup(t.Context(), tt.r, queries.MachineQuestion{On: tt.from}, "")
		if err != nil {
			t.Fatal(err)
		}
		all, err := tt.r.PositionsOf(t.Context(), s.Variant.Model)
		if err != nil {
			t.Fatal(err)
		}
		all = lists.Kept(all, func(p graph.Position) bool { return slices.Contains(p.On, s.Variant.ID) })
		ids := lists.Mapped(all, func(p graph.Position) graph.PositionID { return p.ID })
		if err := s.Load(t.Context(), ids...); err != nil {
			t.Fatal(err)
		}
		for _, p := range all {
			part := s.BuiltAt(p.ID).Part.ID
			if part == "" || !inSample(tt.on+" "+tt.from+" "+string(p.ID)) {
				continue
			}
			tried += listsAsLaidOut(t, tt.r, swap.SwapQuestion{On: tt.on,
				Swaps: []swap.Replacement{{Position: p.ID.Local(), Part: string(part)}}})
		}
	}
	if tried < sampletest.Of(t, 4, 35) {
		t.Errorf("only %d swaps were tried", tried)
	}
}

// listsAsLaidOut holds the list of a swap against its sheet, and gives 1 where there was
// something to hold.
func listsAsLaidOut(t *testing.T, r graph.Reader, q swap.SwapQuestion) int {
	t.Helper()
	a, err := swap.Swap(t.Context(), r, q)
	if err != nil || len(a.Refused()) > 0 {
		return 0 // no such place, or nothing is got for what will not go
	}
	w, err := worksheet.ForSwap(t.Context(), r, q, a)
	if err != nil {
		t.Fatal(err)
	}
	list, err := donor.ShopSwap(t.Context(), r, q)
	if err != nil {
		t.Fatal(err)
	}
	laid, listed := map[graph.PositionID]int{}, map[graph.PositionID]bool{}
	for _, i := range w.LayOut {
		if i.Part != "" && i.Position != "" {
			laid[i.Position] += i.Quantity
		}
	}
	pieces := map[graph.PartID]int{}
	for _, row := range list.Rows {
		for _, at := range row.At {
			listed[at] = true
		}
		for _, id := range append(slices.Clone(row.For), row.Part) {
			pieces[id] += row.Quantity
		}
		for _, c := range row.Gives {
			pieces[c.Part] += row.Quantity * c.Quantity
		}
	}
	for _, row := range list.Wanted {
		pieces[row.Part] += row.Quantity
		for _, at := range row.At {
			listed[at] = true
		}
	}
	name := q.On + " " + q.Swaps[0].Position + "=" + q.Swaps[0].Part
	for _, i := range w.LayOut {
		if i.Part != "" && i.Position != "" && !listed[i.Position] {
			t.Errorf("%s: %d of %s lie there for %s, and are not on the list", name, i.Quantity, i.Part, i.Position)
		}
	}
	for at := range listed {
		if laid[at] == 0 {
			t.Errorf("%s: something is on the list for %s, and nothing is laid out for it", name, at)
		}
	}
	want := map[graph.PartID]int{}
	for _, i := range w.LayOut {
		if i.Position != "" {
			want[i.Part] += i.Quantity
		}
	}
	for part, n := range want {
		if have := pieces[part]; part != "" && have != n && have > 0 {
			t.Errorf("%s: %d of %s are laid out, and %d listed", name, n, part, have)
		}
	}
	return 1
}

// What lies on an axle is no axle: a sleeve into each of two bearings is laid out twice, as the
// work fits it, and the axle that is tightened is one. Each sleeve goes in after its bearing, and
// before the seal and spacer over that. Common practice, no source.
func TestSleevesOnAnAxle(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	const on, wheel = "skerry-620s/2003/uk/late", "front-wheel/wheel"
	a, err := donor.Donor(t.Context(), r, donor.DonorQuestion{On: on,
		Swaps: []swap.Replacement{{Position: wheel, Part: "Tarnholt 205.4003/bk"}}})
	if err != nil || len(a.Plans) == 0 {
		t.Fatal(a.Outcome, err)
	}
	w, err := worksheet.ForPlan(t.Context(), r, swap.SwapQuestion{On: on}, a.Plans[0])
	if err != nil {
		t.Fatal(err)
	}
	const sleeve = graph.PartID("Varnhegg 32-152.0")
	at := slices.IndexFunc(w.LayOut, func(i worksheet.Item) bool { return i.Part == sleeve })
	if at < 0 || w.LayOut[at].Quantity != 2 {
		t.Errorf("two sleeves are fitted; laid out: %+v", w.LayOut)
	}
	for _, j := range w.Joints {
		for _, f := range j.Fasteners {
			if f.Position.Local() == "front-wheel/axle" && f.Quantity != 1 {
				t.Errorf("%s has %d axles", j.Joint, f.Quantity)
			}
		}
	}
	last := map[string]int{}
	for i, step := range w.Steps {
		if step.Do == donor.DoFit || step.Do == donor.DoBack {
			last[step.Position.Local()] = i
		}
		if step.Part == sleeve && step.Do == donor.DoFit {
			last["sleeve"] = i
		}
	}
	for _, side := range []string{"left", "right"} {
		for _, over := range []string{"front-wheel/seal-", "front-wheel/spacer-"} {
			if n, on := last[over+side]; on && n < last["front-wheel/bearing-"+side] {
				t.Errorf("%s goes on before its bearing", over+side)
			}
		}
	}
	if last["sleeve"] == 0 || last["sleeve"] > last[wheel] || last["sleeve"] > last["front-wheel/spacer-right"] {
		t.Errorf("the last sleeve is step %d, the wheel %d, spacer %d", last["sleeve"], last[wheel],
			last["front-wheel/spacer-right"])
	}
}
