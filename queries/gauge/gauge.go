// Package gauge gathers the sizes of hardware that a set knows: threads, spanner
// sizes, lengths under the head, rings, bearings, hole circles. Drawn at full
// size they are a sheet on which an unlabelled bolt is found by laying it down.
// The door is Sizes; drawing is the command line's affair.
package gauge

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// Sheet is what there is to draw. Every list is in rising order, all lengths in
// mm; sizes that differ by less than 0.01 mm are one.
type Sheet struct {
	Threads  []Thread  `json:"threads"`
	Spanners []Spanner `json:"spanners"`
	Circles  []Circle  `json:"hole_circles"`
	Rings    []Ring    `json:"rings"`
	Bearings []Ring    `json:"bearings"`
}

// Thread is one diameter and pitch.
type Thread struct {
	Name    string  `json:"name"` // "M8x1.25"
	Nominal float64 `json:"nominal_mm"`
	Pitch   float64 `json:"pitch_mm"`
	// Lengths are those of its bolts, under the head.
	Lengths []float64 `json:"lengths_mm,omitempty"`
}

// Spanner is one size across flats.
type Spanner struct {
	AcrossFlats float64 `json:"across_flats_mm"`
	// On are the threads that have a head or nut of that size, by name.
	On []string `json:"on"`
}

// Circle is holes on a pitch circle, or two holes their centres apart.
type Circle struct {
	Count   int     `json:"count"`
	Spacing float64 `json:"spacing_mm"`
	Hole    float64 `json:"hole_mm,omitempty"` // 0 when nobody says
}

// Ring is anything round with a hole in it.
type Ring struct {
	Inside  float64  `json:"inside_mm"`
	Outside float64  `json:"outside_mm"`
	Names   []string `json:"names"` // designations or kinds of part, sorted
}

// Sizes gathers the sizes of every part that the set describes.
func Sizes(ctx context.Context, r graph.Reader) (Sheet, error) {
	kinds, err := r.KindsWith(ctx, "male-thread", "female-thread", "washer", "bearing", "bolt-pattern", "seal")
	if err != nil || len(kinds) == 0 {
		return Sheet{}, err
	}
	ids, err := r.PartsOfKind(ctx, kinds...)
	if err != nil {
		return Sheet{}, err
	}
	g := &gatherer{threads: map[[2]int]*Thread{}, spanners: map[int]*Spanner{}, circles: map[Circle]bool{},
		rings: map[[2]int]*Ring{}, bearings: map[[2]int]*Ring{}}
	for batch := range slices.Chunk(ids, 1000) {
		parts, err := r.Parts(ctx, batch...)
		if err != nil {
			return Sheet{}, err
		}
		for _, p := range parts {
			g.add(p)
		}
	}
	return g.sheet(), nil
}

// gatherer is the sizes met so far.
type gatherer struct {
	threads  map[[2]int]*Thread
	spanners map[int]*Spanner
	circles  map[Circle]bool
	rings    map[[2]int]*Ring
	bearings map[[2]int]*Ring
}

func (g *gatherer) add(p graph.Part) {
	for _, f := range p.Features {
		switch f.Kind {
		case "male-thread", "female-thread":
			g.addThread(f)
		case "bolt-pattern":
			g.addCircle(f)
		case "washer", "seal":
			addRing(g.rings, f, string(p.Kind))
		case "bearing":
			addRing(g.bearings, f, cmp.Or(text(f, "designation"), string(p.Kind)))
		}
	}
}

func (g *gatherer) addThread(f graph.Feature) {
	size, err := measure.ParseThread(text(f, "thread"))
	if err != nil || size.Nominal <= 0 || size.Pitch <= 0 {
		return
	}
	key := [2]int{hundredths(size.Nominal), hundredths(size.Pitch * 10)}
	t := g.threads[key]
	if t == nil {
		t = &Thread{Name: size.String(), Nominal: size.Nominal, Pitch: size.Pitch}
		g.threads[key] = t
	}
	if l := length(f, "length"); f.Kind == "male-thread" && l > 0 && !slices.Contains(t.Lengths, l) {
		t.Lengths = append(t.Lengths, l)
	}
	if flats := length(f, "across-flats"); flats > 0 {
		s := g.spanners[hundredths(flats)]
		if s == nil {
			s = &Spanner{AcrossFlats: flats}
			g.spanners[hundredths(flats)] = s
		}
		if !slices.Contains(s.On, t.Name) {
			s.On = append(s.On, t.Name)
		}
	}
}

func (g *gatherer) addCircle(f graph.Feature) {
	count, err := measure.ParseQuantity(text(f, "count"), measure.Count)
	spacing := length(f, "spacing")
	if err == nil && spacing > 0 && count.Nominal >= 2 {
		g.circles[Circle{int(count.Nominal), spacing, length(f, "hole")}] = true
	}
}

func addRing(rings map[[2]int]*Ring, f graph.Feature, name string) {
	inside, outside := length(f, "inside"), length(f, "outside")
	if inside <= 0 || outside <= inside {
		return
	}
	key := [2]int{hundredths(inside), hundredths(outside)}
	r := rings[key]
	if r == nil {
		r = &Ring{Inside: inside, Outside: outside}
		rings[key] = r
	}
	if !slices.Contains(r.Names, name) {
		r.Names = append(r.Names, name)
	}
}

// text is the first reading of a dimension as written; empty when there is none.
func text(f graph.Feature, dim string) string {
	if readings := f.Dims[dim]; len(readings) > 0 {
		return readings[0].Text
	}
	return ""
}

// length is the first reading in mm; 0 when there is none that can be read.
func length(f graph.Feature, dim string) float64 {
	q, err := measure.ParseQuantity(text(f, dim), measure.Length)
	if err != nil {
		return 0
	}
	return q.Nominal
}

func hundredths(mm float64) int { return int(mm*100 + 0.5) }

func (g *gatherer) sheet() Sheet {
	var s Sheet
	for _, t := range g.threads {
		slices.Sort(t.Lengths)
		s.Threads = append(s.Threads, *t)
	}
	slices.SortFunc(s.Threads, func(a, b Thread) int {
		return cmp.Or(cmp.Compare(a.Nominal, b.Nominal), cmp.Compare(b.Pitch, a.Pitch), cmp.Compare(a.Name, b.Name))
	})
	for _, one := range g.spanners {
		slices.Sort(one.On)
		s.Spanners = append(s.Spanners, *one)
	}
	slices.SortFunc(s.Spanners, func(a, b Spanner) int { return cmp.Compare(a.AcrossFlats, b.AcrossFlats) })
	for c := range g.circles {
		s.Circles = append(s.Circles, c)
	}
	slices.SortFunc(s.Circles, func(a, b Circle) int {
		return cmp.Or(cmp.Compare(a.Spacing, b.Spacing), cmp.Compare(a.Count, b.Count), cmp.Compare(a.Hole, b.Hole))
	})
	s.Rings, s.Bearings = sortedRings(g.rings), sortedRings(g.bearings)
	return s
}

func sortedRings(rings map[[2]int]*Ring) []Ring {
	var out []Ring
	for _, r := range rings {
		slices.Sort(r.Names)
		out = append(out, *r)
	}
	slices.SortFunc(out, func(a, b Ring) int {
		return cmp.Or(cmp.Compare(a.Outside, b.Outside), cmp.Compare(a.Inside, b.Inside))
	})
	return out
}
