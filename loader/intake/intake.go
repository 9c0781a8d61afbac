package intake

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/loader"
	"matewell/loader/partslist"
)

// Options say what a list is to a folder.
type Options struct {
	// Name is the identity of the list as a source, and of the folder its files
	// go to.
	Name string
	// Title is the list's own file name.
	Title string
	// Model is where rows belong that name none; empty for the only model there
	// is.
	Model graph.ModelID
	// Bike is whose boxes and bags hold what the list has; empty for none.
	Bike graph.BikeID
	// Stock is true for a list of what is there, whether or not it says so row
	// by row.
	Stock bool
	// Brand is who made the parts of which nothing tells.
	Brand graph.BrandID
	// Places maps names of places to positions of the model.
	Places map[string]string
}

// Result is what a list becomes.
type Result struct {
	Files  []File
	Parts  int // numbers that are declared
	Placed int // rows that found their place on a model
	Boxed  int // rows that lie in a box of the bike
	Lacked int // rows whose places on the bike are noted as empty
	Bagged int // rows of hardware that lie in a bag of the bike
	Left   []Left
}

// File is one file to write, relative to the data folder.
type File struct{ Name, Text string }

// Left is something of a row that was left out, or is asked.
type Left struct {
	Sheet string
	Row   int    // 0 for the list as a whole
	What  string // "row", "number", "place", "quantity" ...
	Why   string
	MayBe []string
	Text  string // the row as written
}

// Folder is where the files of all lists are, in a data folder.
const Folder = "imported"

// LeftFile is the name of the file of what is left out. The loader passes it
// over.
const LeftFile = "not-placed.csv"

// row is a row of a sheet on its way.
type row struct {
	partslist.Row
	sheetName string
	part      graph.PartID
	kind      string
	stock     bool // the list tells what is there, not what belongs
	at        place
	boxed     bool
	lacking   []graph.PositionID // places of the bike that the list says are empty
	out       string             // why the whole row is left out
}

// Desk is a data folder that lists are put into.
type Desk struct {
	layers []loader.Layer // without the list's own files
	own    string         // what the places of those begin with
	facts  graph.Facts
	kinds  map[graph.KindID]bool // those that ship with the program too
	pairs  map[graph.KindID]bool // those of which one piece is a pair, as their names say
}

// Open reads the folder dir, a layer over what ships with the program. What only
// the list's own earlier files say is not held against it. Faults of the folder
// go to probs; with an error among them nothing can be put into it.
func Open(ctx context.Context, dir loader.Layer, name string, probs *diag.List) (*Desk, error) {
	rest := dir
	rest.FS = without{dir.FS, path.Join(Folder, name)}
	var all diag.List
	facts, err := loader.Load(ctx, []loader.Layer{loader.Standard(), dir}, &all)
	if err != nil {
		return nil, err
	}
	d := &Desk{layers: []loader.Layer{loader.Standard(), rest}, own: path.Join(dir.Name, Folder, name) + "/",
		facts: facts, kinds: map[graph.KindID]bool{}, pairs: map[graph.KindID]bool{}}
	if all.Err() != nil && !holdsNothing(&all) { // its own files may be what is wrong, and are made anew
		var others diag.List
		if d.facts, err = loader.Load(ctx, d.layers, &others); err != nil {
			return nil, err
		}
		if others.Err() != nil && !holdsNothing(&others) {
			probs.Add(others.Sorted()...)
			return nil, nil
		}
	}
	shipped, err := loader.StandardSet(ctx)
	if err != nil {
		return nil, err
	}
	for _, k := range slices.Concat(d.facts.Kinds, shipped.Kinds) {
		d.kinds[k.ID] = !d.onlyOwn(k.Said)
		d.pairs[k.ID] = d.pairs[k.ID] || strings.HasSuffix(k.Name, ", pair")
	}
	return d, nil
}

// holdsNothing says whether a folder is at fault for nothing but being empty,
// as one that is about to get its first files is.
func holdsNothing(probs *diag.List) bool {
	found := probs.Sorted()
	return len(found) == 1 && found[0].Code == noData
}

// noData is the fault of a folder that holds nothing.
const noData = "no-data"

// onlyOwn says whether nothing but the list's own earlier files says something.
func (d *Desk) onlyOwn(said []graph.Cite) bool {
	return len(said) > 0 && !slices.ContainsFunc(said, func(c graph.Cite) bool { return !d.isOwn(c.Pos) })
}

// isOwn says whether a place lies in one of the list's own earlier files.
func (d *Desk) isOwn(at diag.Pos) bool { return strings.HasPrefix(at.File, d.own) }

// Brands are the makers that the folder knows.
func (d *Desk) Brands() []graph.Brand { return d.facts.Brands }

// Models are the models of the folder.
func (d *Desk) Models() []graph.Model { return d.facts.Models }

// Bikes are the bikes of the folder.
func (d *Desk) Bikes() []graph.Bike { return d.facts.Bikes }

// Make puts a list into files and checks them together with the folder. What
// the check finds wrong with a row takes it out again.
func (d *Desk) Make(ctx context.Context, list partslist.File, opts Options) (Result, error) {
	m := newMaker(d, list, opts)
	for range mostRounds {
		result, lines := files(m)
		faulty, err := m.check(ctx, d.layers, result, lines)
		if err != nil {
			return Result{}, err
		}
		if !faulty {
			return result, nil
		}
	}
	return Result{}, errors.New("the list makes faults that no row of it explains: its files would not pass the check")
}

// mostRounds is how often rows are taken out and the rest is checked again.
const mostRounds = 8

// maker turns rows into files.
type maker struct {
	facts  graph.Facts
	opts   Options
	placer *placer
	isOwn  func(diag.Pos) bool // see Desk
	rows   []*row
	left   []Left

	brands map[graph.BrandID]bool
	kinds  map[graph.KindID]bool
	pairs  map[graph.KindID]bool // see Desk
	parts  map[graph.PartID]graph.Part
	ours   map[graph.PartID]bool   // those that the list's own earlier files say something of, too
	keys   map[string]graph.PartID // parts by maker and folded number
	bike   bool
}

func newMaker(d *Desk, list partslist.File, opts Options) *maker {
	facts := d.facts
	m := &maker{facts: facts, opts: opts, placer: newPlacer(facts, opts), isOwn: d.isOwn, brands: map[graph.BrandID]bool{},
		kinds: d.kinds, pairs: d.pairs, parts: map[graph.PartID]graph.Part{},
		ours: map[graph.PartID]bool{}, keys: map[string]graph.PartID{}}
	for _, b := range facts.Brands {
		m.brands[b.ID] = !d.onlyOwn(b.Said)
	}
	for _, p := range facts.Parts {
		if !d.onlyOwn(p.Said) {
			m.parts[p.ID] = p
		}
		m.keys[partKey(p.ID)] = p.ID
		m.ours[p.ID] = slices.ContainsFunc(p.Said, func(c graph.Cite) bool { return d.isOwn(c.Pos) })
	}
	m.bike = slices.ContainsFunc(facts.Bikes, func(b graph.Bike) bool { return b.ID == opts.Bike })
	for _, s := range list.Sheets {
		for _, r := range s.Rows {
			m.take(s, r)
		}
	}
	return m
}

// take looks at one row: what of it goes where, and what is left.
func (m *maker) take(s partslist.Sheet, r partslist.Row) {
	x := &row{Row: r, sheetName: s.Name}
	switch r.Is {
	case partslist.IsPart:
		m.takePart(s, x)
	case partslist.IsHardware:
		m.takeHardware(x)
	case partslist.IsNote:
		m.leave(x, "row", "taken for a note: one cell that names no number", nil)
	case partslist.IsGarbage:
		m.leave(x, "row", cmp.Or(strings.Join(r.Cannot, "; "), "no part of the list"), nil)
	}
	m.rows = append(m.rows, x)
}

func (m *maker) leave(x *row, what, why string, mayBe []string) {
	m.left = append(m.left, Left{Sheet: x.sheetName, Row: x.N, What: what, Why: why, MayBe: mayBe, Text: x.Text})
}

// leaveAll notes what holds for the list as a whole, once.
func (m *maker) leaveAll(what, why string) {
	if !slices.ContainsFunc(m.left, func(l Left) bool { return l.Row == 0 && l.What == what }) {
		m.left = append(m.left, Left{What: what, Why: why})
	}
}

// leaveOut takes the whole row out.
func (m *maker) leaveOut(x *row, why string, mayBe []string) {
	x.out = why
	m.leave(x, "row", why, mayBe)
}

// ask notes what a row leaves open, word for word.
func (m *maker) asks(x *row) {
	for _, why := range x.Ask {
		what, rest, _ := strings.Cut(why, ": ")
		if rest == "" {
			what, rest = "question", why
		}
		m.leave(x, what, rest, nil)
	}
	for _, why := range x.Contradicts {
		m.leave(x, "again", why, nil)
	}
}

func (m *maker) takePart(s partslist.Sheet, x *row) {
	x.stock = m.opts.Stock || tellsStock(s)
	for _, why := range x.Cannot {
		if what, rest, _ := strings.Cut(why, ": "); what != "number" {
			m.leave(x, what, rest, nil)
		}
	}
	if x.Number == "" {
		why := "no number: a part is known by its maker and its number"
		if at := slices.IndexFunc(x.Ask, func(ask string) bool { return strings.HasPrefix(ask, "number: ") }); at >= 0 {
			why = x.Ask[at]
			x.Ask = slices.Delete(x.Ask, at, at+1)
		}
		for _, c := range x.Cannot {
			if strings.HasPrefix(c, "number: ") {
				why = c
			}
		}
		m.leaveOut(x, why, x.Candidates)
		m.asks(x)
		return
	}
	m.asks(x)
	brand := cmp.Or(x.Maker, m.opts.Brand, m.onlyBrand())
	if brand == "" {
		brand = unknownMaker
		m.leaveAll("maker", "not told; numbers are kept under "+unknownMaker)
	}
	x.part = m.known(graph.PartID(string(brand) + " " + x.Number))
	m.countUnits(x, graph.KindID(cmp.Or(string(m.parts[x.part].Kind), kindNamed(m.placer, x.Name, m.kinds))))
	if x.SameAs > 0 {
		m.leave(x, "row", fmt.Sprintf("the same number as in row %d, which is taken", x.SameAs), nil)
	} else {
		m.placeRow(x)
	}
	x.kind = m.kindOf(x)
	m.box(s, x)
	x.lacking = m.lacks(x)
	m.askApart(x)
}

// askApart asks, once, whether the bike is in pieces: a part in a box, whose place nobody noted anything of, else
// counts as a spare, and the place as filled.
func (m *maker) askApart(x *row) {
	at := slices.IndexFunc(m.facts.Bikes, func(b graph.Bike) bool { return b.ID == m.opts.Bike })
	if at < 0 || !x.boxed || len(x.lacking) > 0 || m.facts.Bikes[at].Apart {
		return
	}
	b := m.facts.Bikes[at]
	if slices.ContainsFunc(x.at.positions, func(p graph.Position) bool {
		_, noted := b.At(p.ID)
		return !noted && slices.Contains(p.On, b.Variant)
	}) {
		m.leaveAll("in pieces?", fmt.Sprintf("%s counts as whole: if it is not, write \"everything: missing\" in its file",
			b.ID))
	}
}

// unknownMaker stands in front of numbers of which nothing tells the maker.
const unknownMaker = "Unknown-maker"

// onlyBrand is the maker of a folder that has one, when its numbers are taken
// as they stand.
func (m *maker) onlyBrand() graph.BrandID {
	var only graph.BrandID
	for _, b := range m.facts.Brands {
		switch {
		case !m.brands[b.ID]: // the list's own earlier files alone have it
		case only != "" || b.Form != (graph.NumberForm{}):
			return ""
		default:
			only = b.ID
		}
	}
	return only
}

// known is a part in the spelling that the folder has it in, or that the list
// had it in first.
func (m *maker) known(id graph.PartID) graph.PartID {
	key := partKey(id)
	if have, ok := m.keys[key]; ok {
		return have
	}
	m.keys[key] = id
	return id
}

func partKey(id graph.PartID) string {
	return string(id.Brand()) + " " + graph.NumberKey(strings.TrimPrefix(string(id), string(id.Brand())))
}

// placeRow finds where a part belongs.
func (m *maker) placeRow(x *row) {
	if len(m.facts.Models) == 0 || slices.ContainsFunc(x.Cannot, func(why string) bool {
		return strings.HasPrefix(why,
			"years: ")
	}) {
		if len(m.facts.Models) > 0 {
			m.leave(x, "place", "for which years is not known, so it is put nowhere", nil)
		}
		return
	}
	if slices.ContainsFunc(x.Ask, func(why string) bool { return strings.HasPrefix(why, "years: ") }) {
		m.leave(x, "place", "for which years is asked, so it is put nowhere", nil)
		return
	}
	at := m.placer.find(x.Row)
	if at.why != "" {
		what, why, _ := strings.Cut(at.why, ": ")
		m.leave(x, what, why, at.mayBe)
		return
	}
	if at.model == "" {
		return
	}
	if _, why := m.scopes(at.model, x.When); why != "" {
		m.leave(x, "years", why, nil)
		return
	}
	x.at = at
	m.countUnits(x, at.positions[0].Kind)
	if first := at.positions[0]; len(at.positions) == 1 && x.Counted && x.Quantity != first.Quantity && !x.stock {
		m.leave(x, "quantity", fmt.Sprintf("the list says %d, %s takes %d: the list's is not taken", x.Quantity,
			first.ID.Local(), first.Quantity), nil)
	}
}

// kindOf is what a part is: as the folder has it, as its place is for, as its
// name says, or not told.
func (m *maker) kindOf(x *row) string {
	switch p, ok := m.parts[x.part]; {
	case !ok || p.Kind == "":
	case !m.ours[x.part]:
		return ""
	case p.Kind != unsorted:
		return string(p.Kind) // the list's own earlier file may be the only one that tells
	}
	if len(x.at.positions) > 0 {
		return string(x.at.positions[0].Kind)
	}
	return cmp.Or(kindNamed(m.placer, x.Name, m.kinds), unsorted)
}

// countUnits counts what is told by the pair in pieces of a kind of which one piece is a
// pair: a pair of brake pads is one.
func (m *maker) countUnits(x *row, kind graph.KindID) {
	if x.Paired && m.pairs[kind] {
		x.Quantity, x.Paired = x.Quantity/2, false
	}
}

// box puts a part into a box, when the list says that it is there.
func (m *maker) box(s partslist.Sheet, x *row) {
	there := x.Status == partslist.Have || x.Status == "" && (m.opts.Stock || x.Box != "" && !asksGot(s))
	if m.opts.Bike == "" || x.SameAs > 0 && m.sameBox(x) {
		return
	}
	if !there && (x.Box != "" || m.opts.Stock) {
		m.leave(x, "box", notThere(x.Status), nil)
	}
	if !there {
		return
	}
	if x.Nothing != "" {
		m.leave(x, "box", "none is there: "+x.Nothing, nil)
		return
	}
	if !m.bike {
		m.leave(x, "box", fmt.Sprintf("this folder has no bike %q", m.opts.Bike), nil)
		return
	}
	x.boxed = true
	if x.Note != "" && conditionOf(x.Row) == "" {
		m.leave(x, "state", "the note goes with the part into its box, but no state of it is read from it: read it "+
			"yourself before you use the part", nil)
	}
}

// notThere is why a part is put into no box although a box is named.
func notThere(status partslist.Status) string {
	if status == "" {
		return "the list does not say that it is there, so it is in no box; one that is there has \"have\" in that column"
	}
	return "the list says " + string(status) + ", so it is in no box"
}

// asksGot reports whether a list has a column that asks whether a part is there ("Got?"), so that an empty
// cell says no. One of states may be empty for a part that nothing is wrong with.
func asksGot(s partslist.Sheet) bool {
	return slices.ContainsFunc(s.Columns, func(c partslist.Column) bool {
		return c.Field == partslist.FieldArrived || c.Field == partslist.FieldOrdered ||
			c.Field == partslist.FieldStatus && !c.IsOfStates()
	})
}

// lacks is where the bike lacks the part of a row, which the list says is missing, on its way or scrap: places
// of which nothing else of the folder says what sits there.
func (m *maker) lacks(x *row) []graph.PositionID {
	c, _ := graph.ConditionNamed(conditionOf(x.Row))
	scrap := x.boxed && c.Is == graph.Scrap
	if x.Status != partslist.Missing && x.Status != partslist.Ordered && !scrap || x.SameAs > 0 {
		return nil
	}
	at := slices.IndexFunc(m.facts.Bikes, func(b graph.Bike) bool { return b.ID == m.opts.Bike })
	if at < 0 || m.facts.Bikes[at].Variant.Model() != x.at.model {
		return nil
	}
	b := m.facts.Bikes[at]
	if !m.covers(x, b.Variant) {
		return nil
	}
	var list []graph.PositionID
	for _, p := range x.at.positions {
		told := slices.ContainsFunc(m.rows, func(o *row) bool { return slices.Contains(o.lacking, p.ID) })
		if _, noted := b.At(p.ID); !told && slices.Contains(p.On, b.Variant) && (!noted || m.ownNote(b, p.ID)) {
			list = append(list, p.ID)
		}
	}
	return list
}

// covers reports whether the years of a row hold that of a variant.
func (m *maker) covers(x *row, id graph.VariantID) bool {
	return slices.ContainsFunc(m.placer.variants[x.at.model], func(v graph.Variant) bool {
		return v.ID == id && x.When.Has(v.Year)
	})
}

// ownNote reports whether what is noted of a place comes from the list's own earlier files.
func (m *maker) ownNote(b graph.Bike, id graph.PositionID) bool {
	note, _ := b.At(id)
	return m.isOwn(note.Pos)
}

// tellsStock says whether a list tells row by row what is there.
func tellsStock(s partslist.Sheet) bool {
	return slices.ContainsFunc(s.Columns, func(c partslist.Column) bool {
		return c.Field == partslist.FieldStatus || c.Field == partslist.FieldArrived || c.Field == partslist.FieldOrdered
	})
}

// sameBox says whether the number lies in that box already: the row is the same
// part again, not one more.
func (m *maker) sameBox(x *row) bool {
	return slices.ContainsFunc(m.rows, func(o *row) bool { return o.boxed && o.part == x.part && o.Box == x.Box })
}

func (m *maker) takeHardware(x *row) {
	m.asks(x)
	h := x.Hardware
	switch {
	case len(x.Cannot) > 0:
		m.leaveOut(x, strings.Join(x.Cannot, "; "), nil)
	case h.WrongList != "":
		m.leaveOut(x, h.WrongList+"; bags hold fasteners", nil)
	case h.Kind == "":
		m.leaveOut(x, "what it is is not told", nil)
	case x.Nothing != "":
		m.leaveOut(x, "none is there: "+x.Nothing, nil)
	case x.Status == partslist.Missing, x.Status == partslist.Ordered:
		m.leaveOut(x, "none is there: "+string(x.Status), nil)
	case !x.Counted:
		m.leaveOut(x, "how many is not told", nil)
	case m.opts.Bike == "":
		m.leaveOut(x, "hardware lies in a bag of a bike; say whose with --bike", nil)
	case !m.bike:
		m.leaveOut(x, fmt.Sprintf("this folder has no bike %q", m.opts.Bike), nil)
	case !m.kinds[graph.KindID(h.Kind)]:
		m.leaveOut(x, fmt.Sprintf("this folder has no kind %q", h.Kind), nil)
	}
	if x.Torque != "" || x.CannotTorque != "" {
		m.leaveAll("torque", "not taken: a torque belongs to a joint, and the maker's manual gives it")
	}
}

// scopes turns the years of a row into those that the model was sold in, as
// intervals; none for all.
func (m *maker) scopes(model graph.ModelID, when partslist.Years) ([]string, string) {
	if when.Mark != "" {
		return nil, fmt.Sprintf("%q within a year: say from which frame number", when.Mark)
	}
	if when.From == 0 && when.To == 0 && when.List == nil {
		return nil, ""
	}
	sold := map[int]bool{}
	for _, v := range m.placer.variants[model] {
		if when.Has(v.Year) {
			sold[v.Year] = true
		}
	}
	var scopes []string
	var years []int
	for year := range sold {
		years = append(years, year)
	}
	slices.Sort(years)
	for i := 0; i < len(years); {
		j := i
		for j+1 < len(years) && years[j+1] == years[j]+1 {
			j++
		}
		if i == j {
			scopes = append(scopes, fmt.Sprint(years[i]))
		} else {
			scopes = append(scopes, fmt.Sprintf("%d-%d", years[i], years[j]))
		}
		i = j + 1
	}
	if scopes == nil {
		return nil, fmt.Sprintf("%s was not sold in these years", model)
	}
	return scopes, ""
}

// check loads the new files over the folder. A fault takes the row of its line
// out; faulty says whether any was found.
func (m *maker) check(ctx context.Context, layers []loader.Layer, result Result,
	lines map[string][]*row) (faulty bool, err error) {
	files := fstest.MapFS{}
	for _, f := range result.Files {
		files[path.Base(f.Name)] = &fstest.MapFile{Data: []byte(f.Text)}
	}
	var probs diag.List
	if _, err := loader.Load(ctx, append(slices.Clone(layers), loader.Layer{Name: Folder, FS: files}),
		&probs); err != nil {
		return false, err
	}
	explained := false
	var rest []diag.Diagnostic
	for _, d := range probs.Sorted() {
		if d.Severity != diag.Error || d.Code == noData || d.Code == diag.TooMany {
			continue
		}
		faulty = true
		rows := lines[path.Base(d.Pos.File)]
		if !strings.HasPrefix(d.Pos.File, Folder+"/") || d.Pos.Line >= len(rows) || rows[d.Pos.Line] == nil {
			rest = append(rest, d)
			continue
		}
		if x := rows[d.Pos.Line]; x.out == "" {
			explained = true
			m.leaveOut(x, d.Message+hinted(d.Hint), nil)
		}
	}
	if faulty && !explained {
		return true, fmt.Errorf("the files would not pass the check: %s", rest[0])
	}
	return faulty, nil
}

func hinted(hint string) string {
	if hint == "" {
		return ""
	}
	return "; " + hint
}

// without is a folder without one of its folders.
type without struct {
	fs.FS
	hidden string
}

func (w without) Open(name string) (fs.File, error) {
	if name == w.hidden || strings.HasPrefix(name, w.hidden+"/") {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return w.FS.Open(name)
}

func (w without) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(w.FS, name)
	return slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return path.Join(name, e.Name()) == w.hidden }), err
}

func (w without) Stat(name string) (fs.FileInfo, error) { return fs.Stat(w.FS, name) }
