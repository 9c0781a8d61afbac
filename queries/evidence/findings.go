package evidence

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// FindingsQuestion asks for findings; every field narrows, empty ones don't.
type FindingsQuestion struct {
	Part     string // a number in any spelling
	On       string // as MachinesFor reads it
	Position string // a position without its model, or the end of one
	By       string
	Verdict  string
	// Withdrawn asks for those taken back; otherwise they are left out unless
	// All is set.
	Withdrawn, All bool
}

// FindingsAnswer lists findings.
type FindingsAnswer struct {
	Findings []FindingLine `json:"findings"` // sorted by position, part, date, identity
}

// Findings lists what people found. Errors are *NotFoundError, *AmbiguousError,
// or come from the reader.
func Findings(ctx context.Context, r graph.Reader, q FindingsQuestion) (FindingsAnswer, error) {
	all, err := r.Findings(ctx)
	if err != nil {
		return FindingsAnswer{}, err
	}
	keep, err := q.filter(ctx, r)
	if err != nil {
		return FindingsAnswer{}, err
	}
	all = lists.Kept(all, keep)
	slices.SortStableFunc(all, func(a, b graph.Finding) int {
		return strings.Compare(string(a.Position)+"\x00"+string(a.Part)+"\x00"+a.Date,
			string(b.Position)+"\x00"+string(b.Part)+"\x00"+b.Date)
	})
	lines, err := FindingLines(ctx, r, all)
	return FindingsAnswer{Findings: lines}, err
}

// FindingLines puts findings as answers have them, with their rank.
func FindingLines(ctx context.Context, r graph.Reader, findings []graph.Finding) ([]FindingLine, error) {
	e := NewEvidence()
	e.AddFindings(findings)
	if err := e.Load(ctx, r, nil); err != nil {
		return nil, err
	}
	return lists.Mapped(findings, func(f graph.Finding) FindingLine { return LineOfFinding(f, e.FindingVoice(f)) }), nil
}

// filter looks the names up once and gives what tells a finding asked for from
// others.
func (q FindingsQuestion) filter(ctx context.Context, r graph.Reader) (func(graph.Finding) bool, error) {
	var part graph.PartID
	var machines queries.Machines
	var err error
	if q.Part != "" {
		if part, err = queries.PartFor(ctx, r, q.Part); err != nil {
			return nil, err
		}
	}
	if q.On != "" {
		if machines, err = queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.On}); err != nil {
			return nil, err
		}
	}
	if q.Verdict != "" {
		if _, err := graph.ParseVerdict(q.Verdict); err != nil {
			return nil, &queries.QuestionError{Asked: q.Verdict, Err: err}
		}
	}
	return func(f graph.Finding) bool {
		switch {
		case part != "" && f.Part != part,
			q.By != "" && !strings.EqualFold(f.By, q.By),
			q.Verdict != "" && f.Verdict.String() != q.Verdict,
			q.On != "" && !slices.ContainsFunc(f.On, machines.Has),
			q.Position != "" && !atPosition(f.Position, q.Position):
			return false
		case q.Withdrawn:
			return f.Withdrawn != ""
		}
		return q.All || f.Withdrawn == ""
	}, nil
}

// atPosition reports whether a typed position is the one given: its identity,
// that without the model, its assembly, or its last word.
func atPosition(p graph.PositionID, typed string) bool {
	typed = strings.ToLower(strings.TrimSpace(typed))
	return typed == string(p) || typed == p.Local() || typed == p.Assembly().Local() || typed == queries.LastWord(p)
}
