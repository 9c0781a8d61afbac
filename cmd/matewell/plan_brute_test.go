package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"matewell/graph/sampletest"
	"matewell/queries/donor"
	"matewell/queries/plan"
)

// pair is two machines of the same few links, each screwed into the next, and other
// links that can be bought. What must be bought or exchanged so that a link of the donor
// goes onto the machine is found by trying everything, knowing nothing of the planner.
type pair struct {
	mine, theirs []link   // as built
	bought       [][]link // by place
	goal         int
}

// link is one part: the thread that it is screwed onto, that which it ends in, its price.
type link struct {
	number       string
	socket, stem int
	price        int
}

func newPair(rnd *rand.Rand) pair {
	places := 3 + rnd.IntN(3)
	p := pair{mine: rowOf(rnd, "A", places), theirs: rowOf(rnd, "B", places), goal: rnd.IntN(places)}
	for i := range places {
		var bought []link
		for c := range rnd.IntN(4) {
			bought = append(bought, newLink(rnd, fmt.Sprintf("C-%d-%d", i, c), i, places))
		}
		p.bought = append(p.bought, bought)
	}
	return p
}

// newLink is any link for a place. The outer ends of a row, which nothing meets, are alike.
func newLink(rnd *rand.Rand, number string, at, places int) link {
	l := link{number, rnd.IntN(2), rnd.IntN(2), 5 + rnd.IntN(40)}
	if at == 0 {
		l.socket = 0
	}
	if at == places-1 {
		l.stem = 0
	}
	return l
}

// rowOf is a row whose links fit one another.
func rowOf(rnd *rand.Rand, name string, places int) []link {
	row := make([]link, places)
	for i := range row {
		row[i] = newLink(rnd, fmt.Sprintf("%s-%d", name, i), i, places)
		if i > 0 {
			row[i].socket = row[i-1].stem
		}
	}
	return row
}

// holds reports whether each link goes onto the next.
func holds(row []link) bool {
	for i := range len(row) - 1 {
		if row[i].stem != row[i+1].socket {
			return false
		}
	}
	return true
}

// rowCost is what a plan costs, in the order in which that counts.
type rowCost struct{ effort, parts, money, changes int }

func (c rowCost) compare(o rowCost) int {
	return cmp.Or(c.effort-o.effort, c.parts-o.parts, c.money-o.money, c.changes-o.changes)
}

// least is the cheapest plan of all, with a donor that stays as it is or not; false
// without any.
func (p pair) least(stays bool) (best rowCost, some bool) {
	row, left := make([]link, len(p.mine)), make([]link, len(p.mine))
	var from func(i int, cost rowCost)
	from = func(i int, cost rowCost) {
		if i == len(row) {
			if holds(row) && (!stays || holds(left)) && (!some || cost.compare(best) < 0) {
				best, some = cost, true
			}
			return
		}
		try := func(part, there link, parts, money, changes int) {
			row[i], left[i] = part, there
			effort := min(1, parts)
			if i == p.goal {
				effort = 0
			}
			from(i+1, rowCost{max(cost.effort, effort), cost.parts + parts, cost.money + money, cost.changes + changes})
		}
		mine, theirs := p.mine[i], p.theirs[i]
		if i == p.goal {
			try(theirs, mine, 0, 0, 0) // taken, and mine goes there
			if stays {
				try(theirs, theirs, 1, theirs.price, 0)
			}
			return
		}
		try(mine, theirs, 0, 0, 0)
		try(theirs, mine, 1, 0, 1)
		try(theirs, theirs, 1, theirs.price, 1)
		for _, other := range p.bought[i] {
			try(other, theirs, 1, other.price, 1)
		}
	}
	from(0, rowCost{})
	return best, some
}

// files are the data of both machines.
func (p pair) files() fstest.MapFS {
	var kinds, places, joints, parts, fitments strings.Builder
	threads := []string{"M10x1.25", "M10x1.5"}
	add := func(at int, l link) {
		fmt.Fprintf(&parts, "  - {number: Tarnholt %s, kind: link-%d, price: %d EUR, features: {socket: {thread: %s, "+
			"depth: 20 mm, hole: through, material: steel, grip: 3 mm}, stem: {thread: %s, length: 18 mm}}}\n", l.number, at,
			l.price, threads[l.socket], threads[l.stem])
	}
	for i := range p.mine {
		fmt.Fprintf(&kinds, "  link-%d: {name: link, features: {socket: female-thread, stem: male-thread}}\n", i)
		fmt.Fprintf(&places, "          link-%d: {kind: link-%d, safety: drive}\n", i, i)
		if i > 0 {
			fmt.Fprintf(&joints, "      joint-%d: {a: row/link-%d.stem, b: row/link-%d.socket}\n", i, i-1, i)
		}
		fmt.Fprintf(&fitments, "mine,row/link-%d,Tarnholt A-%d,list\ntheirs,row/link-%d,Tarnholt B-%d,list\n", i, i, i, i)
		add(i, p.mine[i])
		add(i, p.theirs[i])
		for _, l := range p.bought[i] {
			add(i, l)
		}
	}
	model := func(name string) string {
		return "  " + name + ":\n    maker: Tarnholt\n    name: " + name +
			"\n    variants: [{year: 2003, market: eu}]\n    assemblies:\n      row:\n        name: Row\n        positions:\n" +
			places.String() + "    joints:\n" + joints.String()
	}
	yaml := "source: list\nsources: {list: {kind: factory parts list, title: A list}}\nbrands: {Tarnholt: {}}\nkinds:\n" +
		kinds.String() + "models:\n" + model("mine") + model("theirs") + "parts:\n" + parts.String()
	return fstest.MapFS{"pair.yaml": {Data: []byte(yaml)},
		"fitments.csv": {Data: []byte("model,position,part,source\n" + fitments.String())}}
}

// plan asks the command line for the plan.
func (p pair) plan(t *testing.T, stays bool) donorPlans {
	t.Helper()
	e, out, errs := testEnv(t)
	files := p.files()
	e.Now = time.Now
	e.DirFS = func(string) fs.FS { return files }
	asked := []string{"donor", "--data", "pair", "--on", "mine/2003/eu", "--from", "theirs/2003/eu", "--time", "60s",
		"--format", "json", "--take", fmt.Sprintf("row/link-%d", p.goal)}
	if stays {
		asked = append(asked, "--donor-stays")
	}
	if code := run(e, asked); code == exitFailed || code == exitUsage {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var report struct{ Plan donorPlans }
	if err := json.Unmarshal(out.Bytes(), &report); err != nil {
		t.Fatal(err)
	}
	return report.Plan
}

// What is called smallest is what trying everything gives, also where the donor is to
// stay usable and sets of parts are exchanged that can't be one by one. What is not
// called smallest costs no less. A plan that makes something is none that was tried.
func TestSmallMachinesByBruteForce(t *testing.T) {
	rnd := rand.New(rand.NewPCG(sampletest.Seed(t), 12))
	proved, sets := 0, 0
	for n := range sampletest.Of(t, 12, 100) {
		p := newPair(rnd)
		for _, stays := range []bool{false, true} {
			a := p.plan(t, stays)
			want, some := p.least(stays)
			isMade := len(a.Plans) > 0 && a.Plans[0].Cost.Effort != "hand tools" && a.Plans[0].Cost.Effort != "none"
			if !some || isMade || len(a.Plans) == 0 {
				if some || len(a.Plans) > 0 && !isMade {
					t.Errorf("%d, donor stays %v: %s, %d plans; by hand %+v, %v\n%+v", n, stays, a.Outcome, len(a.Plans),
						want, some, p)
				}
				continue
			}
			got := costOfRow(t, a.Plans[0].Cost)
			isProved := a.Outcome == plan.ProvedSmallest
			if c := got.compare(want); c < 0 || isProved && c != 0 {
				t.Errorf("%d, donor stays %v: %s, %+v; by hand %+v\n%+v", n, stays, a.Outcome, got, want, p)
			}
			if isProved {
				proved++
			}
			if after := a.Plans[0].After; stays && isProved && len(after.Gets) > 1 {
				sets++
			}
		}
	}
	if t.Logf("%d were proved, %d times a set was exchanged", proved, sets); proved < 12 || sets == 0 {
		t.Error("this tells little")
	}
}

// costOfRow is what a plan says that it costs.
func costOfRow(t *testing.T, said donor.DonorCost) rowCost {
	t.Helper()
	c := rowCost{parts: said.Parts, changes: said.Changes}
	if said.Effort != "none" {
		c.effort = 1
	}
	if said.Money != "" {
		if _, err := fmt.Sscanf(said.Money, "%d EUR", &c.money); err != nil {
			t.Fatal(err)
		}
	}
	if said.SafetyUnknowns+said.OtherUnknowns > 0 || len(said.Unpriced) > 0 {
		t.Errorf("%+v", said)
	}
	return c
}
