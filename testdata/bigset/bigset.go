// Package bigset makes data sets of a shop's size for measurements: ordinary
// YAML and CSV files, invented, the same for the same seed. How often a part is
// used is skewed as in practice (no source; common practice): a few bolts sit
// on nearly every machine, most parts on one model only. It knows nothing of
// loader, store or questions.
package bigset

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// Set says how large a set is and how it starts.
type Set struct {
	// Facts is about how many facts the set holds: rows of fitments and
	// supersessions, positions, parts, measures, joints, variants. At least 5,000.
	Facts int
	Seed  uint64
}

// Summary tells what was written, and names what questions are worth asking of.
type Summary struct {
	Facts, Parts, Positions, Fitments, Supersessions, Measures, Joints, Models int
	Bolt                                                                       string // the most used bolt
	BoltRows                                                                   int
	// the most used part that is no hardware
	Part     string
	PartRows int
	Rare     string // a part with one row
	// the first of a chain of nine numbers
	Chain   string
	Model   string // a model in the middle
	Variant string
	// a file of about 500 facts, below the folder
	File string
}

// How a model is made up. With these about 1,940 facts belong to a model.
const (
	factsPerModel = 1940
	assemblies    = 20
	places        = 25 // of an assembly
	hardware      = 9  // of the places of an assembly take loose hardware
	firstYear     = 1996
	years         = 8
	ownParts      = 6  // of each assembly, found on this model only
	joints        = 30 // of a model
	chains        = 5  // of a model, of nine numbers each
	chainLength   = 9
)

// maker writes one set.
type maker struct {
	dir             string
	rand            *rand.Rand
	bolts           skew
	parts           skew
	nBolts, nShared int // parts that many models use
	rows            map[string]int
	sum             Summary
	err             error
}

// skew draws from 0 to n-1, the first most often.
type skew struct{ upTo []float64 }

// newSkew weighs the i-th of n by (i+1)^-s.
func newSkew(n int, s float64) skew {
	k := skew{make([]float64, n)}
	total := 0.0
	for i := range n {
		total += math.Pow(float64(i+1), -s)
		k.upTo[i] = total
	}
	return k
}

func (k skew) draw(r *rand.Rand) int {
	at := r.Float64() * k.upTo[len(k.upTo)-1]
	return min(sort.SearchFloat64s(k.upTo, at), len(k.upTo)-1)
}

// Write makes the files of a set under a folder.
func Write(dir string, set Set) (Summary, error) {
	m := &maker{dir: dir, rand: rand.New(rand.NewPCG(set.Seed, 1)), rows: map[string]int{},
		nBolts: min(max(set.Facts/2500, 100), 400), nShared: min(max(set.Facts/500, 200), 2000)}
	m.bolts, m.parts = newSkew(m.nBolts, 0.8), newSkew(m.nShared, 0.63)
	m.sum.Models = max(2, (set.Facts-7*m.nShared)/factsPerModel)
	m.common()
	m.hardware()
	m.sharedParts()
	for i := range m.sum.Models {
		m.model(i)
	}
	m.name()
	s := &m.sum
	s.Facts = s.Parts + s.Positions + s.Fitments + s.Supersessions + s.Measures + s.Joints + s.Models*(1+years+assemblies)
	return m.sum, m.err
}

// name picks what questions are worth asking of.
func (m *maker) name() {
	for part, rows := range m.rows {
		switch {
		case strings.HasPrefix(part, "Tarnholt 9"):
			if rows > m.sum.BoltRows {
				m.sum.Bolt, m.sum.BoltRows = part, rows
			}
		case rows > m.sum.PartRows:
			m.sum.Part, m.sum.PartRows = part, rows
		}
	}
	middle := m.sum.Models / 2
	m.sum.Model = modelName(middle)
	m.sum.Variant = fmt.Sprintf("%s/%d/eu", m.sum.Model, firstYear+3)
	m.sum.Rare = ownNumber(middle, 40)
	m.sum.Chain = ownNumber(middle, assemblies*ownParts)
	m.sum.File = fmt.Sprintf("models/%s/assemblies-2.yaml", m.sum.Model)
}

// file writes one file below the folder.
func (m *maker) file(name string, write func(w *bufio.Writer)) {
	if m.err != nil {
		return
	}
	path := filepath.Join(m.dir, filepath.FromSlash(name))
	if m.err = os.MkdirAll(filepath.Dir(path), 0o755); m.err != nil {
		return
	}
	f, err := os.Create(path)
	if err != nil {
		m.err = err
		return
	}
	w := bufio.NewWriter(f)
	write(w)
	for _, err := range []error{w.Flush(), f.Close()} {
		if m.err == nil {
			m.err = err
		}
	}
}

func (m *maker) common() {
	m.file("sources.yaml", func(w *bufio.Writer) {
		fmt.Fprint(w, "sources:\n")
		for i := range m.sum.Models {
			fmt.Fprintf(w, "  list-%s: {kind: factory parts list, title: Parts list of the %[1]s, date: 2003-02}\n",
				modelName(i))
		}
		fmt.Fprint(w, "  hardware-list: {kind: factory parts list, title: Standard hardware, date: 2002-06}\n")
		fmt.Fprint(w, "  bench: {kind: measurement, title: Measured at the bench, date: 2011-05}\n")
	})
	m.file("brands.yaml", func(w *bufio.Writer) {
		fmt.Fprint(w, "source: hardware-list\nbrands:\n  Tarnholt:\n    number: {core: \"9999.99999\", revision: \"a\"}\n")
	})
	m.file("kinds.yaml", func(w *bufio.Writer) {
		fmt.Fprint(w, "source: hardware-list\nkinds:\n  bolt:\n    name: bolt\n    features: {thread: male-thread}\n")
		for _, kind := range partKinds() {
			fmt.Fprintf(w, "  %s:\n    name: %[1]s\n    features: {mount: bolt-pattern, eye: \"eye, may\"}\n", kind)
		}
	})
}

func partKinds() []string {
	return []string{"bracket", "plate", "lever", "cover", "guard", "stay", "link", "arm"}
}

func kindOf(i int) string { return partKinds()[i%len(partKinds())] }

func boltNumber(i int) string { return fmt.Sprintf("Tarnholt 9%03d.%05d", i%100, i) }

func sharedNumber(i int) string { return fmt.Sprintf("Tarnholt 8%03d.%05d", i%100, i) }

// ownNumber is the i-th part of a model that no other model has.
func ownNumber(model, i int) string { return fmt.Sprintf("Tarnholt %04d.%05d", model, i) }

func modelName(i int) string {
	names := []string{"skerry", "fjeld", "holm", "voe", "tarn", "wick", "geo", "noup"}
	return fmt.Sprintf("%s-%d", names[i%len(names)], 100+i)
}

func (m *maker) hardware() {
	threads := []struct {
		thread string
		across int
	}{{"M5x0.8", 8}, {"M6x1", 10}, {"M8x1.25", 13}, {"M10x1.25", 14}, {"M10x1.5", 16}, {"M12x1.75", 18}}
	m.file("fasteners.csv", func(w *bufio.Writer) {
		fmt.Fprintln(w, "part,kind,name,thread,length,across_flats,class,source")
		for i := range m.nBolts {
			t := threads[i%len(threads)]
			length := 10 + i/len(threads)
			fmt.Fprintf(w, "%s,bolt,bolt %s x %d,%[2]s,%[3]d mm,%d mm,8.8,hardware-list\n", boltNumber(i), t.thread, length,
				t.across)
			m.sum.Parts++
			m.sum.Measures += 4
		}
	})
}

func (m *maker) sharedParts() {
	for from := 0; from < m.nShared; from += 200 {
		m.file(fmt.Sprintf("parts/shared-%d.yaml", from/200+1), func(w *bufio.Writer) {
			fmt.Fprint(w, "source: hardware-list\nparts:\n")
			for i := from; i < min(from+200, m.nShared); i++ {
				m.part(w, sharedNumber(i), i)
			}
		})
	}
}

// part writes a part with its holes, and for every third what a bench made of
// it.
func (m *maker) part(w *bufio.Writer, number string, i int) {
	kind, hole := kindOf(i), 6+m.rand.IntN(6)
	fmt.Fprintf(w, "  - number: %s\n    kind: %s\n    name: %[2]s %d\n    features:\n", number, kind, i)
	fmt.Fprintf(w, "      mount:\n        count: %d\n", 2+m.rand.IntN(3))
	spacing := 40 + m.rand.IntN(600)
	if i%3 == 0 {
		fmt.Fprintf(w, "        spacing:\n          - %d.%d mm\n          - {value: %[1]d.%d mm, by: vernier caliper, "+
			"source: bench}\n", spacing/10+20, spacing%10, (spacing+1)%10)
		m.sum.Measures++
	} else {
		fmt.Fprintf(w, "        spacing: %d.%d mm\n", spacing/10+20, spacing%10)
	}
	fmt.Fprintf(w, "        hole: %d.5 mm\n", hole)
	m.sum.Parts++
	m.sum.Measures += 3
}

func (m *maker) model(i int) {
	model := modelName(i)
	m.file(fmt.Sprintf("models/%s/variants.yaml", model), func(w *bufio.Writer) {
		fmt.Fprintf(w, "source: list-%s\nmodels:\n  %[1]s:\n    maker: Tarnholt\n    name: %s\n    variants:\n", model,
			strings.ToUpper(model[:1])+model[1:])
		for y := range years {
			fmt.Fprintf(w, "      - {year: %d, market: eu}\n", firstYear+y)
		}
	})
	for part := 0; part < assemblies; part += 5 {
		m.file(fmt.Sprintf("models/%s/assemblies-%d.yaml", model, part/5+1), func(w *bufio.Writer) {
			fmt.Fprintf(w, "source: list-%s\nmodels:\n  %[1]s:\n    assemblies:\n", model)
			for a := part; a < part+5; a++ {
				m.assembly(w, a)
			}
			if part == 0 {
				m.jointsOf(w)
			}
		})
	}
	m.file(fmt.Sprintf("models/%s/fitments.csv", model), func(w *bufio.Writer) { m.fitments(w, i) })
	m.file(fmt.Sprintf("models/%s/parts.yaml", model), func(w *bufio.Writer) {
		fmt.Fprintf(w, "source: list-%s\nparts:\n", model)
		for p := range assemblies*ownParts + chains*chainLength {
			m.part(w, ownNumber(i, p), kindIndex(p))
		}
	})
	m.file(fmt.Sprintf("models/%s/supersessions.csv", model), func(w *bufio.Writer) {
		fmt.Fprintln(w, "old,new,new_on_old,old_on_new,reason,date,source")
		for c := range chains {
			for step := range chainLength - 1 {
				at := assemblies*ownParts + c*chainLength + step
				fmt.Fprintf(w, "%s,%s,yes,no,improved,%d-05,list-%s\n", ownNumber(i, at), ownNumber(i, at+1), firstYear+step, model)
				m.sum.Supersessions++
			}
		}
	})
}

// kindIndex makes a part's kind that of the places its model wants it for.
func kindIndex(p int) int { return p }

func isHardware(place int) bool { return place < hardware }

// placeKind is the number of the kind that belongs at a place which takes no
// hardware; places and the parts drawn for them agree in it.
func placeKind(assembly, place int) int { return assembly*places + place }

func (m *maker) assembly(w *bufio.Writer, a int) {
	fmt.Fprintf(w, "      assembly-%02d:\n        name: Assembly %[1]d\n        positions:\n", a)
	for p := range places {
		kind, safety := "bolt", ""
		if !isHardware(p) {
			kind = kindOf(placeKind(a, p))
		}
		if a == 0 {
			safety = ", safety: brake"
		}
		fmt.Fprintf(w, "          place-%02d: {kind: %s, name: %[2]s %d, quantity: %d%s}\n", p, kind, p, 1+p%3, safety)
		m.sum.Positions++
	}
}

func (m *maker) jointsOf(w *bufio.Writer) {
	fmt.Fprint(w, "    joints:\n")
	for j := range joints {
		a, p := j/6, hardware+j%6*2
		fmt.Fprintf(w, "      joint-%02d:\n        a: assembly-%02d/place-%02d.mount\n        b: "+
			"assembly-%02d/place-%02d.mount\n        bolts: [assembly-%02d/place-%02d]\n",
			j, a, p, a, p+1, a, j%hardware)
		m.sum.Joints++
	}
}

// fitments writes a parts list: most places have one part over all years, every
// fourth another from some year on.
func (m *maker) fitments(w *bufio.Writer, model int) {
	fmt.Fprintln(w, "model,position,part,quantity,years,source")
	name := modelName(model)
	for a := range assemblies {
		own := 0
		for p := range places {
			split := 0
			if m.rand.IntN(4) == 0 {
				split = firstYear + 1 + m.rand.IntN(years-1)
			}
			if split == 0 {
				m.row(w, name, a, p, m.pick(model, a, p, &own), "")
				continue
			}
			first, second := m.pick(model, a, p, &own), m.pick(model, a, p, &own)
			m.row(w, name, a, p, first, fmt.Sprintf("%d-%d", firstYear, split-1))
			m.row(w, name, a, p, second, fmt.Sprintf("%d-%d", split, firstYear+years-1))
		}
	}
}

// pick draws a part for a place: hardware, a part of the model's own, or one
// that many models share, of the kind that belongs there.
func (m *maker) pick(model, a, p int, own *int) string {
	if isHardware(p) {
		return boltNumber(m.bolts.draw(m.rand))
	}
	kinds := len(partKinds())
	want := placeKind(a, p) % kinds
	if *own < ownParts {
		for i := a * ownParts; i < (a+1)*ownParts; i++ {
			if kindIndex(i)%kinds == want && m.rows[ownNumber(model, i)] == 0 {
				*own++
				return ownNumber(model, i)
			}
		}
	}
	return sharedNumber(m.parts.draw(m.rand)/kinds*kinds + want)
}

func (m *maker) row(w *bufio.Writer, model string, a, p int, part, years string) {
	fmt.Fprintf(w, "%s,assembly-%02d/place-%02d,%s,,%s,list-%[1]s\n", model, a, p, part, years)
	m.rows[part]++
	m.sum.Fitments++
}
