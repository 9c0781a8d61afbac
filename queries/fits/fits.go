package fits

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
)

// FitsQuestion asks where a part fits, or what fits on a machine. Part or On
// must be set; with both, the answer is about that part on those machines.
type FitsQuestion struct {
	Part     string // a number in any spelling
	On       string // see MachineQuestion
	Market   string // narrows to a market, with or without On
	Frame    string // narrows by frame number, with or without On
	Position string // with On only: as PositionFor reads it
	Assembly string // with On only: as AssemblyFor reads it
	// Twins also lists other revisions and colours of the same core. They are
	// never among the rows.
	Twins bool
	// All asks for every place of a part that is listed at more than manyPlaces.
	All bool
}

// FitsAnswer is the answer to a FitsQuestion.
type FitsAnswer struct {
	Part *evidence.PartLine `json:"part,omitempty"`
	On   *queries.Machines  `json:"on,omitempty"`
	// Rows are sorted by position; then those about a part by years, those
	// about a machine by verdict and way, the best first.
	Rows []FitsRow `json:"rows"`
	// Models stand in the place of rows for a part that is listed at so many
	// places that nobody reads them all: see FitsQuestion.All.
	Models []ModelRange `json:"models,omitempty"`
	// NotFollowed says of what not everything was looked at, and why.
	NotFollowed []string `json:"not_followed,omitempty"`
	// NotHeld is at how many places with a safety class, of all machines together,
	// what is listed was not held against measures, because they are too many.
	NotHeld int `json:"not_held,omitempty"`
	// Split lists the variants that were asked about together, when the answer
	// differs between them.
	Split []queries.SplitLine `json:"split,omitempty"`
	// Unsaid is what was asked about and nobody says anything of: it is
	// unknown, neither a yes nor a no.
	Unsaid []queries.Coverage `json:"unsaid,omitempty"`
	// Belongs are the positions of those machines at which a part of the kind
	// belongs, so that the joints there can be judged by asking for a swap.
	Belongs   []Place                `json:"belongs,omitempty"`
	Twins     []evidence.Twin        `json:"twins,omitempty"`
	Withdrawn []evidence.FindingLine `json:"withdrawn,omitempty"`
	Cautions  []queries.Caution      `json:"cautions,omitempty"`
	Verdicts  []VerdictCount         `json:"verdicts"`
}

// FitsRow is one part at one position on some variants.
type FitsRow struct {
	ID           string           `json:"id"` // see AnswerID
	Position     graph.PositionID `json:"position"`
	PositionName string           `json:"position_name"`
	Safety       graph.Safety     `json:"safety,omitempty"`
	// Part is empty when nobody says what sits at the position.
	Part           graph.PartID             `json:"part,omitempty"`
	Coverage       queries.Coverage         `json:"coverage"`
	Covers         string                   `json:"covers"` // the coverage in words: "2001-2003 eu, uk"
	Verdict        graph.Verdict            `json:"verdict"`
	Via            evidence.Via             `json:"via"`
	Why            string                   `json:"why"`
	Rank           evidence.Rank            `json:"rank,omitzero"` // of all voices for the verdict together
	Source         evidence.Source          `json:"source,omitzero"`
	OtherSources   []evidence.Source        `json:"other_sources,omitempty"`
	ContradictedBy []evidence.Contradiction `json:"contradicted_by,omitempty"`
	// Settle is the one measurement or look that would settle a contradiction.
	Settle string `json:"settle,omitempty"`
	settle string // the measurement that decides what was computed
	// SettledBy names the facts about the machine that tell whether the row
	// holds for it, when the model years of the row have variants for which it
	// does not: "market", "frame number".
	SettledBy []string          `json:"settled_by,omitempty"`
	Changes   []evidence.Change `json:"changes,omitempty"`
	Quantity  int               `json:"quantity,omitempty"`
	// Kits are kits that hold the part, with how many of it; given where a
	// machine was asked about. A kit has a row of its own when more is to be
	// said of it.
	Kits    []evidence.ContentLine `json:"kits,omitempty"`
	Schemes []string               `json:"schemes,omitempty"` // colour schemes it is limited to
	Steps   []evidence.Step        `json:"steps,omitempty"`
}

// Place is a position in short.
type Place struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
}

// VerdictCount counts rows.
type VerdictCount struct {
	Verdict graph.Verdict `json:"verdict"`
	Rows    int           `json:"rows"`
}

// Said answers what sources say fits, weighed against one another and against no
// measure. Errors are *NotFoundError, *AmbiguousError, a *QuestionError for a frame
// number that can't be one, or come from the reader.
func Said(ctx context.Context, r graph.Reader, q FitsQuestion) (FitsAnswer, error) {
	return Held(ctx, r, q, nil)
}

// Measures works out what parts come to at their places by what is measured.
type Measures interface {
	// Hold holds what sources say of a part at a place against what its measures
	// come to there, and gives all that is to be weighed: what was said, as far as it
	// speaks of this place, and what was computed.
	Hold(ctx context.Context, at Spot, said []evidence.Claim) ([]evidence.Claim, error)
	// Meeting names the places of a machine at which something is judged by what sits
	// at some places, those places among them.
	Meeting(ctx context.Context, on graph.VariantID, at []graph.PositionID) ([]graph.PositionID, error)
}

// mostMeasured is at how many places of how many machines together measures are
// worked out where no machine is named: each is a judgement of its own. Of more, the
// answer says so.
const mostMeasured = 40

// mostOfMachine is at how many places all is held against measures where a whole machine
// is named: a model year has some hundreds. Of a model of many years what the book says
// of parts that nobody measured otherwise is left as it stands, and the answer says so.
const mostOfMachine = 1000

// Held is Said with what the measures say weighed beside what sources say; without
// measures there is nothing to weigh. Whoever asks what fits asks swap.Fits, which measures.
func Held(ctx context.Context, r graph.Reader, q FitsQuestion, measures Measures) (FitsAnswer, error) {
	var a FitsAnswer
	g, err := groundOn(ctx, r, q)
	if err != nil {
		return a, err
	}
	a.On, g.measures = g.Machines, measures
	if q.Part != "" {
		err = g.aroundPart(ctx, q, &a)
	} else {
		err = g.aroundMachine(ctx, q, &a)
	}
	if err != nil {
		return a, err
	}
	if q.On == "" && !q.All && places(g) > manyPlaces {
		err = byModel(ctx, g, q, &a)
	} else {
		err = answerer{g}.finish(ctx, q, &a)
	}
	a.NotFollowed, a.NotHeld = g.notFollowed, g.notHeld
	return a, err
}

// groundOn is nothing read yet of a question but the machines that it is about.
func groundOn(ctx context.Context, r graph.Reader, q FitsQuestion) (*ground, error) {
	if q.Frame != "" {
		if _, _, err := measure.ParseFrame(q.Frame); err != nil {
			return nil, &queries.QuestionError{Asked: q.Frame, Err: err}
		}
	}
	g := newGround(r)
	g.market, g.frame = q.Market, q.Frame
	if q.On != "" {
		m, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame})
		if err != nil {
			return nil, err
		}
		g.Machines, g.frame = &m, m.Frame
	}
	return g, nil
}

// SaidAt is the rows of Said about one part at one place of one variant, for who
// judges it there and asks for no more: the part is taken by its identity, and nothing
// is read for the rest of the answer. The frame number may be empty.
func SaidAt(ctx context.Context, r graph.Reader, at Spot, frame string) ([]FitsRow, error) {
	q := FitsQuestion{Part: string(at.Part), On: string(at.Variant), Position: string(at.Position), Frame: frame}
	g, err := groundOn(ctx, r, q)
	if err != nil {
		return nil, err
	}
	var a FitsAnswer
	if err := g.aroundKnown(ctx, q, &a, at.Part); err != nil {
		return nil, err
	}
	err = answerer{g}.rowed(ctx, q, &a)
	return a.Rows, err
}

// IsBare reports whether a row calls a part usable and no measure of it, as far as
// they were worked out, says that it is not.
func (row FitsRow) IsBare() bool {
	return (row.Verdict == graph.Fits || row.Verdict == graph.FitsWithChanges) && row.computedNo() < 0
}

// computedNo is the place of the contradiction that was worked out from measures,
// -1 when there is none.
func (row FitsRow) computedNo() int {
	return slices.IndexFunc(row.ContradictedBy, func(c evidence.Contradiction) bool {
		return c.Via == evidence.ViaComputed && c.Verdict == graph.DoesNotFit
	})
}

// SafetyOpen reports whether something at a position with a safety class is
// unknown or does not fit, be it that only its measures say so: for a part, any
// row, and a place where it would belong while nobody says anything; for a
// machine, a position where no row is usable. Of what is told by models, no
// place was looked at, and of places that are too many none was measured: that is
// open.
func (a FitsAnswer) SafetyOpen() bool {
	if len(a.Models) > 0 || a.NotHeld > 0 {
		return true
	}
	if slices.ContainsFunc(a.Belongs, func(p Place) bool { return p.Safety != graph.SafetyNone }) {
		return true
	}
	usable := map[graph.PositionID]bool{}
	for _, row := range a.Rows {
		if row.IsBare() {
			usable[row.Position] = true
		}
	}
	return slices.ContainsFunc(a.Rows, func(row FitsRow) bool {
		return !row.IsBare() && row.Safety != graph.SafetyNone && (a.Part != nil || !usable[row.Position])
	})
}
