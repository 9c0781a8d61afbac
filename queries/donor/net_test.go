package donor_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// net is a machine of n x n places, each screwed into the one on its right and the one below:
// as built with M8, on the donor with M10. One of them comes over, and so all others must.
func net(n int) string {
	var kinds, places, joints, parts, fitments strings.Builder
	for x := range n {
		for y := range n {
			at := fmt.Sprintf("n%02d-%02d", x, y)
			fmt.Fprintf(&kinds, "  %s: {name: node, features: {left: female-thread, up: female-thread, right: male-thread, "+
				"down: male-thread}}\n", at)
			fmt.Fprintf(&places, "          %s: {kind: %s}\n", at, at)
			if x+1 < n {
				fmt.Fprintf(&joints, "      h%s: {a: net/%s.right, b: net/n%02d-%02d.left}\n", at, at, x+1, y)
			}
			if y+1 < n {
				fmt.Fprintf(&joints, "      v%s: {a: net/%s.down, b: net/n%02d-%02d.up}\n", at, at, x, y+1)
			}
			for year, thread := range map[int]string{2001: "M8x1.25", 2003: "M10x1.25"} {
				hole := "{thread: " + thread + ", depth: 20 mm, hole: through, material: steel, grip: 3 mm}"
				stem := "{thread: " + thread + ", length: 18 mm}"
				number := fmt.Sprintf("Tarnholt %d.%02d.%02d", year, x, y)
				fmt.Fprintf(&parts, "  - {number: %s, kind: %s, features: {left: %s, up: %s, right: %s, down: %s}}\n", number, at,
					hole, hole, stem, stem)
				fmt.Fprintf(&fitments, "net-1,net/%s,%s,%d,list\n", at, number, year)
			}
		}
	}
	return "-- net.yaml --\nsource: list\nsources: {list: {kind: factory parts list, title: A list}}\n" +
		"brands: {Tarnholt: {}}\nkinds:\n" + kinds.String() + "models:\n  net-1:\n    maker: Tarnholt\n    name: Net\n" +
		"    variants: [{year: 2001, market: eu}, {year: 2003, market: eu}]\n    assemblies:\n      net:\n" +
		"        name: Net\n        positions:\n" + places.String() + "    joints:\n" + joints.String() +
		"parts:\n" + parts.String() + "-- fitments.csv --\nmodel,position,part,years,source\n" + fitments.String()
}

// TestWholeDonorIsFoundAtOnce: where all of the donor must come over, that is a plan, and it
// is there before one ring after the other was looked at. It is counted in work, as for
// TestFirstPlanComesAtOnce.
func TestWholeDonorIsFoundAtOnce(t *testing.T) {
	r := once.New(readertest.New(demotest.Story(t, txtar.Parse([]byte(net(14))))))
	clock := measuredClock()
	q := donor.DonorQuestion{On: "net-1/2001/eu", From: "net-1/2003/eu", Take: []string{"net/n07-07"}, Began: clock.at,
		Now: clock.now, Time: time.Minute}
	stop := make(chan struct{})
	q.Stop = stop
	first := time.Duration(0)
	q.Better = func(donor.DonorCost) {
		if first == 0 {
			first = clock.at.Sub(q.Began)
			close(stop)
		}
	}
	a, err := donor.Donor(context.Background(), clockedReader{r, clock}, q)
	if err != nil || len(a.Plans) == 0 || len(a.Plans[0].Take) != 14*14 {
		t.Fatalf("%s, error %v", a.Outcome, err)
	}
	if most := 400 * time.Millisecond; first > most {
		t.Errorf("a first plan after %v, want one within %v", first, most)
	}
}
