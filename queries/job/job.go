package job

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/shop"
	"matewell/queries/worksheet"
)

// JobQuestion asks how something is rebuilt, or, without a name, what is known to be.
type JobQuestion struct {
	Name   string
	On     string // a model, a model year, a variant or a bike; may be empty without a name
	Market string
	Frame  string
}

// JobAnswer is the answer to a JobQuestion. Every list is in a stable order.
type JobAnswer struct {
	// Jobs are those that are known, on the machine where one was named; sorted.
	Jobs []JobLine `json:"jobs,omitempty"`
	Card *JobCard  `json:"job,omitempty"` // when one was asked for
}

// JobLine is a job in a list.
type JobLine struct {
	Job    graph.JobID     `json:"job"`
	Name   string          `json:"name"`
	Models []graph.ModelID `json:"models"`
	// Kinds are of a job for any machine that has one of them; empty for others, and
	// where a machine was named.
	Kinds  []graph.KindID `json:"kinds,omitempty"`
	Places int            `json:"places"` // 0 for a job of any machine
	// Steps are those of the variant that has most of them.
	Steps int `json:"steps"`
}

// JobCard is one job on one machine, or on the variants that the question leaves.
type JobCard struct {
	Job  graph.JobID       `json:"job"`
	Name string            `json:"name"`
	On   []graph.VariantID `json:"on"`
	Bike graph.BikeID      `json:"bike,omitempty"`
	// Split lists the variants when lines hold for some of them only, and SettledBy
	// the facts that tell which.
	Split     []queries.SplitLine `json:"split,omitempty"`
	SettledBy []string            `json:"settled_by,omitempty"`
	// Proof says how it is known which variant it is; empty when there are several.
	Proof  []string `json:"proof,omitempty"`
	Places []Place  `json:"places"`
	// Beside is what was noted around the job on a machine of one's own.
	Beside []Beside `json:"beside,omitempty"`
	Kits   []Kit    `json:"kits"`
	Parts  []Part   `json:"parts"`
	Fill   []Fill   `json:"fill"`
	Look   []Look   `json:"inspect"`
	Steps  []Line   `json:"steps"`
	// Joints are those that are opened, with their torques, and Tools what the work is done
	// with; only when one variant is asked about.
	Joints []worksheet.Joint `json:"joints"`
	Tools  []string          `json:"tools,omitempty"`
	// Checks are those of the job, then what the trade tries afterwards.
	Checks   []Line            `json:"checks"`
	Cautions []Line            `json:"cautions"` // of the work itself
	Before   []queries.Caution `json:"before_riding"`
	Sources  []evidence.Source `json:"sources"` // of all lines, sorted
}

// Place is what is rebuilt.
type Place struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"` // only when one variant is asked about
	PartName string           `json:"part_name,omitempty"`
	// Book is the part that the job was written for, where another one is on a machine
	// of one's own.
	Book graph.PartID `json:"book,omitempty"`
	// There says on a machine of one's own why there is nothing to rebuild: nothing is
	// there, or what is there is scrap.
	There string `json:"there,omitempty"`
}

// SafetyOpen reports whether a part that safety hangs on is scrap, another than
// the job was written for, or hangs elsewhere than as built: in the job or beside it.
func (a JobAnswer) SafetyOpen() bool {
	return a.Card != nil && (slices.ContainsFunc(a.Card.Places, func(p Place) bool {
		return p.Safety != graph.SafetyNone && (p.Book != "" || p.There != "" && p.Part != "")
	}) || slices.ContainsFunc(a.Card.Beside, func(b Beside) bool { return b.Stop && b.Safety != graph.SafetyNone }))
}

// Line is one sentence with who says so.
type Line struct {
	Text string `json:"text"`
	// Only are the machines it holds for; empty for all that were asked about.
	Only   []graph.VariantID `json:"only,omitempty"`
	Source string            `json:"source"` // its best source
	// Practice is true when nothing but the practice of the trade says so.
	Practice bool `json:"practice,omitempty"`
}

// Part is an inner part.
type Part struct {
	Line
	Part     graph.PartID `json:"part,omitempty"`
	PartName string       `json:"part_name,omitempty"`
	Quantity int          `json:"quantity"`
	Renew    bool         `json:"renew,omitempty"`
	// SoldAs is the number under which it is sold today, where that is another, and
	// With what must be changed along with that; Gone is true for what is sold no more.
	SoldAs  graph.PartID           `json:"sold_as,omitempty"`
	With    []evidence.ContentLine `json:"with,omitempty"`
	Gone    bool                   `json:"gone,omitempty"`
	Kits    []graph.PartID         `json:"kits,omitempty"` // that bring it
	InBoxes []InBox                `json:"in_boxes,omitempty"`
}

// Kit brings inner parts.
type Kit struct {
	Part
	Brings []graph.PartID `json:"brings"`
	Price  string         `json:"price,omitempty"`
}

// InBox is where a part lies on a machine of one's own.
type InBox struct {
	Box      string       `json:"box"`
	Part     graph.PartID `json:"part"` // the part, or the kit that brings it
	Quantity int          `json:"quantity"`
	Sure     string       `json:"sure,omitempty"`
	State    string       `json:"state,omitempty"` // of this piece, one of graph.Conditions
	Note     string       `json:"note,omitempty"`  // of its owner
}

// Fill is what is filled in or put on.
type Fill struct {
	Line
	Spec   string `json:"spec,omitempty"`
	Amount string `json:"amount,omitempty"`
	Where  string `json:"where,omitempty"`
}

// Look is something to inspect.
type Look struct {
	Line
	For   string `json:"for,omitempty"`
	Limit string `json:"limit,omitempty"`
	Gauge string `json:"with,omitempty"`
}

// Beside is what was noted on a machine of one's own of a place that the job has open, or
// that meets it or shares its circuit: a worn or broken part, one that hangs elsewhere.
type Beside struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"`
	Says     []string         `json:"says"`
	// Stop is true for what must not be ridden with: it is scrap, or it hangs where nobody
	// built it.
	Stop bool `json:"stop,omitempty"`
}

// Job answers a question. Errors are *NotFoundError, *AmbiguousError, *NoMachineError,
// or come from the reader.
func Job(ctx context.Context, r graph.Reader, q JobQuestion) (JobAnswer, error) {
	jobs, err := r.Jobs(ctx)
	if err != nil {
		return JobAnswer{}, err
	}
	if q.Name == "" && q.On == "" {
		variants, err := r.VariantsOf(ctx, lists.Unique(slices.Concat(lists.Mapped(jobs, graph.Job.Models)...))...)
		return JobAnswer{Jobs: jobLines(jobs, variants)}, err
	}
	if q.On == "" {
		if q.On, err = onlyModel(jobs, q.Name); err != nil {
			return JobAnswer{}, err
		}
	}
	m, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame})
	if err != nil {
		return JobAnswer{}, err
	}
	there, err := queries.PlacesOn(ctx, r, m.Model, m.IDs())
	if err != nil {
		return JobAnswer{}, err
	}
	here := graph.JobsAt(jobs, there)
	if q.Name == "" {
		return JobAnswer{Jobs: jobLines(here, m.Variants)}, nil
	}
	at := slices.IndexFunc(here, func(j graph.Job) bool { return string(j.ID) == q.Name })
	if at < 0 {
		return JobAnswer{}, queries.NotListed("job", q.Name, "on "+string(m.Model),
			lists.Mapped(here, func(j graph.Job) graph.JobID { return j.ID }))
	}
	c := &carder{ctx: ctx, r: r, job: here[at], machines: m, sold: map[graph.PartID]shop.Sold{}, there: there}
	card, err := c.card()
	return JobAnswer{Card: card}, err
}

func jobLines(jobs []graph.Job, variants []graph.Variant) []JobLine {
	return lists.Mapped(jobs, func(j graph.Job) JobLine {
		line := JobLine{Job: j.ID, Name: j.Name, Models: j.Models()}
		if len(line.Models) == 0 {
			line.Kinds, line.Steps = j.Kinds, len(j.Steps)
			return line
		}
		line.Places = len(placesOn(j, line.Models[:1]))
		for _, v := range variants {
			steps := lists.Kept(slices.Clone(j.Steps), func(s graph.JobLine) bool { return s.Scope.MayHold(v) })
			if slices.Contains(line.Models, v.Model) {
				line.Steps = max(line.Steps, len(steps))
			}
		}
		return line
	})
}

func placesOn(j graph.Job, models []graph.ModelID) []graph.PositionID {
	return lists.Kept(slices.Clone(j.Places), func(p graph.PositionID) bool { return slices.Contains(models, p.Model()) })
}

// onlyModel is the model that a job without a machine is asked on: the first that it
// is written for.
func onlyModel(jobs []graph.Job, name string) (string, error) {
	at := slices.IndexFunc(jobs, func(j graph.Job) bool { return string(j.ID) == name })
	if at < 0 {
		return "", queries.NotListed("job", name, "", lists.Mapped(jobs, func(j graph.Job) graph.JobID { return j.ID }))
	}
	models := jobs[at].Models()
	if len(models) == 0 {
		return "", &NoMachineError{Job: jobs[at].ID}
	}
	return string(models[0]), nil
}

// NoMachineError reports a job of any machine that was asked for without one.
type NoMachineError struct{ Job graph.JobID }

func (e *NoMachineError) Error() string {
	return fmt.Sprintf("job %s is for any machine: say which one", e.Job)
}

// carder makes the card of one job.
type carder struct {
	ctx      context.Context
	r        graph.Reader
	job      graph.Job
	machines queries.Machines
	there    []graph.Position // on the machines
	voices   *evidence.Evidence
	setup    *machine.Setup // of the one variant; nil when there are several
	parts    map[graph.PartID]graph.Part
	sold     map[graph.PartID]shop.Sold // where one variant is asked about
	boxes    []graph.Box
	cites    []graph.Cite
	listers  []evidence.Source // of what goes on new with the joints
	// met are the places of what meets what is rebuilt, and of what goes on new in the joints
	// between them; sorted. meets has them place by place, and those of what inner parts belong to.
	met   []graph.PositionID
	meets map[graph.PositionID][]graph.PositionID
	told  map[graph.PositionID]bool // those of met, and places, that are a line of the card
	// kindsAt are the kinds of feature of what each place takes.
	kindsAt map[graph.PositionID][]string
	split   bool // a line holds for some of the variants only
	// eitherForm is true once a line hangs on the form of the fork legs and nobody recorded that.
	eitherForm bool
}

func (c *carder) card() (*JobCard, error) {
	if err := c.read(); err != nil {
		return nil, err
	}
	card := &JobCard{Job: c.job.ID, Name: c.job.Name, On: c.machines.IDs(), Bike: c.machines.Bike, Places: []Place{},
		Kits:  []Kit{},
		Parts: []Part{}, Fill: []Fill{}, Look: []Look{}, Joints: []worksheet.Joint{}}
	places, kinds, err := c.places()
	if err != nil {
		return nil, err
	}
	card.Places = places
	if err := c.readMet(places); err != nil {
		return nil, err
	}
	c.addParts(card)
	for _, f := range c.job.Fill {
		if line, ok := c.line(f.JobLine); ok {
			card.Fill = append(card.Fill, Fill{Line: line, Spec: f.Spec, Amount: f.Amount, Where: f.Where})
		}
	}
	for _, l := range c.job.Look {
		if line, ok := c.line(l.JobLine); ok {
			card.Look = append(card.Look, Look{Line: line, For: l.For, Limit: l.Limit, Gauge: l.Gauge})
		}
	}
	card.Steps = c.lines(c.job.Steps)
	touched, err := c.touched(places, kinds)
	if err != nil {
		return nil, err
	}
	warn := append(foreign(places), cautionsOf(touched)...)
	if c.eitherForm {
		warn = append(warn, "Whether these legs are upside-down is not recorded for one machine: look which tube is the "+
			"thin one, and leave out the steps of the other form.")
	}
	card.Cautions = append(practice(warn), c.lines(c.job.Cautions)...)
	if c.setup != nil {
		card.Proof = worksheet.Proof(c.setup.Variant, c.machines.Frame)
		work, err := worksheet.WorkAt(c.ctx, c.setup, c.comesOut(places))
		if err != nil {
			return nil, err
		}
		card.Joints, card.Tools = work.Joints, work.Tools
		if err := c.addBeside(card); err != nil {
			return nil, err
		}
		if err := c.addRenewed(card); err != nil {
			return nil, err
		}
	}
	for _, j := range card.Joints { // what comes off on the way is tried and looked at, too
		for _, f := range j.Fasteners {
			touched.add(c.setup.SafetyAt(f.Position))
		}
	}
	card.Checks = append(c.lines(c.job.Checks), practice(queries.ChecksAfter(touched.Touched))...)
	card.Before = queries.CautionsFor(touched.Safety...)
	if c.split {
		card.Split, card.SettledBy = c.machines.SplitLines(), c.machines.SettledBy()
	}
	card.Sources = c.sources(card)
	return card, nil
}

// read reads the parts and sources that the job names, and the boxes of the bike.
func (c *carder) read() error {
	var ids []graph.PartID
	var cites []graph.Cite
	for _, p := range slices.Concat(c.job.Kits, c.job.Parts) {
		if p.Part != "" {
			ids = append(ids, p.Part)
		}
		cites = append(cites, p.Said...)
	}
	for _, f := range c.job.Fill {
		cites = append(cites, f.Said...)
	}
	for _, l := range c.job.Look {
		cites = append(cites, l.Said...)
	}
	for _, l := range slices.Concat(c.job.Steps, c.job.Checks, c.job.Cautions) {
		cites = append(cites, l.Said...)
	}
	c.voices = evidence.NewEvidence()
	if err := c.voices.Load(c.ctx, c.r, cites); err != nil {
		return err
	}
	parts, err := c.r.Parts(c.ctx, lists.Unique(ids)...)
	if err != nil {
		return err
	}
	c.parts = lists.ByKey(parts, func(p graph.Part) graph.PartID { return p.ID })
	if len(c.machines.Variants) != 1 {
		return nil
	}
	if c.setup, err = machine.SetupFor(c.ctx, c.r, c.machines, ""); err != nil {
		return err
	}
	if c.setup.Bike != nil {
		c.boxes = c.setup.Bike.Boxes
	}
	return c.readSold(lists.Unique(ids))
}

// readSold reads as what kits and parts are sold today, and what those kits hold.
func (c *carder) readSold(ids []graph.PartID) error {
	current, err := shop.SoldAs(c.ctx, c.r, c.setup.Variant, c.machines.Frame, ids...)
	if err != nil || len(ids) == 0 {
		return err
	}
	maps.Copy(c.sold, current)
	sold := lists.Mapped(ids, func(id graph.PartID) graph.PartID { return c.sold[id].Part })
	newer, err := c.r.Parts(c.ctx, lists.Unique(sold)...)
	for _, p := range newer {
		c.parts[p.ID] = p
	}
	return err
}

// places are what is rebuilt on the machine, and the kinds of feature of what sits
// there.
func (c *carder) places() (found []Place, kinds []string, err error) {
	found = []Place{}
	ids := placesOn(c.job, []graph.ModelID{c.machines.Model})
	positions, err := c.r.Positions(c.ctx, ids...)
	if err != nil {
		return found, nil, err
	}
	if c.setup != nil {
		if err := c.setup.Load(c.ctx, ids...); err != nil {
			return found, nil, err
		}
	}
	ofPlaces := lists.Unique(lists.Mapped(positions, func(p graph.Position) graph.KindID { return p.Kind }))
	ofKind, err := c.r.Kinds(c.ctx, ofPlaces...)
	if err != nil {
		return found, nil, err
	}
	c.kindsAt = map[graph.PositionID][]string{}
	for _, k := range ofKind {
		features := lists.Mapped(k.Features, func(f graph.KindFeature) string { return f.Kind })
		kinds = append(append(kinds, string(k.ID)), features...)
		for _, p := range positions {
			if p.Kind == k.ID {
				c.kindsAt[p.ID] = features
			}
		}
	}
	for _, p := range positions {
		if !slices.ContainsFunc(c.machines.IDs(), func(v graph.VariantID) bool { return slices.Contains(p.On, v) }) {
			continue
		}
		place := Place{Position: p.ID, Name: p.Name, Safety: p.Safety}
		if c.setup != nil {
			c.sits(&place)
		}
		found = append(found, place)
	}
	return found, lists.Unique(kinds), nil
}

func placeIDs(places []Place) []graph.PositionID {
	return lists.Mapped(places, func(p Place) graph.PositionID { return p.Position })
}

// sits says what sits at a place: on a machine of one's own what was found there.
func (c *carder) sits(place *Place) {
	seat, built := c.setup.Seat(place.Position), c.setup.BuiltAt(place.Position).Part
	place.Part, place.PartName = seat.Part.ID, seat.Part.Name
	if c.setup.Bike == nil {
		return
	}
	fitted, noted := c.setup.Bike.At(place.Position)
	switch {
	case seat.ScrapWhy() != "":
		place.Part, place.PartName, place.There = seat.Scrap.ID, seat.Scrap.Name, seat.ScrapWhy()
	case c.setup.Bike.Apart && !noted, noted && fitted.Part == "" && !fitted.AsBuilt:
		place.Part, place.PartName, place.There = "", "", "nothing is there"
	case built.ID != "" && !sameButColour(built, seat.Part):
		place.Book = built.ID
	}
}

// sameButColour reports whether two parts are one number in whatever colour.
func sameButColour(a, b graph.Part) bool {
	return a.ID == b.ID || a.Brand == b.Brand && a.Number.Core != "" && a.Number.CoreKey() == b.Number.CoreKey() &&
		a.Number.Revision == b.Number.Revision
}

// foreign are the cautions about places at which another part sits than the job was
// written for.
func foreign(places []Place) []string {
	var texts []string
	for _, p := range places {
		if p.Book != "" {
			texts = append(texts, fmt.Sprintf("%s is %s, and this job was written for %s: kit, inner parts, amounts and "+
				"limits below are those of the latter. Order nothing by them: what goes into the part that is there, "+
				"its own maker says.", p.Position.Local(), p.Part, p.Book))
		}
	}
	return texts
}

// line is a line where it holds for one of the variants; false where for none.
func (c *carder) line(l graph.JobLine) (Line, bool) {
	var on []graph.VariantID
	for _, v := range c.machines.Variants {
		if l.Scope.MayHold(v) {
			on = append(on, v.ID)
		}
	}
	line := Line{Text: l.Text}
	if form := c.legForm(); l.Legs != "" && form == "" {
		line.Text, c.eitherForm = "On "+legWords[l.Legs]+": "+l.Text, true
	} else if l.Legs != "" && l.Legs != form {
		return line, false
	}
	switch {
	case len(on) == 0:
		return line, false
	case len(on) < len(c.machines.Variants):
		line.Only, c.split = on, true
	}
	c.cites = append(c.cites, l.Said...)
	if voices := c.voices.Voices(l.Said, &c.machines.Variants[0]); len(voices) > 0 {
		line.Source, line.Practice = voices[0].ID, voices[0].Kind == string(graph.SourcePractice)
	}
	return line, true
}

// legWords are how the two forms of a fork leg are told apart by eye.
var legWords = map[graph.LegForm]string{
	graph.UpsideDown:   "an upside-down leg, its thin tube below",
	graph.Conventional: "a leg with its thin tube above",
}

// legForm is the form of the fork legs of the job; empty where it is not recorded, where there
// are none, or where more than one machine is asked about.
func (c *carder) legForm() graph.LegForm {
	for _, p := range c.there {
		if c.setup != nil && p.Kind == "fork-leg" && slices.Contains(c.job.Places, p.ID) {
			if form := machine.LegFormOf(c.setup.Seat(p.ID).Part); form != "" {
				return form
			}
		}
	}
	return ""
}

func (c *carder) lines(all []graph.JobLine) []Line {
	found := []Line{}
	for _, l := range all {
		if line, ok := c.line(l); ok {
			found = append(found, line)
		}
	}
	return found
}

// practice makes lines of what the program itself knows of the trade.
func practice(texts []string) []Line {
	return lists.Mapped(texts, func(t string) Line { return Line{Text: t, Source: "common practice", Practice: true} })
}

// addParts adds kits and inner parts, each part with the kits that bring it and where
// it lies in the boxes.
func (c *carder) addParts(card *JobCard) {
	for _, k := range c.job.Kits {
		line, ok := c.line(k.JobLine)
		if !ok {
			continue
		}
		sold := c.soldAs(k.Part)
		part := c.parts[sold.Part]
		line.Text = cmp.Or(line.Text, part.Name, string(k.Part))
		kit := Kit{Part: Part{Line: line, Part: k.Part, PartName: part.Name, Quantity: k.Quantity, Gone: sold.Gone,
			With: sold.With, InBoxes: c.inBoxes(k.Part, []graph.PartID{sold.Part})},
			Brings: lists.Mapped(part.Contains, func(p graph.Content) graph.PartID { return p.Part })}
		if sold.Part != k.Part {
			kit.SoldAs = sold.Part
		}
		if len(part.Price) > 0 {
			kit.Price = part.Price[0].Text
		}
		card.Kits = append(card.Kits, kit)
	}
	for _, p := range c.job.Parts {
		line, ok := c.line(p.JobLine)
		if !ok {
			continue
		}
		if named := c.named(card, p); len(named) > 0 {
			card.Parts = append(card.Parts, named...)
			continue
		}
		if at := c.listedInstead(card.Places, c.parts[p.Part]); at != "" {
			p.Part, c.cites = c.setup.BuiltAt(at).Part.ID, c.cites[:len(c.cites)-len(p.Said)]
			line.Source, line.Practice = c.setup.BuiltAt(at).Source.ID, false
			c.listers = append(c.listers, c.setup.BuiltAt(at).Source)
		}
		if len(c.job.Kinds) > 0 {
			p.Quantity *= c.takers(card.Places, p.Feature) // each place has its own
		}
		card.Parts = append(card.Parts, c.inner(card, p, line))
	}
}

// takers counts the places that an inner part is of: those whose kind of part has the
// feature, or all where none has.
func (c *carder) takers(places []Place, feature string) int {
	having := lists.Kept(slices.Clone(places), func(p Place) bool {
		return slices.Contains(c.kindsAt[p.Position], feature)
	})
	if len(having) == 0 {
		return len(places)
	}
	return len(having)
}

// listedInstead is the place of the job at which this machine has another number of the
// kind that the job names: the job was written for several models, or for a sister. Empty
// where the number is the machine's own, also in an earlier or later revision.
func (c *carder) listedInstead(places []Place, part graph.Part) graph.PositionID {
	var other graph.PositionID
	for _, p := range places {
		if c.setup == nil || part.Kind == "" {
			break
		}
		built := c.setup.BuiltAt(p.Position).Part
		switch {
		case built.ID == part.ID || built.Brand == part.Brand && built.Number.CoreKey() == part.Number.CoreKey():
			return ""
		case built.Kind == part.Kind && other == "":
			other = p.Position
		}
	}
	return other
}

// readMet finds and loads what meets the places and what inner parts belong to.
func (c *carder) readMet(places []Place) error {
	c.told, c.meets = map[graph.PositionID]bool{}, map[graph.PositionID][]graph.PositionID{}
	if c.setup == nil {
		return nil
	}
	ids := placeIDs(places)
	from := slices.Clone(ids)
	for _, p := range c.job.Parts {
		from = append(from, c.ofKinds(p.Of)...)
	}
	joints, err := c.setup.Library().JointsTouching(c.ctx, c.setup.Variant.ID, lists.Unique(from))
	if err != nil {
		return err
	}
	all := slices.Clone(from)
	for _, j := range joints {
		all = append(all, j.Places()...)
	}
	for _, p := range c.job.Parts {
		all = append(all, c.ofKinds(p.Kinds)...)
	}
	if err := c.setup.Load(c.ctx, lists.Unique(all)...); err != nil {
		return err
	}
	kinds := lists.Mapped(all, func(id graph.PositionID) graph.KindID { return c.setup.Seat(id).Part.Kind })
	if err := c.setup.Library().ReadKinds(c.ctx, lists.Unique(kinds)); err != nil {
		return err
	}
	for _, j := range joints {
		goesOn := func(id graph.PositionID) bool {
			return !slices.Contains(j.Fasteners, id) || c.setup.Position(id).Renew || slices.Contains(j.Renew, id)
		}
		for _, side := range []graph.PositionID{j.A.Position, j.B.Position} {
			c.meets[side] = append(c.meets[side], lists.Kept(j.Places(), goesOn)...)
		}
	}
	for _, id := range ids {
		c.met = append(c.met, c.meets[id]...)
	}
	c.met = lists.Kept(lists.Unique(c.met), func(id graph.PositionID) bool { return !slices.Contains(ids, id) })
	var parts []graph.PartID
	for _, p := range c.job.Parts {
		for _, id := range c.meant(ids, p) {
			parts = append(parts, c.setup.Seat(id).Part.ID)
		}
	}
	return c.readSold(lists.Unique(parts))
}

// ofKinds are the places of the machine for parts of the kinds.
func (c *carder) ofKinds(kinds []graph.KindID) []graph.PositionID {
	var of []graph.PositionID
	for i := range c.there {
		if slices.Contains(kinds, c.there[i].Kind) {
			of = append(of, c.there[i].ID)
		}
	}
	return of
}

// meant are the places that hold what a description means: what has its feature, among what
// is rebuilt, or what that belongs to, and what meets it; and places for its kinds.
func (c *carder) meant(places []graph.PositionID, p graph.JobPart) []graph.PositionID {
	if len(p.Of) > 0 {
		places = c.ofKinds(p.Of)
	}
	var found []graph.PositionID
	for _, id := range places {
		found = append(found, lists.Kept(append(slices.Clone(c.meets[id]), id), func(id graph.PositionID) bool {
			return p.Feature != "" && slices.Contains(c.setup.FeatureKindsAt(id), p.Feature)
		})...)
		found = append(found, c.ofKindsAt(id, p.Kinds)...)
	}
	return lists.Kept(lists.Unique(found), func(id graph.PositionID) bool {
		return !c.setup.Seat(id).Empty && c.setup.Seat(id).Part.ID != ""
	})
}

// ofKindsAt are the places for parts of the kinds: one itself, or those that meet it, or,
// where none does, those of its assembly.
func (c *carder) ofKindsAt(id graph.PositionID, kinds []graph.KindID) []graph.PositionID {
	all := c.ofKinds(kinds)
	near := lists.Kept(slices.Clone(all), func(at graph.PositionID) bool {
		return at == id || slices.Contains(c.meets[id], at)
	})
	if len(near) > 0 {
		return near
	}
	return lists.Kept(all, func(at graph.PositionID) bool { return at.Assembly() == id.Assembly() })
}

// named are the inner parts that a description means on this machine, each number once;
// none where it means no kind of feature or part, or nothing of it is known there.
func (c *carder) named(card *JobCard, p graph.JobPart) []Part {
	if c.setup == nil {
		return nil
	}
	var found []Part
	for _, id := range c.meant(placeIDs(card.Places), p) {
		if !c.told[id] {
			c.told[id] = true
			found = c.withSeat(card, found, id, graph.JobPart{Part: c.setup.Seat(id).Part.ID, Quantity: c.setup.Quantity(id),
				Renew: p.Renew})
		}
	}
	return found
}

// comesOut is what has to be got out for the job: inner parts that are named at their
// own places, else what is rebuilt itself.
func (c *carder) comesOut(places []Place) []graph.PositionID {
	inner := lists.Kept(lists.KeysOf(c.told), func(id graph.PositionID) bool {
		return slices.ContainsFunc(c.setup.FeatureKindsAt(id), func(kind string) bool {
			return kind == "bearing" || kind == "seal"
		})
	})
	if len(inner) > 0 {
		return inner
	}
	return placeIDs(places)
}

// withSeat adds what sits at a place to a list of parts, as one line with the same part at
// another place.
func (c *carder) withSeat(card *JobCard, list []Part, id graph.PositionID, p graph.JobPart) []Part {
	if at := slices.IndexFunc(list, func(q Part) bool { return p.Part != "" && q.Part == p.Part }); at >= 0 {
		list[at].Quantity += p.Quantity
		return list
	}
	voice := c.setup.Seat(id).Source
	if voice.ID != "" {
		c.listers = append(c.listers, voice)
	}
	line := Line{Text: cmp.Or(c.setup.Seat(id).Part.Name, c.setup.Position(id).Name), Source: voice.ID}
	return append(list, c.inner(card, p, line))
}

// inner is one inner part, with the kits that bring it and where it lies in the boxes.
func (c *carder) inner(card *JobCard, p graph.JobPart, line Line) Part {
	line.Text = cmp.Or(line.Text, c.parts[p.Part].Name, string(p.Part))
	sold := c.soldAs(p.Part)
	one := Part{Line: line, Part: p.Part, PartName: c.parts[p.Part].Name, Quantity: p.Quantity, Renew: p.Renew,
		Gone: sold.Gone, With: sold.With}
	if sold.Part != p.Part {
		one.SoldAs = sold.Part
	}
	bring := []graph.PartID{sold.Part}
	for _, k := range card.Kits {
		if p.Part != "" && (slices.Contains(k.Brings, p.Part) || slices.Contains(k.Brings, sold.Part)) {
			number := cmp.Or(k.SoldAs, k.Part.Part)
			one.Gone = one.Gone && k.Gone // the kit has it
			one.Kits, bring = append(one.Kits, number), append(bring, k.Part.Part, number)
		}
	}
	one.InBoxes = c.inBoxes(p.Part, bring)
	return one
}

// addRenewed adds the fasteners of the joints that are opened which go on new each time
// and which the job does not name itself.
func (c *carder) addRenewed(card *JobCard) error {
	renewed := map[graph.PositionID]worksheet.Fastener{}
	var ids []graph.PartID
	for _, j := range card.Joints {
		for _, f := range j.Fasteners {
			isHere := slices.Contains(c.met, f.Position) || slices.Contains(placeIDs(card.Places), f.Position)
			named := isHere && slices.ContainsFunc(card.Parts,
				func(p Part) bool { return f.Part != "" && p.Part == f.Part })
			if f.New && !named && !c.told[f.Position] {
				renewed[f.Position] = f
				ids = append(ids, f.Part)
			}
		}
	}
	ids = lists.Kept(lists.Unique(ids), func(id graph.PartID) bool { return id != "" })
	if err := c.readSold(ids); err != nil {
		return err
	}
	var found []Part
	for _, id := range lists.KeysOf(renewed) {
		found = c.withSeat(card, found, id, graph.JobPart{Part: renewed[id].Part, Quantity: renewed[id].Quantity,
			Renew: true})
	}
	card.Parts = append(card.Parts, found...)
	return nil
}

// soldAs is the number under which a part is sold today.
func (c *carder) soldAs(id graph.PartID) shop.Sold {
	if sold, known := c.sold[id]; known && id != "" {
		return sold
	}
	return shop.Sold{Part: id, Gone: c.parts[id].Gone}
}

// inBoxes is where a part, what takes its place, or a kit that brings it, lies.
func (c *carder) inBoxes(part graph.PartID, also []graph.PartID) []InBox {
	var found []InBox
	for _, box := range c.boxes {
		for _, item := range box.Items {
			if part != "" && item.Part == part || item.Part != "" && slices.Contains(also, item.Part) {
				found = append(found, InBox{Box: box.Name, Part: item.Part, Quantity: item.Quantity, Sure: item.Sure,
					State: item.Condition, Note: item.Note})
			}
		}
	}
	return found
}

// touched is what the job has apart.
func (c *carder) touched(places []Place, kinds []string) (work, error) {
	w := work{Kinds: kinds}
	w.Joints = true
	ids := placeIDs(places)
	for _, p := range places {
		w.add(p.Safety)
	}
	here := func(on []graph.VariantID) bool {
		return slices.ContainsFunc(c.machines.IDs(), func(v graph.VariantID) bool { return slices.Contains(on, v) })
	}
	circuits, err := c.r.CircuitsAt(c.ctx, ids...)
	if err != nil {
		return w, err
	}
	for _, circuit := range circuits {
		if here(circuit.On) {
			w.Carries = append(w.Carries, circuit.Carries)
		}
	}
	w.Fluid = slices.Contains(w.Carries, "brake fluid") || slices.Contains(w.Carries, "clutch fluid")
	runs, err := c.r.RunsAt(c.ctx, ids...)
	for _, run := range runs {
		turnsBar := !slices.ContainsFunc(c.kindsAt[run.Line], machine.RunsRound)
		w.Lines = w.Lines || here(run.On) && turnsBar
	}
	w.Chain, w.Belt = slices.Contains(kinds, "chain"), slices.Contains(kinds, "belt")
	return w, err
}

func (c *carder) sources(card *JobCard) []evidence.Source {
	byID := map[string]evidence.Source{}
	for _, v := range c.voices.Voices(c.cites, &c.machines.Variants[0]) {
		v.At, v.Says = "-", ""
		byID[v.ID] = v
	}
	voices := slices.Clone(c.listers)
	for _, j := range card.Joints {
		if j.Source != nil {
			voices = append(voices, *j.Source)
		}
	}
	for _, v := range voices {
		v.At, v.Says = "-", ""
		byID[v.ID] = v
	}
	return lists.Mapped(lists.KeysOf(byID), func(id string) evidence.Source { return byID[id] })
}

// addBeside tells what was noted around the job; nothing where the machine is nobody's.
func (c *carder) addBeside(card *JobCard) error {
	bike := c.setup.Bike
	if bike == nil {
		return nil
	}
	around, err := c.around(placeIDs(card.Places))
	if err != nil {
		return err
	}
	if err := c.setup.Load(c.ctx, around...); err != nil {
		return err
	}
	for _, id := range around {
		p := c.setup.Position(id)
		one := Beside{Position: id, Name: p.Name, Safety: p.Safety, Part: c.setup.Seat(id).Part.ID}
		c.noted(&one)
		if len(one.Says) > 0 {
			card.Beside = append(card.Beside, one)
		}
	}
	return nil
}

// around are the places of a job, what is joined to them, and what shares a circuit with
// them; sorted.
func (c *carder) around(places []graph.PositionID) ([]graph.PositionID, error) {
	library := c.setup.Library()
	joints, err := library.JointsTouching(c.ctx, c.setup.Variant.ID, places)
	if err != nil {
		return nil, err
	}
	circuits, err := library.CircuitsTouching(c.ctx, c.setup.Variant.ID, places)
	all := append([]graph.PositionID{}, places...)
	for _, j := range joints {
		all = append(all, j.Places()...)
	}
	for _, circuit := range circuits {
		all = append(all, circuit.Places()...)
	}
	return lists.Unique(all), err
}

// noted fills in what was noted of a place itself.
func (c *carder) noted(one *Beside) {
	bike, seat := c.setup.Bike, c.setup.Seat(one.Position)
	var words []string
	fitted, found := bike.At(one.Position)
	if found && seat.State != (machine.State{}) && seat.State.Is != graph.Sound {
		words, one.Stop = append(words, seat.State.Why), seat.State.Is == graph.Scrap
		if seat.Scrap.ID != "" {
			one.Part = seat.Scrap.ID
		}
		if fitted.Note != "" {
			words = append(words, fitted.Note)
		}
	}
	for _, moved := range bike.Moved {
		if moved.Position == one.Position {
			where := moved.Where()
			if moved.Note != "" {
				where += " (" + moved.Note + ")"
			}
			words, one.Stop = append(words, "hangs elsewhere than as built: "+where), true
		}
	}
	if planned, is := bike.PlannedAt(one.Position); is && planned.Part != "" && len(words) > 0 {
		words = append(words, "planned instead: "+string(planned.Part))
	}
	one.Says = words
}
