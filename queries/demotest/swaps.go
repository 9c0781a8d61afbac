package demotest

import (
	"matewell/queries/swap"
)

// Swap is one swap of the demonstration data.
type Swap struct {
	Name, On string
	Swaps    []swap.Replacement
	// Wants are outcomes that must come out so: "joint hose-upper-on-master:
	// does not fit".
	Wants []string
	// Trail and Number must be among the trails and numbers.
	Trail, Number string
	Ready         bool
}

// Swaps are the swaps of the demonstration.
func Swaps() []Swap {
	at := func(pairs ...string) []swap.Replacement {
		var swaps []swap.Replacement
		for i := 0; i < len(pairs); i += 2 {
			swaps = append(swaps, swap.Replacement{Position: pairs[i], Part: pairs[i+1]})
		}
		return swaps
	}
	return []Swap{
		{Name: "a wider, higher handlebar", On: "skerry-620/2002/eu", Swaps: at("controls/handlebar", "Kellowick KW 2210-bk"),
			Wants: []string{"run throttle-cable-open: unknown", "run brake-hose-upper: unknown",
				"joint handlebar-in-yoke: fits"},
			Trail: "controls/handlebar -> lever-place-left -> clutch/line"},
		{Name: "a clutch conversion", On: "skerry-620/2002/eu",
			Swaps: at("clutch/lever", "Kellowick KW 4101", "clutch/release", "Kellowick KW 4102", "clutch/line",
				"Kellowick KW 4103"),
			Wants: []string{"run clutch-line: does not fit", "joint release-on-stay: does not fit"},
			Trail: "clutch/release -> mount -> clutch/stay", Number: "slave travel at full stroke"},
		{Name: "a donor master cylinder", On: "skerry-620/2003/eu/late",
			Swaps: at("front-brake/master-cylinder", "Tarnholt 207.7003"),
			Wants: []string{"joint hose-upper-on-master: does not fit", "joint lever-in-master: fits with changes"},
			Trail: "front-brake/master-cylinder -> outlet -> front-brake/banjo-bolt-master", Number: "hydraulic ratio"},
		{Name: "donor calipers", On: "skerry-620/2002/eu",
			Swaps: at("front-brake/caliper-left", "Tarnholt 207.7412", "front-brake/caliper-right", "Tarnholt 207.7413"),
			Wants: []string{"joint caliper-left-on-leg: fits with changes", "joint hose-left-on-caliper: does not fit",
				"pair front-brake/caliper-left: fits"},
			Trail: "front-brake/caliper-left -> mount -> fork/leg-left", Number: "total leverage"},
		{Name: "a donor wheel with another axle", On: "skerry-620/2004/eu",
			Swaps: at("front-wheel/wheel", "Tarnholt 205.7006", "front-wheel/axle", "Tarnholt 205.7010"),
			Wants: []string{"joint axle-in-left-leg: does not fit", "joint disc-left-on-wheel: fits",
				"stack front-axle-late: fits with changes", "disc front-brake/disc-left: fits"},
			Trail: "front-wheel/wheel -> bearing-seat-left -> front-wheel/bearing-left"},
		{Name: "from 530 to 520", On: "fjeld-750/2004/eu",
			Swaps: at("final-drive/chain", "Thrumley 520-110C", "final-drive/sprocket-front", "Thrumley 520-017F",
				"final-drive/sprocket-rear", "Thrumley 520-942R"),
			Wants: []string{"joint chain-on-front: fits", "chain final-drive/chain: fits with changes"},
			Trail: "final-drive/chain -> links"},
		{Name: "a headlamp of the other market", On: "skerry-620/2003/eu/late",
			Swaps: at("lamps/headlamp", "Tarnholt 402.4011"),
			Wants: []string{"joint headlamp-beam: does not fit", "joint headlamp-on-bracket: fits"},
			Trail: "lamps/headlamp -> beam -> frame/type-plate"},
		{Name: "a side panel of another year", On: "skerry-620/2003/eu/late",
			Swaps: at("bodywork/side-panel-left", "Tarnholt 302.4026/sl"),
			Wants: []string{"joint side-panel-left-on-frame: fits with changes", "finish finish: fits"}, Ready: true,
			Trail: "bodywork/side-panel-left -> points -> frame/frame"},
		{Name: "a whole fork", On: "skerry-620/2002/eu",
			Swaps: at("fork/leg-left", "Tarnholt 203.4009", "fork/leg-right", "Tarnholt 203.4037"),
			Wants: []string{"joint leg-left-in-lower-yoke: does not fit", "pair fork/leg-left: fits",
				"joint seal-left-on-stanchion: does not fit"},
			Trail: "fork/leg-left -> tube-lower -> yokes/lower", Number: "trail"},
		{Name: "a donor rear wheel", On: "skerry-620/2004/eu", Swaps: at("rear-wheel/wheel", "Tarnholt 206.7001"),
			Wants: []string{"stack rear-axle: fits with changes", "disc rear-brake/disc: fits with changes",
				"joint rear-tyre-on-rim: unknown"},
			Trail: "rear-wheel/wheel -> bearing-seat-left -> rear-wheel/bearing-left"},
		{Name: "a wheel with another sensor ring", On: "fjeld-750/2004/eu",
			Swaps:  at("rear-wheel/wheel", "Varnhegg 44-044.1"),
			Wants:  []string{"joint rear-tyre-on-rim: fits", "stack rear-axle: fits", "disc rear-brake/disc: fits"},
			Number: "speedometer at a true 100 km/h"},
	}
}
