package plan

import (
	"context"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// swap is a brake swap small enough to settle by hand: a caliper with 84 or 100
// mm between its bolts on a leg with the same choice, and a hose on the caliper.
func swap() Problem {
	return Problem{
		Slots: []Slot{
			{"caliper", []Option{{"as built, 84 mm", Cost{}}, {"donor, 100 mm", Cost{Effort: 1, Parts: 1, Distance: 1}}}},
			{"leg", []Option{{"as built, 84 mm", Cost{}}, {"donor, 100 mm", Cost{Effort: 1, Parts: 1, Money: 9000,
				Distance: 1}}}},
			{"hose", []Option{{"as built", Cost{}}, {"donor", Cost{Effort: 1, Parts: 1, Distance: 1}}, {"to measure",
				Cost{Effort: 1, Parts: 1, Money: 6000, Distance: 1}}}},
		},
		Demands: []Demand{
			{"take the donor caliper", []int{0}, []Combination{{Options: []int{1}}}},
			{"caliper on leg", []int{0, 1}, []Combination{{Options: []int{0, 0}}, {Options: []int{1, 1}},
				{[]int{1, 0}, "bracket", Cost{Effort: 3, Parts: 1, Money: 2000}}}},
			{"hose on caliper", []int{2, 0}, []Combination{{Options: []int{0, 0}}, {Options: []int{1, 1}}, {Options: []int{2,
				1}}, {Options: []int{2, 0}}}},
		},
	}
}

// By hand: the donor's leg keeps the work at hand tools, the bracket from the
// lathe is cheaper; parts are three either way.
func TestSwapByHand(t *testing.T) {
	tests := []struct {
		name   string
		prefer Prefer
		choice []int
		cost   Cost
	}{
		{"effort first takes the donor's leg", PreferEffort, []int{1, 1, 1}, Cost{Effort: 1, Parts: 3, Money: 9000,
			Distance: 3}},
		{"parts first ties on three, then effort decides", PreferParts, []int{1, 1, 1}, Cost{Effort: 1, Parts: 3,
			Money: 9000, Distance: 3}},
		{"money first makes the bracket", PreferMoney, []int{1, 0, 1}, Cost{Effort: 3, Parts: 3, Money: 2000, Distance: 2}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := prove(t, swap(), Options{Prefer: tt.prefer})
			if plan := got.Plans[0]; !slices.Equal(plan.Choice, tt.choice) || plan.Cost != tt.cost || got.Equal != 1 {
				t.Errorf("got %v costing %v, %d equal, want %v costing %v", plan.Choice, plan.Cost, got.Equal, tt.choice, tt.cost)
			}
		})
	}
}

// Taking the nearest fix at each step is worse: the cheap shim on the first joint
// drags in two parts further on, the dearer adapter none.
func TestGreedyIsWorse(t *testing.T) {
	free := func(names ...string) Slot {
		s := Slot{Name: names[0]}
		for _, n := range names[1:] {
			s.Options = append(s.Options, Option{Name: n})
		}
		return s
	}
	p := Problem{
		Slots: []Slot{free("wheel", "donor"), free("axle", "as built", "thin"), free("spacer left", "as built", "thin"),
			free("spacer right", "as built", "thin")},
		Demands: []Demand{
			{"axle in wheel", []int{0, 1}, []Combination{{[]int{0, 1}, "straight in", Cost{}}, {[]int{0, 0},
				"bearings that bridge", Cost{Parts: 2}}}},
			{"spacer on axle", []int{1, 2}, []Combination{{Options: []int{0, 0}}, {Options: []int{1, 1}}}},
			{"other spacer on axle", []int{1, 3}, []Combination{{Options: []int{0, 0}}, {Options: []int{1, 1}}}},
		},
	}
	for _, s := range []int{1, 2, 3} {
		p.Slots[s].Options[1].Cost = Cost{Parts: 1, Distance: 1}
	}
	got := prove(t, p, Options{})
	if plan := got.Plans[0]; !slices.Equal(plan.Choice, []int{0, 0, 0, 0}) || plan.Cost != (Cost{Parts: 2}) {
		t.Errorf("got %v costing %v, want the bearings that bridge", plan.Choice, plan.Cost)
	}
}

// Two brackets of one price are two plans; one dearer is none.
func TestTiesThroughAdapters(t *testing.T) {
	p := swap()
	p.Slots[1].Options = p.Slots[1].Options[:1]
	d := &p.Demands[1]
	d.Allowed = []Combination{d.Allowed[0], d.Allowed[2], d.Allowed[2], d.Allowed[2]}
	d.Allowed[3].Cost.Money++
	got := prove(t, p, Options{All: true})
	if got.Equal != 2 || got.EqualAtLeast || len(got.Plans) != 2 || got.Plans[0].Through[1] == got.Plans[1].Through[1] {
		t.Errorf("got %+v, want two plans through two brackets", got)
	}
	if got := prove(t, p, Options{}); len(got.Plans) != 1 || got.Equal != 2 {
		t.Errorf("without All: %d plans, %d equal, want 1 of 2", len(got.Plans), got.Equal)
	}
}

func TestClashInWords(t *testing.T) {
	p := swap()
	p.Slots[1].Options = p.Slots[1].Options[:1]     // the leg must stay
	p.Demands[1].Allowed = p.Demands[1].Allowed[:1] // no bracket known
	p.Demands = append(p.Demands, Demand{"nothing else", []int{2}, []Combination{{Options: []int{0}}, {Options: []int{1}},
		{Options: []int{2}}}})
	got := prove(t, p, Options{})
	if got.Verdict() != "no plan" || got.Clash == nil || !slices.Equal(got.Clash.Demands, []int{0, 1}) ||
		!got.Clash.Smallest || !slices.Equal(got.Clash.Open, []int{0, 1}) {
		t.Errorf("%s: %+v, want that demands 0 and 1 clash and either opens the way", got.Verdict(), got.Clash)
	}
}

// Where as built holds everywhere, nothing is changed. And one demand less, or
// one combination more, never makes the smallest plan dearer.
func TestPlanProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := tiny(t)
		before, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		less := Problem{Slots: p.Slots}
		if len(p.Demands) > 0 {
			less.Demands = p.Demands[1:]
		}
		after, err := Solve(context.Background(), less, Options{})
		if err != nil || len(before.Plans) > 0 && (len(after.Plans) == 0 || before.Plans[0].Cost.Less(after.Plans[0].Cost,
			PreferEffort)) {
			t.Fatalf("one demand less went from %+v to %+v, error %v", before.Plans, after.Plans, err)
		}
		if len(p.Demands) > 0 && len(before.Plans) > 0 {
			less.Demands = append(slices.Clone(p.Demands[1:]), p.Demands[0])
			last := &less.Demands[len(less.Demands)-1]
			last.Allowed = append(slices.Clone(last.Allowed), Combination{Options: make([]int, len(last.Slots)),
				Cost: Cost{Parts: 1}})
			more, err := Solve(context.Background(), less, Options{})
			if err != nil || before.Plans[0].Cost.Less(more.Plans[0].Cost, PreferEffort) {
				t.Fatalf("one combination more went from %+v to %+v, error %v", before.Plans, more.Plans, err)
			}
		}
		built := p.asBuilt()
		got, err := Solve(context.Background(), built, Options{})
		if err != nil || !got.Proved || got.Plans[0].Cost != (Cost{}) {
			t.Fatalf("as built holds, but got %+v, error %v", got, err)
		}
	})
}

// asBuilt makes every slot's first option free and lets every demand hold with
// it.
func (p Problem) asBuilt() Problem {
	var out Problem
	for _, s := range p.Slots {
		out.Slots = append(out.Slots, Slot{s.Name, append([]Option{{}}, s.Options...)})
	}
	for _, d := range p.Demands {
		next := Demand{Slots: d.Slots, Allowed: []Combination{{Options: make([]int, len(d.Slots))}}}
		for _, c := range d.Allowed {
			var options []int
			for _, o := range c.Options {
				options = append(options, o+1)
			}
			next.Allowed = append(next.Allowed, Combination{Options: options, Cost: c.Cost})
		}
		out.Demands = append(out.Demands, next)
	}
	return out
}

func TestCheckRefuses(t *testing.T) {
	tests := []struct {
		name string
		harm func(p *Problem)
		say  string
	}{
		{"slot without options", func(p *Problem) { p.Slots[2].Options = nil }, "slot 2 (hose) has no option"},
		{"negative cost", func(p *Problem) { p.Slots[0].Options[1].Cost.Money = -1 }, "money is -1"},
		{"effort past the classes", func(p *Problem) { p.Slots[0].Options[1].Cost.Effort = 16 }, "effort is 16"},
		{"too much money in all", func(p *Problem) {
			p.Slots[0].Options[1].Cost.Money, p.Slots[1].Options[1].Cost.Money = MostTotal, 1
		}, "money may add up to"},
		{"demand on nothing", func(p *Problem) { p.Demands[0].Slots = nil }, "names no slot"},
		{"slot that isn't there", func(p *Problem) { p.Demands[0].Slots = []int{3} }, "slot 3 is not one of 3"},
		{"slot twice", func(p *Problem) { p.Demands[1].Slots = []int{0, 0} }, "slot 0 is named twice"},
		{"combination too short", func(p *Problem) { p.Demands[1].Allowed[0].Options = []int{0} }, "1 options for 2 slots"},
		{"option that isn't there", func(p *Problem) { p.Demands[1].Allowed[0].Options = []int{0, 2} }, "slot 1 has no " +
			"option 2"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := swap()
			tt.harm(&p)
			if _, err := Solve(context.Background(), p, Options{}); err == nil || !strings.Contains(err.Error(), tt.say) {
				t.Errorf("error %v, want one that says %q", err, tt.say)
			}
		})
	}
}

func TestCostOfRefuses(t *testing.T) {
	p := swap()
	if got, err := p.costOf([]int{1, 0, 1}, []int{0, 2, 1}); err != nil || got != (Cost{Effort: 3, Parts: 3, Money: 2000,
		Distance: 2}) {
		t.Errorf("bracket costs %v, error %v", got, err)
	}
	for name, plan := range map[string][2][]int{
		"combination of other options":  {{1, 1, 1}, {0, 2, 1}},
		"no combination":                {{1, 0, 1}, {0, -1, 1}},
		"too few options":               {{1, 0}, {0, 2, 1}},
		"an option the slot hasn't got": {{1, 0, 7}, {0, 2, 1}},
	} {
		if got, err := p.costOf(plan[0], plan[1]); err == nil {
			t.Errorf("%s costs %v, want an error", name, got)
		}
	}
}

func TestParsePrefer(t *testing.T) {
	for _, p := range []Prefer{PreferEffort, PreferParts, PreferMoney} {
		if got, err := ParsePrefer(p.String()); got != p || err != nil {
			t.Errorf("ParsePrefer(%q) = %v, error %v", p, got, err)
		}
	}
	if _, err := ParsePrefer("looks"); err == nil {
		t.Error(`"looks" is no order`)
	}
}
