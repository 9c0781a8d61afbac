package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/loader"
	"matewell/loader/partslist"
	"matewell/queries/evidence"
)

// recordSheetAnswer is what "matewell record --from" prints as JSON.
type recordSheetAnswer struct {
	Sheet string `json:"sheet"`
	File  string `json:"file"` // findings file
	// Recorded are the findings, one for each part of the sheet.
	Recorded []evidence.FindingLine `json:"recorded"`
	// Known counts those that had been recorded before.
	Known int `json:"known,omitempty"`
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
func runRecordSheet(ctx context.Context, e env, opts recordOptions) error {
	e, file, err := findingsFile(e, opts.to)
	if err != nil {
		return err
	}
	body, err := disk.Read(opts.from)
	if err != nil {
		return fmt.Errorf("read %s: %w", opts.from, reason(err))
	}
	values, empty, err := readSheet(body)
	if err != nil {
		return fmt.Errorf("read %s: %w", opts.from, err)
	}
	r, err := open(ctx, e, opts.where)
	if err != nil {
		return err
	}
	defer r.Close()
	answer := recordSheetAnswer{Sheet: filepath.ToSlash(opts.from), File: filepath.ToSlash(file.Path),
		Recorded: []evidence.FindingLine{}, Left: []sheetLine{}, Empty: empty}
	findings, err := sheetFindings(ctx, e, r, opts, values, &answer)
	if err != nil {
		return err
	}
	if err := keepSheet(ctx, e, r, findings, file, &answer); err != nil {
		return err
	}
	if err := printAnswer(e, opts.format, answer, answer.page()); err != nil {
		return err
	}
	if len(answer.Left) > 0 {
		return errSaid
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
		return nil, 0, errors.New(`no line has the headings of a measuring sheet, "part", "feature", "dimension" and "value"; one is written by: matewell gaps --sheet FILE.csv`)
	}
	cell := func(row []string, heading string) string {
		if at := slices.Index(rows[head], heading); at >= 0 && at < len(row) {
			return row[at]
		}
		return ""
	}
	for i, row := range rows[head+1:] {
		v := sheetValue{head + i + 2, cell(row, "part"), cell(row, "feature"), cell(row, "dimension"), cell(row, "value"),
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

// sheetFindings makes one finding of all that was measured on a part.
func sheetFindings(ctx context.Context, e env, r opened, opts recordOptions, values []sheetValue,
	a *recordSheetAnswer) ([]graph.Finding, error) {
	byPart := map[string]*evidence.RecordQuestion{}
	var order []string
	for _, v := range values {
		if v.part == "" || v.feature == "" {
			a.Left = append(a.Left, sheetLine{v.line, v.whyLeft()})
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
	}
	var findings []graph.Finding
	for _, part := range order {
		if err := fillIn(e, byPart[part]); err != nil {
			return nil, err
		}
		f, err := evidence.FindingFor(ctx, r, *byPart[part])
		if err != nil {
			return nil, err
		}
		findings = append(findings, f)
	}
	return findings, nil
}

// whyLeft says where else a line goes that is about no part's dimension.
func (v sheetValue) whyLeft() string {
	if v.feature == "" && v.dim == "number" {
		_, local, _ := strings.Cut(v.pos, ":")
		return fmt.Sprintf("what sits at %s goes into the file of your machine, under found: %s: %s", local, local, v.value)
	}
	return "it names no part that it was measured on"
}

// keepSheet checks all findings, and only then writes them.
func keepSheet(ctx context.Context, e env, r opened, findings []graph.Finding, file loader.FindingFile,
	a *recordSheetAnswer) error {
	var texts []string
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
		texts = append(texts, text)
	}
	if len(texts) == 0 {
		return nil
	}
	text := strings.Join(texts, "")
	var probs diag.List
	if _, err := loadOver(ctx, e, r, "sheet.yaml", []byte("findings:\n"+text), &probs); err != nil {
		fmt.Fprintf(e.Err, "matewell: %v, nothing recorded\n", err)
		return errSaid
	}
	added, err := file.AddFindings(ctx, text)
	if err != nil {
		return notWritten(e, err, text)
	}
	fresh := slices.DeleteFunc(a.Recorded, func(f evidence.FindingLine) bool {
		return !slices.Contains(added,
			string(f.ID))
	})
	a.Known += len(a.Recorded) - len(fresh) // somebody recorded those in the meantime
	a.Recorded = fresh
	return nil
}

func (a recordSheetAnswer) page() page {
	said := fmt.Sprintf("Recorded %d findings from %s in %s.", len(a.Recorded), a.Sheet, a.File)
	if a.Known > 0 {
		said += fmt.Sprintf(" %d had been recorded before.", a.Known)
	}
	if a.Empty > 0 {
		said += fmt.Sprintf(" %d lines are not filled in.", a.Empty)
	}
	s := section{Lines: []string{said}, Table: findingTable(a.Recorded)}
	left := section{Title: "Not recorded", Table: table{Columns: []string{"line", "why"}}}
	for _, l := range a.Left {
		left.Table.add(fmt.Sprint(l.Line), l.Why)
	}
	if len(a.Left) == 0 {
		return page{s}
	}
	return page{s, left}
}
