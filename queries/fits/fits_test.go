package fits_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/readertest"
)

// fleet makes a small random world of one model with two markets: listings,
// supersessions that only lead to later numbers, kits, findings, scopes.
func fleet(seed uint64) graph.Facts {
	rnd := rand.New(rand.NewPCG(seed, 1))
	said := func(source graph.SourceID) []graph.Cite { return []graph.Cite{{Source: source}} }
	f := graph.Facts{
		Models: []graph.Model{{ID: "skerry-620", Maker: "Tarnholt", Name: "Skerry 620"}},
		Kinds:  []graph.Kind{{ID: "caliper", Name: "caliper"}, {ID: "kit", Name: "kit"}},
		Sources: []graph.Source{{ID: "list", Kind: graph.SourcePartsList},
			{ID: "eu-list", Kind: graph.SourcePartsList, Scope: graph.Scope{Markets: []string{"eu"}}},
			{ID: "stall", Kind: graph.SourceSeller}, {ID: "north", Kind: graph.SourceReport}},
	}
	source := func() graph.SourceID { return f.Sources[rnd.IntN(len(f.Sources))].ID }
	var variants []graph.VariantID
	for year := 2001; year <= 2003; year++ {
		for _, market := range []string{"eu", "uk"} {
			v := graph.Variant{ID: graph.VariantID(fmt.Sprintf("skerry-620/%d/%s", year, market)), Model: "skerry-620",
				Year: year, Market: market}
			if rnd.IntN(3) > 0 {
				v.Frames = measure.Frames{Prefix: "TK6-", From: year*100 + 1, To: year*100 + 99, Width: 6}
			}
			f.Variants = append(f.Variants, v)
			variants = append(variants, v.ID)
		}
	}
	some := func() []graph.VariantID {
		on := []graph.VariantID{variants[rnd.IntN(len(variants))]}
		for _, v := range variants {
			if rnd.IntN(2) == 0 && v != on[0] {
				on = append(on, v)
			}
		}
		slices.Sort(on)
		return on
	}
	var positions []graph.PositionID
	for _, name := range []string{"left", "right"} {
		p := graph.Position{ID: graph.PositionID("skerry-620:front-brake/caliper-" + name),
			Assembly: "skerry-620:front-brake", Model: "skerry-620",
			Name: "caliper, " + name, Kind: "caliper", Quantity: 1, On: variants}
		f.Positions = append(f.Positions, p)
		positions = append(positions, p.ID)
	}
	f.Assemblies = []graph.Assembly{{ID: "skerry-620:front-brake", Model: "skerry-620", Name: "Front brake"}}
	var parts []graph.PartID
	for i := range 8 {
		number := fmt.Sprintf("207.%04d", i)
		p := graph.Part{ID: graph.PartID("Tarnholt " + number), Brand: "Tarnholt", Kind: "caliper",
			Number: graph.Number{Text: number, Core: number}, Said: said(source())}
		if i > 5 {
			p.Kind, p.Matched = "kit", i == 7
			for _, content := range rnd.Perm(6)[:2] {
				p.Contains = append(p.Contains, graph.Content{Part: parts[content], Quantity: 1 + rnd.IntN(2)})
			}
		}
		f.Parts = append(f.Parts, p)
		parts = append(parts, p.ID)
	}
	for i := range 6 {
		f.Fitments = append(f.Fitments, graph.Fitment{ID: graph.FitmentID(fmt.Sprint("fit-", i)),
			Position: positions[rnd.IntN(2)],
			Part:     parts[rnd.IntN(len(parts))], Quantity: 1, On: some(), Said: said(source())})
	}
	for i := range 7 {
		old := rnd.IntN(len(parts) - 1)
		e := graph.Supersession{ID: graph.SupersessionID(fmt.Sprint("edge-", i)), Old: parts[old],
			New:      parts[old+1+rnd.IntN(len(parts)-old-1)],
			NewOnOld: graph.Usable(rnd.IntN(3)), OldOnNew: graph.Usable(rnd.IntN(3)), Said: said(source())}
		switch rnd.IntN(4) {
		case 0:
			e.Scope.Markets = []string{"uk"}
		case 1:
			e.Scope.Frames = measure.Frames{Prefix: "TK6-", To: 200250, Width: 6}
		case 2:
			e.Companions = []graph.Content{{Part: parts[rnd.IntN(6)], Quantity: 1}}
		}
		f.Supersessions = append(f.Supersessions, e)
	}
	for i := range 4 {
		f.Findings = append(f.Findings, graph.Finding{ID: graph.FindingID(fmt.Sprint("f-", i)),
			Part:     parts[rnd.IntN(len(parts))],
			Position: positions[rnd.IntN(2)], On: some(), Verdict: graph.Verdict(1 + rnd.IntN(4)),
			By:     fmt.Sprint("finder ", rnd.IntN(3)),
			Method: graph.Methods()[rnd.IntN(5)]})
	}
	return f
}

// TestFitsAgree: what is said of a part on a machine is the same whether one
// asks for the part or for the machine, in 120 random worlds.
func TestFitsAgree(t *testing.T) {
	demotest.Alone(t)
	ctx := context.Background()
	rows := 0
	for seed := range uint64(120) {
		facts := fleet(seed)
		byPart, byMachine := map[string]string{}, map[string]string{}
		for _, p := range facts.Parts {
			a, err := fits.Said(ctx, readertest.New(facts), fits.FitsQuestion{Part: string(p.ID)})
			if err != nil {
				t.Fatal(err)
			}
			collect(byPart, a)
		}
		for _, v := range facts.Variants {
			a, err := fits.Said(ctx, readertest.New(facts), fits.FitsQuestion{On: string(v.ID), Assembly: "front-brake"})
			if err != nil {
				t.Fatal(err)
			}
			collect(byMachine, a)
		}
		for key, verdict := range byPart {
			if byMachine[key] != verdict {
				t.Errorf("world %d: %s: %q by part, %q by machine", seed, key, verdict, byMachine[key])
			}
		}
		for key, verdict := range byMachine {
			if byPart[key] == "" {
				t.Errorf("world %d: %s: %q by machine only", seed, key, verdict)
			}
		}
		rows += len(byPart)
		if t.Failed() {
			break
		}
	}
	if rows < 1200 {
		t.Errorf("only %d rows were compared: the worlds are too empty to tell anything", rows)
	}
}

func collect(into map[string]string, a fits.FitsAnswer) {
	for _, row := range a.Rows {
		for _, v := range row.Coverage.On {
			if row.Part == "" {
				continue
			}
			key := func(part graph.PartID) string {
				return strings.Join([]string{string(part), string(row.Position), string(v), row.Coverage.Frames}, " ")
			}
			against := len(row.ContradictedBy)
			if row.Via == evidence.ViaListed {
				against = 0 // a machine's question also sees the lists beside the part's own
			}
			verdict, why := row.Verdict, row.Why
			if holds, astray, ok := strings.Cut(row.Why, "; but nobody lists"); ok && astray != "" {
				verdict, why = graph.Fits, holds // a machine's question folds kits, and asks nothing of the rest of them
			}
			into[key(row.Part)] = fmt.Sprint(verdict, " ", row.Via, " ", why, " ", row.Rank, " ", row.Source.ID, " ", against)
			if row.Via == evidence.ViaKit && strings.HasPrefix(row.Why, "holds") && against == 0 {
				into[key(row.Part)] = "fits, a kit that holds what is listed"
			}
			for _, kit := range row.Kits {
				into[key(kit.Part)] = "fits, a kit that holds what is listed"
			}
		}
	}
}

// TestFitsOneRowPerMachine: no machine is in two rows about one part at one
// position, unless one of them is limited to some of its frame numbers.
func TestFitsOneRowPerMachine(t *testing.T) {
	for seed := range uint64(40) {
		facts := fleet(seed)
		for _, p := range facts.Parts {
			a, err := fits.Said(context.Background(), readertest.New(facts), fits.FitsQuestion{Part: string(p.ID)})
			if err != nil {
				t.Fatal(err)
			}
			seen := map[string]bool{}
			for _, row := range a.Rows {
				for _, v := range row.Coverage.On {
					key := fmt.Sprint(row.Position, v, row.Coverage.Frames)
					if seen[key] {
						t.Fatalf("world %d: %s is in two rows about %s at %s", seed, v, p.ID, row.Position)
					}
					seen[key] = true
				}
			}
		}
	}
}

// TestSaidAt: who judges one part at one place is told what the whole answer has in its
// rows, without looking for the number again or at all places of the model.
func TestSaidAt(t *testing.T) {
	spots, told := 0, 0
	for seed := range uint64(20) {
		facts := fleet(seed)
		for _, p := range facts.Parts {
			for _, at := range facts.Positions {
				v := facts.Variants[int(seed)%len(facts.Variants)].ID
				whole, err := fits.Said(t.Context(), readertest.New(facts),
					fits.FitsQuestion{Part: string(p.ID), On: string(v), Position: string(at.ID)})
				if err != nil {
					t.Fatal(err)
				}
				r := readertest.New(facts)
				rows, err := fits.SaidAt(t.Context(), r, fits.Spot{Part: p.ID, Position: at.ID, Variant: v}, "")
				if err != nil || !reflect.DeepEqual(rows, whole.Rows) {
					t.Errorf("world %d, %s at %s of %s: %v, %v, want %v", seed, p.ID, at.ID, v, rows, err, whole.Rows)
				}
				if calls := r.Calls(); calls["PositionsOf"]+calls["PartsByKey"] > 0 {
					t.Errorf("world %d, %s at %s of %s reads far more than is near: %v", seed, p.ID, at.ID, v, calls)
				}
				spots, told = spots+1, told+len(rows)
			}
		}
	}
	if told*4 < spots {
		t.Errorf("%d rows about %d spots: hardly anything is said", told, spots)
	}
	_, err := fits.SaidAt(t.Context(), readertest.New(fleet(1)),
		fits.Spot{Part: "Tarnholt 999.1", Position: "skerry-620:front-brake/caliper-left", Variant: "skerry-620/2001/eu"}, "")
	if missing := (*queries.NotFoundError)(nil); !errors.As(err, &missing) {
		t.Errorf("a part that nobody knows: %v", err)
	}
}

// TestFitsIsNeitherSymmetricNorTransitive: new on old says nothing about old on
// new, and a walk that turns round is no walk.
func TestFitsIsNeitherSymmetricNorTransitive(t *testing.T) {
	facts := fleet(1)
	facts.Findings, facts.Parts = nil, facts.Parts[:3]
	on := []graph.VariantID{"skerry-620/2001/eu"}
	facts.Fitments = []graph.Fitment{{ID: "x", Position: facts.Positions[0].ID, Part: "Tarnholt 207.0000", Quantity: 1,
		On: on}}
	facts.Supersessions = []graph.Supersession{ // 0 and 1 both gave way to 2
		{ID: "a", Old: "Tarnholt 207.0000", New: "Tarnholt 207.0002", NewOnOld: graph.Yes, OldOnNew: graph.Yes},
		{ID: "b", Old: "Tarnholt 207.0001", New: "Tarnholt 207.0002", NewOnOld: graph.Yes, OldOnNew: graph.Yes},
	}
	for part, want := range map[string]int{"207.0002": 1, "207.0001": 0} {
		a, err := fits.Said(context.Background(), readertest.New(facts), fits.FitsQuestion{Part: part})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Rows) != want {
			t.Errorf("%s has %d rows, want %d: %v", part, len(a.Rows), want, a.Rows)
		}
	}
}

// TestFitsCalls: a question about one part takes a handful of reads, however
// much the graph holds.
func TestFitsCalls(t *testing.T) {
	for seed := range uint64(20) {
		facts := fleet(seed)
		for _, p := range facts.Parts {
			r := readertest.New(facts)
			if _, err := fits.Said(context.Background(), r, fits.FitsQuestion{Part: string(p.ID)}); err != nil {
				t.Fatal(err)
			}
			total := 0
			for method, n := range r.Calls() {
				total += n
				if slices.Contains([]string{"PartIDs", "Models", "PositionsOf", "FitmentsOn", "JointsOf", "PartsOfKind"}, method) {
					t.Errorf("world %d: %s reads far more than is near %s", seed, method, p.ID)
				}
			}
			if total > 24 {
				t.Errorf("world %d: %d reads for %s: %v", seed, total, p.ID, r.Calls())
			}
		}
	}
}

// failing is a reader whose every read of one sort fails.
type failing struct {
	graph.Reader
	fail error
}

func (f failing) FitmentsOf(context.Context, ...graph.PartID) ([]graph.Fitment, error) {
	return nil, f.fail
}

func (f failing) FitmentsAt(context.Context, ...graph.PositionID) ([]graph.Fitment, error) {
	return nil, f.fail
}

func TestFitsPassesFaultsOn(t *testing.T) {
	broken := failing{readertest.New(fleet(1)), errors.New("the disk is gone")}
	for _, q := range []fits.FitsQuestion{{Part: "207.0001"}, {On: "skerry-620/2001/eu", Assembly: "front-brake"}} {
		if _, err := fits.Said(context.Background(), broken, q); !errors.Is(err, broken.fail) {
			t.Errorf("%+v: error %v, want that of the reader", q, err)
		}
	}
}

// TestFitsStopped: a question that is asked no more, from whichever read on, ends as
// stopped, and nothing is judged or measured for it after that.
func TestFitsStopped(t *testing.T) {
	facts := fleet(1)
	single := func(f graph.Fitment) bool { return f.Part < "Tarnholt 207.0006" } // no kit
	asked := facts.Fitments[slices.IndexFunc(facts.Fitments, single)]
	facts.Supersessions, facts.Findings = nil, nil // the listing alone is held against measures
	for i := range facts.Sources {
		facts.Sources[i].Scope = graph.Scope{}
	}
	for reads := 1; ; reads++ {
		ctx, cancel := context.WithCancel(context.Background())
		r := &stopping{Reader: readertest.New(facts), left: reads, stop: cancel}
		var counted counting
		_, err := fits.Held(ctx, r, fits.FitsQuestion{Part: string(asked.Part)}, &counted)
		measured := counted.held
		cancel()
		if r.left > 0 {
			if err != nil || measured == 0 || reads < 3 {
				t.Fatalf("not stopped within %d reads: %v, %d measured", reads, err, measured)
			}
			return
		}
		if !errors.Is(err, context.Canceled) || measured > 0 {
			t.Errorf("stopped at read %d: %v, %d measured", reads, err, measured)
		}
	}
}

// counting counts what is held against measures, and measures nothing.
type counting struct{ held int }

func (c *counting) Hold(_ context.Context, _ fits.Spot, said []evidence.Claim) ([]evidence.Claim, error) {
	c.held++
	return said, nil
}

func (c *counting) Meeting(_ context.Context, _ graph.VariantID, at []graph.PositionID) ([]graph.PositionID, error) {
	return at, nil
}

// stopping is a reader in the midst of which somebody presses Ctrl-C.
type stopping struct {
	graph.Reader
	left int
	stop func()
}

func (s *stopping) read() {
	if s.left--; s.left == 0 {
		s.stop()
	}
}

func (s *stopping) FitmentsOf(ctx context.Context, p ...graph.PartID) ([]graph.Fitment, error) {
	s.read()
	return s.Reader.FitmentsOf(ctx, p...)
}

func (s *stopping) FindingsOf(ctx context.Context, p ...graph.PartID) ([]graph.Finding, error) {
	s.read()
	return s.Reader.FindingsOf(ctx, p...)
}

func (s *stopping) Positions(ctx context.Context, p ...graph.PositionID) ([]graph.Position, error) {
	s.read()
	return s.Reader.Positions(ctx, p...)
}

func (s *stopping) FitmentsAt(ctx context.Context, p ...graph.PositionID) ([]graph.Fitment, error) {
	s.read()
	return s.Reader.FitmentsAt(ctx, p...)
}
