package bike

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
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
	left   []int // how many pieces of each slot no bag has taken yet
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

// adapt gives hardware the thread that a found part asks for where the book's
// part had another: a foreign master cylinder may want another banjo bolt.
func (t *bagTable) adapt() {
	for _, j := range t.joints {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			found, ok := t.setup.FoundAt(ref.Position)
			if !ok || found.Part == "" {
				continue
			}
			now, _ := t.setup.Seat(ref.Position).Part.Feature(ref.Feature)
			was, _ := t.setup.BuiltAt(ref.Position).Part.Feature(ref.Feature)
			for i, s := range t.slots {
				if slices.Contains(j.Fasteners, s.position.ID) || j.A.Position == s.position.ID || j.B.Position == s.position.ID {
					t.slots[i].adapt(found.Part, now, was)
				}
			}
		}
	}
}

// bagRow is one bag with what it matched.
func (t *bagTable) bagRow(bag graph.Bag, p placing, loose looseTable) BagRow {
	row := BagRow{Bag: bag.Name, Label: bag.Label, Settled: p.settled}
	for _, item := range bag.Contents {
		row.Pieces += item.Quantity
	}
	row.LabelIs, row.LabelWhy = t.labelSays(bag, p)
	taken := make([]int, len(bag.Contents))
	if p.best != nil {
		row.Place, row.Ties, row.Next = p.best, p.ties, p.next
		row.Matched, row.Missing = t.contents(bag, *p.best, taken)
		row.ByCount, row.Also = t.alsoAt(bag, *p.best)
		if row.Settled = p.settled && (!row.ByCount || p.best.Score >= half); !row.Settled {
			row.Settle = t.settle(bag, p, row.Also)
		}
	}
	for i, item := range bag.Contents {
		if over := item.Quantity - taken[i]; over > 0 {
			row.Over = append(row.Over, t.looseLine(item, over, p.best, loose))
		}
	}
	return row
}

// contents are what of a bag belongs to a group and what the group lacks; taken
// is filled with how many of each item belong.
func (t *bagTable) contents(bag graph.Bag, place BagPlace, taken []int) (matched []BagMatch, missing []BagGap) {
	for _, s := range t.groups[place.group].slots {
		slot, have := t.slots[s], 0
		for i, item := range bag.Contents {
			n := place.counts[pairing{i, s}]
			if n == 0 {
				continue
			}
			have += n
			taken[i] += n
			l := compareHardware(item, slot.part.Kind, slot.size)
			matched = append(matched, BagMatch{Item: hardwareText(item), Quantity: n, Position: slot.position.ID,
				Part: slot.number(), Safety: slot.position.Safety, Unread: l.unread, Looks: l.looks, Renew: slot.position.Renew,
				AsFound: slot.asFound})
		}
		if room := place.room[s]; have < room {
			missing = append(missing, BagGap{Position: slot.position.ID, Part: slot.number(), Name: slot.part.Name,
				Quantity: room - have, Safety: slot.position.Safety, Renew: slot.position.Renew, AsFound: slot.asFound})
		}
	}
	return matched, missing
}

// alsoAt are the positions outside of a place that take what was matched there,
// and whether that holds for every sort of it.
func (t *bagTable) alsoAt(bag graph.Bag, place BagPlace) (all bool, at []graph.PositionID) {
	all = true
	for i, item := range bag.Contents {
		matched := slices.ContainsFunc(t.groups[place.group].slots,
			func(s int) bool { return place.counts[pairing{i, s}] > 0 })
		if !matched {
			continue
		}
		before := len(at)
		for _, s := range t.slots {
			if !slices.Contains(place.Positions, s.position.ID) && compareHardware(item, s.part.Kind, s.size).same {
				at = append(at, s.position.ID)
			}
		}
		all = all && len(at) > before
	}
	return all, lists.Unique(at)
}

// labelNames reports whether a label names a group: all of its words are among the
// group's.
func (t *bagTable) labelNames(group int, label string) bool {
	words := labelWords(label)
	return len(words) > 0 && !slices.ContainsFunc(words, func(w string) bool { return !t.groups[group].words[w] })
}

// labelled is the best of the groups that a label names; with a score of 0 when
// none of them takes anything of the bag, nil when it names none.
func (t *bagTable) labelled(bag graph.Bag, ranked []BagPlace) *BagPlace {
	for _, place := range ranked {
		if t.labelNames(place.group, bag.Label) {
			return &place
		}
	}
	for g := range t.groups {
		if t.labelNames(g, bag.Label) {
			return &BagPlace{Name: t.groups[g].name, group: g}
		}
	}
	return nil
}

// labelSays compares a bag's label with where its contents go.
func (t *bagTable) labelSays(bag graph.Bag, p placing) (is, why string) {
	switch {
	case bag.Label == "":
		return LabelNone, ""
	case p.label == nil:
		return LabelUnclear, fmt.Sprintf("label says %q, which names nothing on this machine", bag.Label)
	case p.best == nil:
		return LabelContradicts, fmt.Sprintf("label says %q, but nothing on this machine takes any of it", bag.Label)
	case t.labelNames(p.best.group, bag.Label) && len(p.ties) > 0:
		return LabelDecides, fmt.Sprintf("only the label says %q: %d other places match as well", bag.Label, len(p.ties))
	case t.labelNames(p.best.group, bag.Label):
		return LabelAgrees, ""
	case p.label.Score >= p.best.Score-lead:
		return LabelUnclear, fmt.Sprintf("label says %q: %s matches as well as where it was put", bag.Label, p.label.Name)
	}
	return LabelContradicts, fmt.Sprintf("label says %q, contents match %s", bag.Label, p.best.Name)
}

// settle says which one measurement would tell the place of a bag from others
// that take the same pieces, or that none can.
func (t *bagTable) settle(bag graph.Bag, p placing, also []graph.PositionID) string {
	most, says := 1, ""
	for i, item := range bag.Contents {
		if len(p.best.slotsOf(i)) == 0 {
			continue
		}
		for dim, byValue := range t.valuesOf(item, p) {
			values := lists.Mapped(lists.KeysOf(byValue),
				func(value string) string { return value + " for " + graph.OrList(lists.Unique(byValue[value])) })
			text := fmt.Sprintf("%s the %s of the %s: %s", gaugeVerb(dim), dim, hardwareText(item), strings.Join(values, "; "))
			if len(values) > most || len(values) == most && says != "" && text < says {
				most, says = len(values), text
			}
		}
	}
	switch {
	case says != "":
		return says
	case len(p.ties) > 0:
		return "no measurement tells these places apart: they take the same hardware, so any of them will do; count what " +
			"each one takes"
	}
	return "the same hardware goes to " + placesText(also) +
		": only the count speaks for this place; look where pieces are missing on the machine"
}

// valuesOf is, for each dimension that nobody measured on an item, what it would
// be at each place that takes the item.
func (t *bagTable) valuesOf(item graph.BagItem, p placing) map[string]map[string][]string {
	all := map[string]map[string][]string{}
	for _, s := range t.slots {
		l := compareHardware(item, s.part.Kind, s.size)
		if !l.same {
			continue
		}
		for _, dim := range l.unread {
			if all[dim] == nil {
				all[dim] = map[string][]string{}
			}
			value := s.size.Dims[dim][0].Text
			all[dim][value] = append(all[dim][value], placeName(p, s.position.ID))
		}
	}
	return all
}

// looseLine says what pieces of a bag may be that its place does not take.
func (t *bagTable) looseLine(item graph.BagItem, over int, place *BagPlace, loose looseTable) LoosePart {
	line := LoosePart{Item: hardwareText(item), Quantity: over}
	for _, s := range t.slots {
		if l := compareHardware(item, s.part.Kind, s.size); l.same && (place == nil ||
			!slices.Contains(place.Positions, s.position.ID)) {
			line.Here = append(line.Here, s.position.ID)
			line.Unread = append(line.Unread, l.unread...)
		}
	}
	full := false
	if place != nil {
		full = slices.ContainsFunc(t.groups[place.group].slots, func(s int) bool {
			return compareHardware(item, t.slots[s].part.Kind, t.slots[s].size).same
		})
	}
	for _, p := range loose.parts {
		l := compareHardware(item, p.Kind, sizeOf(p))
		if !l.same {
			continue
		}
		line.Parts = append(line.Parts, p.ID)
		line.Unread = append(line.Unread, l.unread...)
		if len(line.Here) == 0 && !full {
			line.Elsewhere = append(line.Elsewhere, loose.uses[p.ID]...)
		}
	}
	line.Unread = lists.Unique(line.Unread)
	line.Suits = t.suits(item)
	line.Text = looseText(line, full)
	return line
}

// suits are the threads of found parts that take a male thread and that the
// book's part has otherwise.
func (t *bagTable) suits(item graph.BagItem) []string {
	text := item.Dims["thread"]
	var all []string
	for _, f := range t.bike.Found {
		found, built := t.setup.Library().Part(f.Part), t.setup.Library().Part(t.builtPart(f.Position))
		for _, feature := range found.Features {
			takes := feature.Kind == "port" == (item.Kind == "banjo-bolt") && feature.Kind != "male-thread"
			if text == "" || !takes || !hasThread(feature, text) {
				continue
			}
			if same, ok := built.Feature(feature.Name); !ok || !hasThread(same, text) {
				all = append(all, fmt.Sprintf("%s of %s, found at %s", feature.Name, f.Part, f.Position.Local()))
			}
		}
	}
	return all
}

// placeBags finds the place of each bag, in the order of the bags.
func (t *bagTable) placeBags() []placing {
	bags := t.bike.Bags
	placed := make([]placing, len(bags))
	open, ranked := map[int]*bagScores{}, map[int][]BagPlace{}
	for i := range bags {
		open[i] = t.scoresOf(bags[i])
		ranked[i] = open[i].ranked()
	}
	for {
		at := clearest(ranked)
		if at < 0 {
			t.placeRest(ranked, placed)
			return placed
		}
		placed[at] = t.placing(bags[at], ranked[at], 0, true)
		t.take(*placed[at].best)
		delete(open, at)
		delete(ranked, at)
		changed := t.groupsTouching(*placed[at].best)
		for i, scores := range open {
			if t.scoreAnew(scores, changed) {
				ranked[i] = scores.ranked()
			}
		}
	}
}

// bagScores is how a bag matches every group that takes something of it.
type bagScores struct {
	bag   graph.Bag
	like  [][]likeness // of each item with each slot
	likes []bool       // the slots that take some item of it
	at    map[int]BagPlace
}

func (t *bagTable) scoresOf(bag graph.Bag) *bagScores {
	s := &bagScores{bag: bag, likes: make([]bool, len(t.slots)), at: map[int]BagPlace{}}
	for _, item := range bag.Contents {
		like := make([]likeness, len(t.slots))
		seen := map[graph.PartID]likeness{} // a part measures the same at every place
		for i, slot := range t.slots {
			known, have := seen[slot.part.ID]
			if !have || slot.asFound != "" || slot.part.ID == "" {
				known = compareHardware(item, slot.part.Kind, slot.size)
				if slot.asFound == "" {
					seen[slot.part.ID] = known
				}
			}
			like[i] = known
			s.likes[i] = s.likes[i] || known.same
		}
		s.like = append(s.like, like)
	}
	all := make([]int, len(t.groups))
	for g := range all {
		all[g] = g
	}
	t.scoreAnew(s, all)
	return s
}

// scoreAnew scores some groups for a bag, and reports whether one of them takes, or
// took, something of it.
func (t *bagTable) scoreAnew(s *bagScores, groups []int) (changed bool) {
	for _, g := range groups {
		if !slices.ContainsFunc(t.groups[g].slots, func(i int) bool { return s.likes[i] }) {
			continue
		}
		changed = true
		if place := t.score(s.bag, g, s.like); place.Matched > 0 {
			s.at[g] = place
		} else {
			delete(s.at, g)
		}
	}
	return changed
}

// groupsTouching are the groups that share a slot with what a place took.
func (t *bagTable) groupsTouching(place BagPlace) []int {
	taken := map[int]bool{}
	for pair := range place.counts {
		taken[pair.column] = true
	}
	var all []int
	for g, group := range t.groups {
		if slices.ContainsFunc(group.slots, func(i int) bool { return taken[i] }) {
			all = append(all, g)
		}
	}
	return all
}

// ranked is every group that takes something of the bag, best first; between
// equals the group with fewer pieces, then by name.
func (s *bagScores) ranked() []BagPlace {
	all := lists.Mapped(lists.KeysOf(s.at), func(g int) BagPlace { return s.at[g] })
	slices.SortStableFunc(all, func(x, y BagPlace) int {
		return cmp.Or(-cmp.Compare(x.Score, y.Score), cmp.Compare(x.Expected, y.Expected), cmp.Compare(x.Name, y.Name))
	})
	return all
}

// placeRest shares the groups that are left among the bags that none of them
// suits clearly best, so that the scores add up to the most.
func (t *bagTable) placeRest(ranked map[int][]BagPlace, placed []placing) {
	groups := pieces(len(t.groups), func(int) int { return 1 })
	find := func(bag, group int) int {
		return slices.IndexFunc(ranked[bag], func(p BagPlace) bool { return p.group == group })
	}
	counts := allot(lists.KeysOf(ranked), groups, func(bag, group int) (float64, bool) {
		at := find(bag, group)
		if at < 0 {
			return 0, false
		}
		// The label decides between equals, and nothing else.
		cost := 1 - ranked[bag][at].Score
		if !t.labelNames(group, t.bike.Bags[bag].Label) {
			cost += 1e-6
		}
		return cost, true
	}, func(int) float64 { return 1 })
	for bag := range ranked {
		placed[bag] = t.placing(t.bike.Bags[bag], ranked[bag], -1, false)
	}
	for pair := range counts {
		placed[pair.row] = t.placing(t.bike.Bags[pair.row], ranked[pair.row], find(pair.row, pair.column), false)
	}
}

// placing puts a bag at one of its ranked places; at is -1 for none.
func (t *bagTable) placing(bag graph.Bag, ranked []BagPlace, at int, settled bool) placing {
	p := placing{settled: settled}
	if at >= 0 {
		p.best = &ranked[at]
	}
	for i, place := range ranked {
		switch {
		case i == at:
		case p.best != nil && place.Score >= p.best.Score-1e-9:
			p.ties = append(p.ties, place)
		case len(p.next) < nextShown:
			p.next = append(p.next, place)
		}
	}
	p.label = t.labelled(bag, ranked)
	return p
}

// score matches a bag with a group, piece by piece.
func (t *bagTable) score(bag graph.Bag, group int, like [][]likeness) BagPlace {
	g := t.groups[group]
	place := BagPlace{Name: g.name, group: group, room: map[int]int{}}
	for _, s := range g.slots {
		place.room[s] = t.left[s]
		place.Expected += t.left[s]
		place.Positions = append(place.Positions, t.slots[s].position.ID)
		place.Safety = append(place.Safety, t.slots[s].position.Safety)
	}
	place.Safety = lists.Kept(lists.Unique(place.Safety), func(s graph.Safety) bool { return s != "" })
	held := 0
	for _, item := range bag.Contents {
		held += item.Quantity
	}
	some := slices.ContainsFunc(like, func(l []likeness) bool {
		return slices.ContainsFunc(g.slots, func(s int) bool { return l[s].same && t.left[s] > 0 })
	})
	if !some {
		return place
	}
	var room []int
	for _, s := range g.slots {
		room = append(room, slices.Repeat([]int{s}, t.left[s])...)
	}
	place.counts = allot(pieces(len(bag.Contents), func(i int) int { return bag.Contents[i].Quantity }), room,
		func(i, s int) (float64, bool) { return like[i][s].cost(), like[i][s].same },
		func(int) float64 { return costUnserved })
	for _, n := range place.counts {
		place.Matched += n
	}
	place.Score = float64(place.Matched) / float64(held+place.Expected-place.Matched)
	return place
}

// take gives the matched positions to a settled bag.
func (t *bagTable) take(place BagPlace) {
	for pair, n := range place.counts {
		t.left[pair.column] -= n
	}
}

// warnings looks, for every position that a bag goes to or is labelled for, at the bolts in all
// bags that would also start in its thread: one too long for a blind hole, too
// short to hold, of a weaker class where safety hangs on it, or of another
// pitch. Each piece is named once for each harm and right part.
func (t *bagTable) warnings(placed []placing) []BagWarning {
	found := map[string]*BagWarning{}
	var order []string
	for _, p := range placed {
		for _, s := range t.meant(p) {
			for _, w := range t.wrongAt(t.slots[s]) {
				key := w.Bag + "|" + w.Item + "|" + w.Danger + "|" + w.Right + "|" + w.Why
				if have := found[key]; have != nil {
					have.At = lists.Unique(append(have.At, w.At...))
					continue
				}
				found[key] = &w
				order = append(order, key)
			}
		}
	}
	all := lists.Mapped(order, func(key string) BagWarning { return *found[key] })
	slices.SortStableFunc(all, func(x, y BagWarning) int {
		return cmp.Or(cmp.Compare(x.Safety.Place(), y.Safety.Place()), cmp.Compare(x.At[0], y.At[0]),
			cmp.Compare(x.Bag, y.Bag))
	})
	return all
}

// meant are the slots that a bag goes to, and those that its label names: that
// is where somebody would put its pieces.
func (t *bagTable) meant(p placing) []int {
	var slots []int
	for _, place := range []*BagPlace{p.best, p.label} {
		if place != nil {
			slots = append(slots, t.groups[place.group].slots...)
		}
	}
	return lists.Unique(slots)
}

// wrongAt are the pieces of all bags that would start in a position's thread
// and do harm there.
func (t *bagTable) wrongAt(s slot) []BagWarning {
	if s.size.Kind != "male-thread" {
		return nil
	}
	var all []BagWarning
	for _, bag := range t.bike.Bags {
		for _, item := range bag.Contents {
			if item.Kind != s.part.Kind || compareHardware(item, s.part.Kind, s.size).same {
				continue
			}
			if danger, why := t.harm(item, s); danger != "" {
				all = append(all, BagWarning{Bag: bag.Name, Item: hardwareText(item), At: []graph.PositionID{s.position.ID},
					Right: sizeText(s), Safety: s.position.Safety, Danger: danger, Why: why})
			}
		}
	}
	return all
}

// harm is what a piece would do in a position's thread; empty when it would not
// start there, or nothing is known to be wrong.
func (t *bagTable) harm(item graph.BagItem, s slot) (danger, why string) {
	mine, err := measure.ParseThread(item.Dims["thread"])
	readings := s.size.Dims["thread"]
	if err != nil || len(readings) == 0 {
		return "", ""
	}
	right, err := measure.ParseThread(readings[0].Text)
	if err != nil || mine.Nominal != right.Nominal {
		return "", ""
	}
	if !mine.Same(right) {
		return dangerBinds, mine.String() + " starts in a thread for " + right.String() + " and binds: never by force"
	}
	danger, why = t.engagement(item, s)
	if danger != "" && danger != dangerRefused {
		return danger, why
	}
	if right := machine.BestText(s.size, "class"); s.position.Safety != "" {
		if weaker, _ := mating.IsWeakerBolt(item.Dims["class"], right); weaker {
			return dangerWeaker, "class " + item.Dims["class"] + " is weaker than the " + right + " that belongs here"
		}
	}
	return danger, why
}

// engagement judges a piece in the tapped holes of a position's own joints.
func (t *bagTable) engagement(item graph.BagItem, s slot) (danger, why string) {
	for _, j := range t.joints {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0].Position != s.position.ID || t.setup.KindOf(ends[1]) != "female-thread" {
				continue
			}
			for _, c := range t.checksWith(item, s, j, ends[0].Feature) {
				if c.Verdict == graph.DoesNotFit {
					return dangerOf(c.Bolt), c.Why
				}
			}
		}
	}
	return "", ""
}

// dangerOf is what a piece does that a joint's own rules refuse.
func dangerOf(fault mating.BoltFault) string {
	switch fault {
	case mating.BoltTooLong:
		return dangerBottoms
	case mating.BoltTooShort:
		return dangerShort
	}
	return dangerRefused
}

// checksWith judges a joint with a piece out of a bag in the place of one of its
// features.
func (t *bagTable) checksWith(item graph.BagItem, s slot, j graph.Joint, feature string) []mating.Check {
	piece := graph.Part{Kind: item.Kind, Features: []graph.Feature{measuredFeature(item, feature, "male-thread")}}
	after := t.setup.WithSeats(map[graph.PositionID]machine.Seat{s.position.ID: {Position: s.position, Part: piece,
		Changed: true}})
	around := &examine.Connections{Joints: []graph.Joint{j}, Known: []graph.Joint{j}}
	var checks []mating.Check
	for _, c := range around.List(t.setup, nil) {
		if o, ok := c.Judge(examine.From(t.setup), after); ok && c.What == examine.OfJoint {
			checks = append(checks, o.Checks...)
		}
	}
	return checks
}
