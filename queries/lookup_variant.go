package queries

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
)

// Machines are the variants that a typed expression stands for.
type Machines struct {
	Asked    string            `json:"asked"`
	Model    graph.ModelID     `json:"model"`
	Variants []graph.Variant   `json:"-"`               // sorted, at least one
	On       []graph.VariantID `json:"variants"`        // their identities
	Frame    string            `json:"frame,omitempty"` // the frame number given, or that of the bike
	Bike     graph.BikeID      `json:"bike,omitempty"`  // when the expression named a user's own machine
}

// IDs are the identities of the variants, sorted.
func (m Machines) IDs() []graph.VariantID {
	return lists.Mapped(m.Variants, func(v graph.Variant) graph.VariantID { return v.ID })
}

// Has reports whether a variant is one of those that were named.
func (m Machines) Has(id graph.VariantID) bool {
	return slices.ContainsFunc(m.Variants, func(v graph.Variant) bool { return v.ID == id })
}

// PlacesOn are the places of a model that any of some of its variants has, sorted.
func PlacesOn(ctx context.Context, r graph.Reader, model graph.ModelID,
	on []graph.VariantID) ([]graph.Position, error) {
	positions, err := r.PositionsOf(ctx, model)
	return lists.Kept(positions, func(p graph.Position) bool {
		return slices.ContainsFunc(p.On, func(v graph.VariantID) bool { return slices.Contains(on, v) })
	}), err
}

// MachineQuestion names machines.
type MachineQuestion struct {
	// On is a model, a model year or range of years, or a variant, its fields
	// parted by slashes or spaces: "skerry-620", "skerry-620/2003",
	// "skerry-620/2001-2003", "skerry-620 2003 eu late"; or a user's own bike.
	On     string
	Market string // narrows to a market; may be empty
	Frame  string // narrows by frame number; may be empty
}

// MachinesFor finds the variants that an expression stands for, narrowed by
// market and frame number. A variant whose frame numbers are not known stays,
// unless another one is known to hold the number. Near names are in the
// *NotFoundError.
func MachinesFor(ctx context.Context, r graph.Reader, q MachineQuestion) (Machines, error) {
	fields := strings.FieldsFunc(q.On, func(c rune) bool { return c == '/' || c == ' ' })
	if len(fields) == 0 {
		return Machines{}, &NotFoundError{What: "model", Asked: q.On}
	}
	model, rest, err := modelFor(ctx, r, fields)
	if err != nil {
		return machinesOfBike(ctx, r, q, err)
	}
	m := Machines{Asked: q.On, Model: model, Frame: q.Frame}
	if m.Variants, err = variantsNamed(ctx, r, model, rest); err != nil {
		return Machines{}, err
	}
	m, err = m.narrowed(q)
	m.On = m.IDs()
	return m, err
}

// variantsNamed gives the variants that the fields behind the model name. A
// whole identity is asked for by itself: reading all variants of a model takes
// longer than the rest of many a question.
func variantsNamed(ctx context.Context, r graph.Reader, model graph.ModelID, fields []string) ([]graph.Variant, error) {
	if len(fields) > 1 {
		exact, err := r.Variants(ctx, graph.VariantID(string(model)+"/"+strings.Join(fields, "/")))
		if err != nil || len(exact) == 1 {
			return exact, err
		}
	}
	all, err := r.VariantsOf(ctx, model)
	if err != nil {
		return nil, err
	}
	return narrow(all, model, fields)
}

// modelFor reads the model from the front of the fields, as an identity or as
// the name it was sold under, and gives the fields behind it.
func modelFor(ctx context.Context, r graph.Reader, fields []string) (graph.ModelID, []string, error) {
	first := graph.ModelID(strings.ToLower(fields[0]))
	models, err := r.Models(ctx, first)
	if err != nil || len(models) == 1 {
		return first, fields[1:], err
	}
	if models, err = r.Models(ctx); err != nil {
		return "", nil, err
	}
	for n := len(fields); n > 0; n-- {
		key := graph.NumberKey(strings.Join(fields[:n], ""))
		for _, m := range models {
			if key == graph.NumberKey(string(m.ID)) || key == graph.NumberKey(m.Name) {
				return m.ID, fields[n:], nil
			}
		}
	}
	ids := lists.Mapped(models, func(m graph.Model) graph.ModelID { return m.ID })
	return "", nil, NotListed("model", fields[0], "", ids)
}

// machinesOfBike reads the expression as a user's own bike; when there is none,
// the fault found before stands.
func machinesOfBike(ctx context.Context, r graph.Reader, q MachineQuestion, fault error) (Machines, error) {
	missing := (*NotFoundError)(nil)
	if !errors.As(fault, &missing) {
		return Machines{}, fault
	}
	bikes, err := r.Bikes(ctx, graph.BikeID(strings.TrimSpace(q.On)))
	if err != nil {
		return Machines{}, err
	}
	if len(bikes) == 0 {
		return Machines{}, nearBikes(ctx, r, q.On, missing)
	}
	bike := bikes[0]
	variants, err := r.Variants(ctx, bike.Variant)
	if err != nil {
		return Machines{}, err
	}
	if len(variants) == 0 {
		return Machines{}, &NotFoundError{What: "variant", Asked: string(bike.Variant), Where: "for bike " + string(bike.ID)}
	}
	m := Machines{Asked: q.On, Model: bike.Variant.Model(), Variants: variants, Frame: bike.Frame, Bike: bike.ID}
	if q.Frame != "" {
		m.Frame = q.Frame
	}
	m.On = m.IDs()
	return m, nil
}

// nearBikes adds the near names of bikes to the fault that there is no such
// model.
func nearBikes(ctx context.Context, r graph.Reader, typed string, fault *NotFoundError) error {
	bikes, err := r.Bikes(ctx)
	if err != nil {
		return err
	}
	if len(bikes) > 0 {
		fault.What = "model or bike"
	}
	names := lists.Mapped(bikes, func(b graph.Bike) string { return string(b.ID) })
	fault.Near = append(fault.Near, graph.Nearest(typed, names, nearNames)...)
	if bikesToo := thereAre("bike", names); bikesToo != "" {
		fault.Hint = strings.TrimPrefix(fault.Hint+"; "+bikesToo, "; ")
	}
	return fault
}

// thereAre lists the names there are, the first few of many; empty without any.
func thereAre(what string, names []string) string {
	switch {
	case len(names) == 0:
		return ""
	case len(names) == 1:
		return "the only " + what + " is " + names[0]
	case len(names) > maxWordy:
		return fmt.Sprintf("there are %d %ss, such as %s: matewell list %[2]ss", len(names), what,
			strings.Join(names[:maxWordy], ", "))
	}
	return what + "s are " + strings.Join(names, ", ")
}

// narrow keeps the variants that the fields behind the model name: years,
// market, mark, in any order.
func narrow(all []graph.Variant, model graph.ModelID, fields []string) ([]graph.Variant, error) {
	left := all
	for _, field := range fields {
		years, err := measure.ParseYears(field)
		isYears := err == nil
		next := lists.Kept(left, func(v graph.Variant) bool {
			if isYears {
				return years.Has(v.Year)
			}
			return strings.EqualFold(v.Market, field) || strings.EqualFold(v.Mark, field)
		})
		if len(next) == 0 {
			return nil, noVariant(left, model, field, isYears)
		}
		left = next
	}
	if len(left) == 0 {
		return nil, &NotFoundError{What: "variant", Asked: string(model)}
	}
	return left, nil
}

// noVariant offers what the field could have been: the years, or the markets
// and marks of the years already chosen.
func noVariant(left []graph.Variant, model graph.ModelID, field string, isYears bool) error {
	var names []string
	for _, v := range left {
		if isYears {
			names = append(names, fmt.Sprint(v.Year))
			continue
		}
		names = append(names, v.Market)
		if v.Mark != "" {
			names = append(names, v.Mark)
		}
	}
	what := "market or mark"
	if isYears {
		what = "model year"
	}
	names = lists.Unique(names)
	err := &NotFoundError{What: what, Asked: field, Where: "of " + string(model), Near: names}
	if isYears && len(names) > 0 {
		err.Near = nil
		err.Where += fmt.Sprintf(", made %s to %s", names[0], names[len(names)-1])
	}
	return err
}

// narrowed applies market and frame number.
func (m Machines) narrowed(q MachineQuestion) (Machines, error) {
	if q.Market != "" {
		left := lists.Kept(m.Variants, func(v graph.Variant) bool { return strings.EqualFold(v.Market, q.Market) })
		if len(left) == 0 {
			markets := lists.Unique(lists.Mapped(m.Variants, func(v graph.Variant) string { return v.Market }))
			return Machines{}, &NotFoundError{What: "market", Asked: q.Market, Where: "of " + q.On, Near: markets}
		}
		m.Variants = left
	}
	if q.Frame == "" {
		return m, nil
	}
	holding, err := HoldingFrame(m.Variants, q.Frame)
	if err != nil {
		return Machines{}, err
	}
	if len(holding) == 0 {
		holding = lists.Kept(m.Variants, func(v graph.Variant) bool { return v.Frames.IsZero() })
	}
	if len(holding) == 0 {
		return Machines{}, noFrame(m.Variants, q)
	}
	m.Variants = holding
	return m, nil
}

// HoldingFrame gives the variants whose known frame numbers hold the frame. A
// number that can't be read is an error only when no variant holds it: the
// next prefix may be stamped with another count of digits.
func HoldingFrame(variants []graph.Variant, frame string) ([]graph.Variant, error) {
	var holding []graph.Variant
	var fault error
	for _, v := range variants {
		if v.Frames.IsZero() {
			continue
		}
		has, err := v.Frames.Has(frame)
		if err != nil {
			fault = err
		}
		if has {
			holding = append(holding, v)
		}
	}
	if len(holding) > 0 {
		return holding, nil
	}
	return nil, fault
}

func noFrame(variants []graph.Variant, q MachineQuestion) error {
	intervals := lists.Unique(lists.Mapped(variants, func(v graph.Variant) string { return v.Frames.String() }))
	where := "among those of " + q.On
	if len(intervals) <= nearNames {
		where += ", " + strings.Join(intervals, ", ")
	}
	return &NotFoundError{What: "frame number", Asked: q.Frame, Where: where}
}

// SplitLines lists the variants that an expression names.
func (m Machines) SplitLines() []SplitLine {
	return lists.Mapped(m.Variants, func(v graph.Variant) SplitLine {
		line := SplitLine{Variant: v.ID, Market: v.Market}
		if !v.Frames.IsZero() {
			line.Frames = v.Frames.String()
		}
		return line
	})
}

// SettledBy names the facts in which the variants differ: "model year",
// "market", "frame number".
func (m Machines) SettledBy() []string {
	years, markets, seasons := map[int]bool{}, map[string]bool{}, map[season]bool{}
	for _, v := range m.Variants {
		years[v.Year], markets[v.Market], seasons[seasonOf(v)] = true, true, true
	}
	var facts []string
	if len(years) > 1 {
		facts = append(facts, "model year")
	}
	if len(markets) > 1 {
		facts = append(facts, "market")
	}
	if len(seasons) < len(m.Variants) {
		facts = append(facts, "frame number")
	}
	return facts
}
