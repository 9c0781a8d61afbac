package part

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/trade"
)

// IdentifyQuestion asks which variant a machine is. Frame, or On, must be set.
type IdentifyQuestion struct {
	Frame  string // as stamped: a maker's own form, or 17 characters; or the name of a bike of one's own
	On     string // model, year, market as far as known, as MachineQuestion.On
	Market string
}

// IdentifyAnswer lists the variants that the machine may be.
type IdentifyAnswer struct {
	Frame      string      `json:"frame,omitempty"`
	VIN        *VINLine    `json:"vin,omitempty"`
	Candidates []Candidate `json:"candidates"` // sorted
	// Settle names the facts that would tell the candidates apart; empty when
	// there is one.
	Settle []SettleFact `json:"settle,omitempty"`
	// Near are intervals of the same prefix when no interval holds the number.
	Near  []string `json:"near,omitempty"`
	Notes []string `json:"notes,omitempty"`
	// Bikes are the user's own machines that have the frame number, sorted.
	Bikes []OwnBike `json:"bikes,omitempty"`
}

// OwnBike is a machine of the user's own, and what it is recorded as.
type OwnBike struct {
	Bike    graph.BikeID    `json:"bike"`
	Variant graph.VariantID `json:"variant"`
}

// Candidate is a variant that the machine may be.
type Candidate struct {
	Variant graph.VariantID   `json:"variant"`
	Model   graph.ModelID     `json:"model"`
	Year    int               `json:"year"` // model year
	Market  string            `json:"market"`
	Mark    string            `json:"mark,omitempty"`
	Frames  string            `json:"frames,omitempty"` // empty when not known
	Schemes []string          `json:"schemes,omitempty"`
	Why     string            `json:"why"`
	Sources []evidence.Source `json:"sources,omitempty"`
}

// SettleFact is a fact about the machine, with what each value of it leads to.
type SettleFact struct {
	Fact string   `json:"fact"` // "frame number", "market", "model year"
	Says []string `json:"says"` // "up to TK6A-012000: skerry-620/2003/eu/early"
}

// VINLine is what a frame number of 17 characters says by itself.
type VINLine struct {
	Text       string `json:"text"`
	YearLetter string `json:"year_letter"`
	Years      []int  `json:"years"` // both that the letter can mean
	CheckDigit string `json:"check_digit"`
	CheckHolds bool   `json:"check_holds"`
	Limits     string `json:"limits"` // what it can't tell
}

// Notes that are more than one question's.
const (
	noteYear  = "A model year is neither the year of building nor that of registration."
	noteCheck = "The check digit does not hold: a misread number, unless the machine was not made for North America."
)

// Identify answers which variant a machine is. Errors are *NotFoundError, or
// come from the reader.
func Identify(ctx context.Context, r graph.Reader, q IdentifyQuestion) (IdentifyAnswer, error) {
	a := IdentifyAnswer{Frame: strings.TrimSpace(q.Frame), Candidates: []Candidate{}}
	if a.Frame == "" && q.On == "" {
		return a, &queries.NotFoundError{What: "frame number or model", Asked: ""}
	}
	if err := a.readBikes(ctx, r, &q); err != nil {
		return a, err
	}
	variants, wider, err := variantsToSearch(ctx, r, q)
	if err != nil {
		return a, err
	}
	found := variants
	if a.Frame != "" {
		found = a.byFrame(variants, wider)
	}
	if err := a.addCandidates(ctx, r, found); err != nil {
		return a, err
	}
	a.Settle = settleFacts(found)
	return a, nil
}

// readBikes finds the user's own machines that the question is about: one that is named
// brings its frame number along.
func (a *IdentifyAnswer) readBikes(ctx context.Context, r graph.Reader, q *IdentifyQuestion) error {
	bikes, err := r.Bikes(ctx)
	if err != nil {
		return err
	}
	for _, b := range bikes {
		switch {
		case q.On == string(b.ID) && a.Frame == "", q.On == "" && a.Frame == string(b.ID):
			q.On, a.Frame = string(b.ID), b.Frame
		case a.Frame == "" || graph.NumberKey(b.Frame) != graph.NumberKey(a.Frame):
			continue
		}
		a.Bikes = append(a.Bikes, OwnBike{b.ID, b.Variant})
	}
	q.Frame = a.Frame
	return nil
}

// variantsToSearch gives the variants that On names, and all of its model;
// without On, those of every model.
func variantsToSearch(ctx context.Context, r graph.Reader,
	q IdentifyQuestion) (named, wider []graph.Variant, err error) {
	if q.On == "" {
		models, err := r.Models(ctx)
		if err != nil || len(models) == 0 {
			return nil, nil, err
		}
		all, err := r.VariantsOf(ctx, lists.Mapped(models, func(m graph.Model) graph.ModelID { return m.ID })...)
		if q.Market != "" {
			named = lists.Kept(slices.Clone(all), func(v graph.Variant) bool { return strings.EqualFold(v.Market, q.Market) })
			return named, all, err
		}
		return all, all, err
	}
	m, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market})
	if err != nil {
		return nil, nil, err
	}
	if q.Frame == "" {
		return m.Variants, m.Variants, nil
	}
	wider, err = r.VariantsOf(ctx, m.Model)
	return m.Variants, wider, err
}

// byFrame finds the variants that hold the frame number: by interval, else by
// the model-year letter of a 17-character number. When no interval holds the number,
// those variants stay whose frame numbers nobody recorded: each of them may be it.
func (a *IdentifyAnswer) byFrame(variants, wider []graph.Variant) []graph.Variant {
	holding, fault := queries.HoldingFrame(variants, a.Frame)
	if len(holding) == 0 {
		if holding, _ = queries.HoldingFrame(wider, a.Frame); len(holding) > 0 {
			a.Notes = append(a.Notes, fmt.Sprintf("The frame number belongs to another variant than the one named. %s",
				noteYear))
		}
	}
	vin, isVIN := a.readVIN()
	switch {
	case len(holding) > 0:
		return holding
	case isVIN:
		return lists.Kept(slices.Clone(variants), func(v graph.Variant) bool {
			return v.Frames.IsZero() && slices.Contains(vin.Years, v.Year)
		})
	case fault != nil:
		a.Notes = append(a.Notes, fault.Error())
	}
	a.Notes = append(a.Notes, "No interval of frame numbers on record holds this one.")
	a.Near = intervalsNear(wider, a.Frame)
	return lists.Kept(slices.Clone(variants), func(v graph.Variant) bool { return v.Frames.IsZero() })
}

// vinLength is how many characters a vehicle identification number has; a
// number of another length is a maker's own.
const vinLength = 17

func (a *IdentifyAnswer) readVIN() (trade.VIN, bool) {
	if len(graph.NumberKey(a.Frame)) != vinLength {
		return trade.VIN{}, false
	}
	vin, err := trade.ParseVIN(graph.NumberKey(a.Frame))
	if err != nil {
		a.Notes = append(a.Notes, err.Error())
		return vin, false
	}
	a.VIN = &VINLine{Text: vin.Text, YearLetter: vin.YearLetter, Years: vin.Years, CheckDigit: vin.CheckDigit,
		CheckHolds: vin.CheckHolds, Limits: trade.VINLimits}
	if !vin.CheckHolds {
		a.Notes = append(a.Notes, noteCheck)
	}
	return vin, true
}

// intervalsNear are the intervals with the prefix of the frame number. Where none has it,
// those that would hold the number with the letters put before it that are missing: on
// papers the first ones are often left out.
func intervalsNear(variants []graph.Variant, frame string) []string {
	var near, short []string
	key := graph.NumberKey(frame)
	for _, v := range variants {
		prefix := graph.NumberKey(v.Frames.Prefix)
		if v.Frames.IsZero() || prefix == "" || key == "" {
			continue
		}
		text := fmt.Sprintf("%s: %s", v.Frames, v.ID)
		switch {
		case strings.HasPrefix(key, prefix):
			near = append(near, text)
		default:
			if whole := completed(v.Frames, key); whole != "" {
				short = append(short, text+", if it is "+whole)
			}
		}
	}
	if len(near) == 0 {
		near = short
	}
	return lists.Unique(near)
}

// completed is a frame number with the start of an interval's prefix before it, when the
// interval then holds it; empty when it does not.
func completed(frames measure.Frames, key string) string {
	prefix := graph.NumberKey(frames.Prefix)
	for at := 1; at <= len(prefix); at++ {
		rest, ok := strings.CutPrefix(key, prefix[at:])
		if !ok || rest == "" || strings.Trim(rest, "0123456789") != "" {
			continue
		}
		if whole := frames.Prefix + rest; hasFrame(frames, whole) {
			return whole
		}
	}
	return ""
}

func hasFrame(frames measure.Frames, frame string) bool {
	has, err := frames.Has(frame)
	return err == nil && has
}

func (a *IdentifyAnswer) addCandidates(ctx context.Context, r graph.Reader, found []graph.Variant) error {
	e := evidence.NewEvidence()
	var cites []graph.Cite
	for _, v := range found {
		cites = append(cites, v.Said...)
	}
	if err := e.Load(ctx, r, cites); err != nil {
		return err
	}
	for _, v := range found {
		c := Candidate{Variant: v.ID, Model: v.Model, Year: v.Year, Market: v.Market, Mark: v.Mark, Schemes: v.Schemes,
			Sources: evidence.Distinct(e.Voices(v.Said, &v)), Why: "named"}
		switch {
		case v.Frames.IsZero() && a.VIN != nil && slices.Contains(a.VIN.Years, v.Year):
			c.Why = fmt.Sprintf("letter %s may mean %d; its frame numbers are not recorded", a.VIN.YearLetter, v.Year)
		case v.Frames.IsZero() && a.Frame != "":
			c.Why = "its frame numbers are not recorded"
		case a.Frame != "":
			c.Why = "its frame numbers hold " + a.Frame
		}
		if !v.Frames.IsZero() {
			c.Frames = v.Frames.String()
		}
		a.Candidates = append(a.Candidates, c)
	}
	return nil
}

// settleFacts names what tells candidates apart: the model year, then the
// market, then the frame number.
func settleFacts(found []graph.Variant) []SettleFact {
	if len(found) < 2 {
		return nil
	}
	var facts []SettleFact
	add := func(fact string, value func(graph.Variant) string) {
		says := map[string][]string{}
		for _, v := range found {
			says[value(v)] = append(says[value(v)], string(v.ID))
		}
		if len(says) < 2 {
			return
		}
		f := SettleFact{Fact: fact}
		for _, key := range lists.KeysOf(says) {
			f.Says = append(f.Says, key+": "+strings.Join(says[key], ", "))
		}
		facts = append(facts, f)
	}
	add("model", func(v graph.Variant) string { return string(v.Model) })
	add("model year", func(v graph.Variant) string { return fmt.Sprint(v.Year) })
	add("market", func(v graph.Variant) string { return v.Market })
	add("frame number", func(v graph.Variant) string {
		if v.Frames.IsZero() {
			return "not recorded"
		}
		return v.Frames.String()
	})
	return facts
}
