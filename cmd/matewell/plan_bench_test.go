package main

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"matewell/cmd/matewell/internal/desk"
	"matewell/queries/donor"
)

// row is a machine that is one long row of links, each screwed into the next: its
// first link gets a thicker thread, and so all others must, each from some
// candidates. What it costs at least is a shortest way through a layered graph,
// which shortest finds by Bellman's recursion, knowing nothing of the planner.
type row struct {
	places, candidates int
	socket, stem       [][]int // by place and candidate: 0 is M10x1.25, 1 is M10x1.5
	price              [][]int // in EUR
}

func newRow(places, candidates int) row {
	rnd := rand.New(rand.NewPCG(uint64(places), uint64(candidates)))
	r := row{places: places, candidates: candidates}
	for range places {
		var socket, stem, price []int
		for c := range candidates {
			socket, stem = append(socket, c%2), append(stem, c/2%2) // all four sorts from four candidates on
			price = append(price, 5+rnd.IntN(90))
		}
		r.socket, r.stem, r.price = append(r.socket, socket), append(r.stem, stem), append(r.price, price)
	}
	return r
}

// shortest is the least money for all places but the first, which is candidate 0.
func (r row) shortest() int {
	const far = 1 << 40
	least := [2]int{far, far} // by the thread that the last link ends in
	least[r.stem[0][0]] = 0
	for i := 1; i < r.places; i++ {
		next := [2]int{far, far}
		for c := range r.candidates {
			to := r.stem[i][c]
			next[to] = min(next[to], least[r.socket[i][c]]+r.price[i][c])
		}
		least = next
	}
	return min(least[0], least[1])
}

// files are the data of the machine.
func (r row) files() fstest.MapFS {
	var kinds, places, joints, parts, fitments strings.Builder
	threads := []string{"M10x1.25", "M10x1.5"}
	part := func(number string, at int, socket, stem string, price int) {
		fmt.Fprintf(&parts, "  - {number: Tarnholt %s, kind: link-%d, price: %d EUR, features: {socket: {thread: %s, "+
			"depth: 20 mm, "+
			"hole: through, material: aluminium, grip: 3 mm}, stem: {thread: %s, length: 18 mm}}}\n", number, at, price, socket,
			stem)
	}
	for i := range r.places {
		fmt.Fprintf(&kinds, "  link-%d: {name: link, features: {socket: female-thread, stem: male-thread}}\n", i)
		fmt.Fprintf(&places, "          link-%d: {kind: link-%d}\n", i, i)
		if i > 0 {
			fmt.Fprintf(&joints, "      joint-%d: {a: row/link-%d.stem, b: row/link-%d.socket}\n", i, i-1, i)
		}
		fmt.Fprintf(&fitments, "row-1,row/link-%d,Tarnholt B-%d,list\n", i, i)
		part(fmt.Sprintf("B-%d", i), i, "M8x1.25", "M8x1.25", 1)
		for c := range r.candidates {
			part(fmt.Sprintf("C-%d-%d", i, c), i, threads[r.socket[i][c]], threads[r.stem[i][c]], r.price[i][c])
		}
	}
	yaml := "source: list\nsources: {list: {kind: factory parts list, title: A list}}\nbrands: {Tarnholt: {}}\nkinds:\n" +
		kinds.String() +
		"models:\n  row-1:\n    maker: Tarnholt\n    name: Row\n    variants: [{year: 2003, market: eu}]\n    " +
		"assemblies:\n      row:\n" +
		"        name: Row\n        positions:\n" + places.String() +
		"    joints:\n" + joints.String() + "parts:\n" + parts.String()
	return fstest.MapFS{"row.yaml": {Data: []byte(yaml)},
		"fitments.csv": {Data: []byte("model,position,part,source\n" + fitments.String())}}
}

// plan asks the command line for the plan.
func (r row) plan(t testing.TB, e desk.Env) donor.DonorAnswer {
	t.Helper()
	if code := run(e, []string{"swap", "--plan", "--data", "row", "--on", "row-1/2003/eu", "--time", "60s", "--format",
		"json",
		"row/link-0=Tarnholt C-0-0"}); code == exitFailed || code == exitUsage {
		t.Fatalf("exit %d: %s", code, e.Err)
	}
	var report donor.DonorReport
	if err := json.Unmarshal([]byte(e.Out.(fmt.Stringer).String()), &report); err != nil || report.Plan == nil {
		t.Fatalf("%v", err)
	}
	return *report.Plan
}

func (r row) env(t testing.TB) desk.Env {
	e, _, _ := testEnv(t)
	files := r.files()
	e.Now = time.Now
	e.DirFS = func(string) fs.FS { return files }
	return e
}

// A plan of fifty places costs what the shortest way through them does.
func TestLongRowIsPlannedCheapest(t *testing.T) {
	r := newRow(50, 6)
	a := r.plan(t, r.env(t))
	want := fmt.Sprintf("%d EUR", r.shortest())
	if len(a.Plans) == 0 || a.Outcome != "proved smallest" {
		t.Fatalf("%s, %d plans", a.Outcome, len(a.Plans))
	}
	if cost := a.Plans[0].Cost; cost.Money != want || cost.Changes != 49 {
		t.Errorf("got %+v, want %s for 49 changes", cost, want)
	}
}

// BenchmarkPlanLongRow is the whole command on rows of 50 to 400 places that all
// change, with 6 and 10 candidates each, once the data has been read.
func BenchmarkPlanLongRow(b *testing.B) {
	for _, places := range []int{50, 100, 200, 400} {
		for _, candidates := range []int{6, 10} {
			b.Run(fmt.Sprintf("places=%d/candidates=%d", places, candidates), func(b *testing.B) {
				r := newRow(places, candidates)
				e := r.env(b)
				want := fmt.Sprintf("%d EUR", r.shortest())
				r.plan(b, e) // reads the data and keeps it
				for b.Loop() {
					e.Out.(interface{ Reset() }).Reset()
					if a := r.plan(b, e); len(a.Plans) == 0 || a.Outcome == "proved smallest" && a.Plans[0].Cost.Money != want {
						b.Fatalf("%s, want %s", a.Outcome, want)
					}
				}
			})
		}
	}
}
