package bike

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// bagGroup is a group of hardware that somebody would put into one bag: that of
// a joint, of a joint on both sides, of one name, of an assembly.
type bagGroup struct {
	name  string
	slots []int // indices into bagTable.slots, ascending
	words map[string]bool
}

// bagTable is everything that the bags of a machine are matched with.
type bagTable struct {
	*ownMachine
	slots  []slot
	groups []bagGroup
	joints []graph.Joint
	left   []int // how many pieces of each slot no bag has taken yet
}

// bagTable lists the hardware of the machine, as found, and its groups.
func (m *ownMachine) bagTable(ctx context.Context) (*bagTable, error) {
	t := &bagTable{ownMachine: m}
	for _, p := range m.positions {
		if !isLooseHardware(p.Kind) {
			continue
		}
		seat := m.setup.Seat(p.ID)
		if seat.Empty {
			seat = m.setup.BuiltAt(p.ID)
		}
		s := slot{position: p, part: seat.Part, size: sizeOf(seat.Part), quantity: m.setup.QuantityOf(p, seat.Part.ID)}
		t.slots, t.left = append(t.slots, s), append(t.left, s.quantity)
	}
	all, err := m.r.JointsOf(ctx, m.setup.Variant.Model)
	if err != nil {
		return nil, err
	}
	t.joints = lists.Kept(all, func(j graph.Joint) bool { return slices.Contains(j.On, m.setup.Variant.ID) })
	t.adapt()
	assemblies, err := m.r.AssembliesOf(ctx, m.setup.Variant.Model)
	if err != nil {
		return nil, err
	}
	t.group(lists.ByKey(assemblies, func(a graph.Assembly) graph.AssemblyID { return a.ID }))
	return t, nil
}

// group makes the groups, each set of positions once.
func (t *bagTable) group(assemblies map[graph.AssemblyID]graph.Assembly) {
	byName := map[string][]int{}
	at := map[graph.PositionID]int{}
	for i, s := range t.slots {
		at[s.position.ID] = i
		assembly := string(s.position.Assembly)
		byName["all "+assembly] = append(byName["all "+assembly], i)
		stem := assembly + " named " + stemOf(s.position)
		byName[stem] = append(byName[stem], i)
		byName["one "+string(s.position.ID)] = []int{i}
	}
	for _, j := range t.joints {
		var of []int
		var hardware []graph.PartID
		for _, id := range j.Fasteners {
			if i, ok := at[id]; ok {
				of, hardware = append(of, i), append(hardware, t.slots[i].part.ID)
			}
		}
		keys := []string{"joint " + string(j.ID), "twins " + withoutSides(string(j.ID))}
		if hardware = lists.Unique(hardware); len(hardware) > 1 {
			// Joints of one assembly held by the same bolt and washer, such as
			// all ends of its hoses. A bolt alone is too common for that.
			keys = append(keys, fmt.Sprint("like ", j.A.Position.Assembly(), hardware))
		}
		for _, key := range keys {
			byName[key] = append(byName[key], of...)
		}
	}
	seen := map[string]bool{}
	for _, key := range lists.KeysOf(byName) {
		slots := lists.Unique(byName[key])
		if same := fmt.Sprint(slots); !seen[same] {
			seen[same] = true
			t.groups = append(t.groups, t.named(slots, assemblies))
		}
	}
}

// named gives a group its name and the words a label may use for it.
func (t *bagTable) named(slots []int, assemblies map[graph.AssemblyID]graph.Assembly) bagGroup {
	g := bagGroup{slots: slots, words: map[string]bool{}}
	var of []graph.AssemblyID
	var stems, places []string
	for _, i := range slots {
		p := t.slots[i].position
		of = append(of, p.Assembly)
		stems, places = append(stems, stemOf(p)), append(places, p.Name)
		g.add(p.Name, p.ID.Local(), assemblies[p.Assembly].Name)
		for _, j := range t.joints {
			if slices.Contains(j.Fasteners, p.ID) {
				g.add(j.A.Position.Local(), j.B.Position.Local(), t.setup.Position(j.A.Position).Name,
					t.setup.Position(j.B.Position).Name)
			}
		}
	}
	of, stems, places = lists.Unique(of), lists.Unique(stems), lists.Unique(places)
	names := lists.Mapped(of, func(id graph.AssemblyID) string {
		if name := assemblies[id].Name; name != "" {
			return name
		}
		return id.Local()
	})
	whole := 0
	for _, s := range t.slots {
		if slices.Contains(of, s.position.Assembly) {
			whole++
		}
	}
	const spelled = 3
	g.name = strings.Join(names, " and ") + ": "
	switch {
	case len(slots) > 1 && whole == len(slots):
		g.name += "all of its hardware"
	case len(places) == 1:
		g.name += places[0]
	case len(stems) > spelled:
		g.name += fmt.Sprintf("%s and %d more", strings.Join(stems[:spelled], ", "), len(stems)-spelled)
	default:
		g.name += strings.Join(stems, ", ") + t.sideOf(slots)
	}
	return g
}

// sideOf tells the side, or the number, when all positions of a group share it.
func (t *bagTable) sideOf(slots []int) string {
	for _, of := range []func(graph.Position) string{
		func(p graph.Position) string { return p.Side },
		func(p graph.Position) string { return indexText(p.Index) },
	} {
		all := lists.Unique(lists.Mapped(slots, func(i int) string { return of(t.slots[i].position) }))
		if len(all) == 1 && all[0] != "" {
			return ", " + all[0]
		}
	}
	return ""
}

func (g *bagGroup) add(texts ...string) {
	for _, text := range texts {
		for _, word := range labelWords(text) {
			g.words[word] = true
		}
	}
}

// labelWords are the words of a label or a name, in lower case and without the s
// of a plural.
func labelWords(text string) []string {
	fields := strings.FieldsFunc(strings.ToLower(text), func(c rune) bool {
		return (c < 'a' || c > 'z') && (c < '0' || c > '9') && c < 128
	})
	var words []string
	for _, word := range fields {
		if len(word) > 3 && !strings.HasSuffix(word, "ss") {
			word = strings.TrimSuffix(word, "s")
		}
		if !slices.Contains([]string{"the", "of", "and", "for", "bolt", "screw", "nut", "washer"}, word) {
			words = append(words, word)
		}
	}
	return words
}

// stemOf is a position's name without its side: "caliper bolt, left" is named
// like "caliper bolt, right".
func stemOf(p graph.Position) string {
	stem, _, _ := strings.Cut(p.Name, ",")
	return strings.TrimSpace(stem)
}

// indexText is the number of a position among several, empty when there is one.
func indexText(index int) string {
	if index == 0 {
		return ""
	}
	return strconv.Itoa(index)
}

// withoutSides takes the sides out of a joint's identity, so that the joints of
// both sides go by one name.
func withoutSides(id string) string {
	words := lists.Kept(strings.Split(id, "-"), func(w string) bool { return w != "left" && w != "right" })
	return strings.Join(words, "-")
}
