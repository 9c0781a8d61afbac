package differ

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Strips are the places of a model over all its years, for one market.
type Strips struct {
	Model  graph.ModelID
	Market string
	// On are the variants, oldest first; each has a column.
	On     []graph.Variant
	Places []Strip // by position; only those that differ somewhere
}

// Strip is one place over the years.
type Strip struct {
	Position string // without its model
	Name     string
	Safety   graph.Safety
	Parts    []graph.PartID // by variant; empty where the place is not there or nobody says
	Steps    []Step         // between each variant and the next
}

// Step is how a part differs from that of the next variant.
type Step struct {
	Class Class
	// Onward and Back say whether the older part goes on the newer machine, and the
	// newer part on the older one, as they are or with changes; both are false where
	// nobody knows, and then Known is.
	Onward, Back, Known bool
	WithChanges         bool
}

// StripsOf compares each variant of the model that A belongs to with the next, in
// the market asked for, else the first of A's. Errors are those of Differ; a B of
// another model is a *QuestionError.
func StripsOf(ctx context.Context, r graph.Reader, q DifferQuestion) (Strips, error) {
	l := machine.NewLibrary(r)
	r = l.Reader()
	var machines []queries.Machines
	for _, on := range []string{q.A, q.B} {
		m, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: on, Market: q.Market})
		if err != nil {
			return Strips{}, err
		}
		machines = append(machines, m)
	}
	if machines[0].Model != machines[1].Model {
		return Strips{}, &queries.QuestionError{Asked: q.B, Err: errors.New(
			"a picture of the years is of one model, and this is another than " + string(machines[0].Model))}
	}
	s := Strips{Model: machines[0].Model, Market: machines[0].Variants[0].Market}
	all, err := r.VariantsOf(ctx, s.Model)
	if err != nil {
		return s, err
	}
	s.On = lists.Kept(all, func(v graph.Variant) bool { return v.Market == s.Market })
	slices.SortStableFunc(s.On, func(a, b graph.Variant) int {
		return cmp.Or(cmp.Compare(a.Year, b.Year), cmp.Compare(a.Frames.From, b.Frames.From), cmp.Compare(a.Mark, b.Mark))
	})
	at := map[string]*Strip{}
	for i := range len(s.On) - 1 {
		q.A, q.B, q.Market = string(s.On[i].ID), string(s.On[i+1].ID), ""
		answer, err := differ(ctx, l, q)
		if missing := (*queries.NotFoundError)(nil); errors.As(err, &missing) && missing.Where != "" {
			continue // neither of the two has the place
		}
		if err != nil {
			return s, err
		}
		for _, row := range answer.Rows {
			s.add(at, row, i)
		}
	}
	for _, name := range lists.KeysOf(at) {
		if slices.ContainsFunc(at[name].Steps, func(st Step) bool { return st.Class != ClassSame && st.Class != "" }) {
			s.Places = append(s.Places, *at[name])
		}
	}
	return s, nil
}

// add notes what a row says of a variant and the next.
func (s Strips) add(at map[string]*Strip, row DifferRow, i int) {
	strip := at[row.Position]
	if strip == nil {
		strip = &Strip{Position: row.Position, Name: row.PositionName, Safety: row.Safety,
			Parts: make([]graph.PartID, len(s.On)), Steps: make([]Step, len(s.On)-1)}
		at[row.Position] = strip
	}
	if row.A != nil {
		strip.Parts[i] = row.A.Part
	}
	if row.B != nil {
		strip.Parts[i+1] = row.B.Part
	}
	if strip.Steps[i].Class == "" || strip.Steps[i].Class.worst(row.Class) == row.Class {
		strip.Steps[i] = stepOf(row)
	}
}

func stepOf(row DifferRow) Step {
	way, changes := strings.CutSuffix(row.Interchange, ", with changes")
	s := Step{Class: row.Class, Known: way != "" && way != "unknown" && !strings.HasPrefix(way, "not "),
		WithChanges: changes}
	switch {
	case row.Class == ClassSame, way == "both":
		s.Onward, s.Back, s.Known = true, true, true
	case strings.HasPrefix(way, "A on B"):
		s.Onward = true
	case strings.HasPrefix(way, "B on A"):
		s.Back = true
	}
	return s
}
