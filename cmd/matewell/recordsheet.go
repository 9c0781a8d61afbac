package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/measure"
	"matewell/loader"
	"matewell/loader/partslist"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/gaps"
)

// recordSheetAnswer is what "matewell record --from" prints as JSON.
type recordSheetAnswer struct {
	Sheet string `json:"sheet"`
	File  string `json:"file"` // findings file
	// Recorded are the findings, one for each part of the sheet.
	Recorded []evidence.FindingLine `json:"recorded"`
	// Known counts those that had been recorded before.
	Known int `json:"known,omitempty"`
	// Elsewhere are lines that are about no part, each with the file it belongs in.
	Elsewhere []sheetLine `json:"elsewhere,omitempty"`
	// Left are lines with a value that was not recorded, each with why.
	Left []sheetLine `json:"left"`
	// Empty counts lines that nobody filled in.
	Empty int `json:"empty"`
}

// sheetLine is a line of a sheet that was not recorded.
type sheetLine struct {
	Line int    `json:"line"`
	Why  string `json:"why"`
}

// sheetValue is a filled line of a sheet.
type sheetValue struct {
	line                                 int
	part, feature, dim, value, with, pos string
}

// runRecordSheet takes in a measuring sheet that "matewell gaps --sheet" wrote
// and somebody filled in: one finding for each part, all of them in one step.
func runRecordSheet(ctx context.Context, e desk.Env, opts recordOptions) (err error) {
	file, err := shelf.FindingsTo(e, opts.to, &opts.Where)
	if err != nil {
		return err
	}
	body, err := desk.ReadInput(e, opts.from, partslist.MaxFile)
	if err != nil {
		return fmt.Errorf("read %s: %w", opts.from, desk.Reason(err))
	}
	values, empty, err := readSheet(body)
	if err != nil {
		return fmt.Errorf("read %s: %w", opts.from, err)
	}
	r, err := file.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	answer := recordSheetAnswer{Sheet: filepath.ToSlash(opts.from), File: filepath.ToSlash(file.Path),
		Recorded: []evidence.FindingLine{}, Left: []sheetLine{}, Empty: empty}
	findings, lines, err := sheetFindings(ctx, e, r, opts, values, &answer)
	if err != nil {
		return err
	}
	from := func(texts []string, of []graph.Finding) shelf.TypedAt {
		return typedSheet(filepath.ToSlash(opts.from), body, texts, of, lines)
	}
	if err := keepSheet(ctx, e, r, findings, file, from, &answer); err != nil {
		return err
	}
	if err := printAnswer(e, opts.format, answer, answer.page(), r.Left); err != nil {
		return err
	}
	if len(answer.Left) > 0 {
		return desk.ErrSaid
	}
	return nil
}

// readSheet reads the filled lines. Columns are told by their headings, in any
// order; a line without a value is only counted.
func readSheet(body []byte) (values []sheetValue, empty int, err error) {
	rows, err := partslist.Cells(body)
	if err != nil {
		return nil, 0, err
	}
	head := slices.IndexFunc(rows, func(row []string) bool {
		return slices.Contains(row, "value") && slices.Contains(row,
			"dimension")
	})
	if head < 0 {
		return nil, 0, errors.New(`no line has the headings of a measuring sheet, "part", "feature", "dimension" and ` +
			`"value"; one is written by: matewell gaps --sheet FILE.csv`)
	}
	cell := func(row []string, heading string) string {
		if at := slices.Index(rows[head], heading); at >= 0 && at < len(row) {
			return row[at]
		}
		return ""
	}
	for i, row := range rows[head+1:] {
		v := sheetValue{head + i + 2, cell(row, "part"), cell(row, "feature"), cell(row, "dimension"),
			withPoints(cell(row, "value")),
			cell(row, "with"), cell(row, "position")}
		switch {
		case v.dim == "":
		case v.value == "":
			empty++
		default:
			values = append(values, v)
		}
	}
	return values, empty, nil
}

const commaNumber = `\d+(?:,\d{1,2})?`

var oneMeasure = shelf.Lazily(`^(?:[-+]?` + commaNumber + `(?: ?[A-Za-z°"'%/² ]+)?|M` + commaNumber + ` ?x ?` +
	commaNumber +
	`)$`)

// withPoints writes one measure, or one thread, whose decimals stand behind a comma, as
// many spreadsheets have it, with a point. Three digits behind a comma may be thousands:
// such a value stays, and is refused.
func withPoints(value string) string {
	if !oneMeasure().MatchString(value) {
		return value
	}
	return strings.ReplaceAll(value, ",", ".")
}

// sheetFindings makes one finding of all that was measured on a part, and says
// in which lines of the sheet that stands.
func sheetFindings(ctx context.Context, e desk.Env, r shelf.Opened, opts recordOptions, values []sheetValue,
	a *recordSheetAnswer) ([]graph.Finding, map[graph.PartID][]sheetValue, error) {
	byPart := map[string]*evidence.RecordQuestion{}
	var order []string
	linesOf := map[string][]sheetValue{}
	for _, v := range values {
		if where, err := v.elsewhere(ctx, r); err != nil {
			return nil, nil, err
		} else if where != "" {
			a.Elsewhere = append(a.Elsewhere, sheetLine{v.line, where})
			continue
		}
		if v.part == "" {
			a.Left = append(a.Left, sheetLine{v.line, "it names no part that it was measured on"})
			continue
		}
		q := byPart[v.part]
		if q == nil {
			q = &evidence.RecordQuestion{Part: v.part, By: opts.By, Date: opts.Date, Method: opts.Method, Note: opts.Note,
				Origin: opts.Origin}
			byPart[v.part] = q
			order = append(order, v.part)
		}
		measured := v.feature + "." + v.dim + "=" + strings.ReplaceAll(v.value, ";", ",")
		if v.with != "" {
			measured += "; " + v.with
		}
		q.Measured = append(q.Measured, measured)
		linesOf[v.part] = append(linesOf[v.part], v)
	}
	var findings []graph.Finding
	lines := map[graph.PartID][]sheetValue{}
	for _, part := range order {
		if err := fillIn(e, byPart[part]); err != nil {
			return nil, nil, err
		}
		f, err := evidence.FindingFor(ctx, r, *byPart[part])
		if err != nil {
			return nil, nil, fmt.Errorf("line %d: %w", linesOf[part][0].line, err)
		}
		findings = append(findings, f)
		lines[f.Part] = append(lines[f.Part], linesOf[part]...)
	}
	return findings, lines, nil
}

// elsewhere says where a line goes that a sheet asks for and that is about no
// dimension of a part; empty for a line that is. An error comes from the reader.
func (v sheetValue) elsewhere(ctx context.Context, r shelf.Opened) (string, error) {
	model, local, _ := strings.Cut(v.pos, ":")
	need, isNeed := strings.CutPrefix(v.dim, "need ")
	switch {
	case v.feature == "" && v.dim == gaps.PartNumber:
		return fmt.Sprintf("what sits at %s goes into the file of your machine, under found: %s: %s", local, local,
			v.value), nil
	case v.feature == "run" || v.feature == "" && v.dim == "spare":
		key := v.dim
		if isNeed {
			key = "needs"
		}
		if _, err := measure.ParseQuantity(v.value, measure.Length); err != nil {
			return "", fmt.Errorf("line %d: %w", v.line, err)
		}
		runs, err := r.RunsAt(ctx, graph.PositionID(v.pos))
		name := "NAME-OF-THE-RUN"
		for _, run := range runs {
			if run.Line == graph.PositionID(v.pos) {
				name = queries.LocalName(string(run.ID))
			}
		}
		value := v.value
		if isNeed {
			value = fmt.Sprintf("{%s: %s}", need, value)
		}
		return fmt.Sprintf("a path belongs to the machine; into a file of your data folder: "+
			"models: {%s: {runs: {%s: {%s: %s}}}}", model, name, key, value), err
	case v.feature == "" && v.dim == "centre distance": // asked at the rear sprocket, and kept with the chain
		return fmt.Sprintf("it belongs to the machine; into a file of your data folder, with the shortest and the longest: "+
			"models: {%s: {runs: {CHAIN: {needs: {centre-extended: %s}}}}}, where CHAIN is the name of the chain's run; "+
			"\"625-655 mm\" says both", model, v.value), nil
	case v.feature == "":
		return fmt.Sprintf("%s: %s is no measure of a part, so no finding holds it; keep the sheet", v.dim, v.value), nil
	}
	return "", nil
}

// keepSheet checks all findings, and only then writes them.
func keepSheet(ctx context.Context, e desk.Env, r shelf.Opened, findings []graph.Finding, file shelf.FindingsPlace,
	from func(texts []string, of []graph.Finding) shelf.TypedAt, a *recordSheetAnswer) error {
	var texts []string
	var fresh []graph.Finding
	for _, f := range findings {
		text, err := loader.FindingText(f)
		if err != nil {
			return err
		}
		before, err := r.Findings(ctx, f.ID)
		if err != nil {
			return err
		}
		lines, err := evidence.FindingLines(ctx, r, []graph.Finding{f})
		if err != nil {
			return err
		}
		if len(before) > 0 {
			a.Known++
			continue
		}
		a.Recorded = append(a.Recorded, lines...)
		texts, fresh = append(texts, text), append(fresh, f)
	}
	if len(texts) == 0 {
		return nil
	}
	text := strings.Join(texts, "")
	if err := shelf.CheckTyped(ctx, e, r, text, from(texts, fresh)); err != nil {
		return err
	}
	file.Known = r.Mine
	added, err := file.Add(ctx, []string{text}, nil)
	if err != nil {
		return notWritten(e, err, text)
	}
	recorded := slices.DeleteFunc(a.Recorded, func(f evidence.FindingLine) bool {
		return !slices.Contains(added,
			string(f.ID))
	})
	a.Known += len(a.Recorded) - len(recorded) // somebody recorded those in the meantime
	a.Recorded = recorded
	return nil
}

func (a recordSheetAnswer) page() page.Page {
	said := fmt.Sprintf("Recorded %d findings from %s in %s.", len(a.Recorded), a.Sheet, a.File)
	if a.Known > 0 {
		said += fmt.Sprintf(" %d had been recorded before.", a.Known)
	}
	if a.Empty > 0 {
		said += fmt.Sprintf(" %d lines are not filled in.", a.Empty)
	}
	s := page.Section{Lines: []string{said}, Table: findingTable(a.Recorded)}
	pages := page.Page{s}
	for _, more := range []struct {
		title string
		lines []sheetLine
	}{{"Not for the findings", a.Elsewhere}, {"Not recorded", a.Left}} {
		part := page.Section{Title: more.title, Table: page.Table{Columns: []string{"line", "why"}}}
		for _, l := range more.lines {
			part.Table.Add(fmt.Sprint(l.Line), l.Why)
		}
		if len(more.lines) > 0 {
			pages = append(pages, part)
		}
	}
	return pages
}
