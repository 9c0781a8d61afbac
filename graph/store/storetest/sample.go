package storetest

import (
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// Sample is a small data set in which every field of every domain type is
// filled at least once, with several sources where a field allows them. All of
// it is invented; no number in it means anything.
func Sample() graph.Facts {
	f := graph.Facts{}
	sampleSources(&f)
	sampleModels(&f)
	sampleParts(&f)
	sampleJoints(&f)
	sampleFindings(&f)
	return f
}

func at(file string, line, col int) diag.Pos { return diag.Pos{File: file, Line: line, Col: col} }

func cite(source graph.SourceID, file string, line, col int) graph.Cite {
	return graph.Cite{Source: source, Pos: at(file, line, col)}
}

func reading(text, method string, c graph.Cite) graph.Reading {
	return graph.Reading{Text: text, Method: method, Cite: c}
}

func sampleSources(f *graph.Facts) {
	f.Sources = []graph.Source{
		{ID: "bench-notes", Kind: graph.SourceMeasurement, Title: "Notes from the bench", Pos: at("demo/sources.yaml", 9, 3)},
		{ID: "parts-list-2001", Kind: graph.SourcePartsList, Title: "Skerry 620 parts list, first edition", Date: "2001",
			Pos: at("demo/sources.yaml", 2, 3)},
		{ID: "parts-list-2003", Kind: graph.SourcePartsList, Title: "Skerry 620 parts list, second edition", Date: "2003-02",
			Scope: graph.Scope{Years: measure.Years{From: 2001, To: 2003}, Markets: []string{"eu", "uk"},
				Marks:  []string{"early", "late"},
				Frames: measure.Frames{Prefix: "TK6A", From: 101, To: 15000, Width: 6}},
			Origin: "parts-list-2001", Pos: at("demo/sources.yaml", 5, 3)},
	}
	f.Brands = []graph.Brand{
		{ID: "Ny & Ås", Said: []graph.Cite{{Source: "bench-notes"}}},
		{ID: "Tarnholt", Form: graph.NumberForm{Core: "999.9999", Revision: "a", Colour: "/aa"},
			Said: []graph.Cite{cite("parts-list-2001", "demo/brands.yaml", 3, 3), cite("parts-list-2003", "demo/brands.yaml", 4,
				3)}},
	}
	f.Kinds = []graph.Kind{
		{ID: "caliper", Name: "brake caliper", Said: []graph.Cite{cite("bench-notes", "demo/kinds.yaml", 3, 3)},
			Is: "presses the pads on the disc", Safety: graph.SafetyBrake, Joins: true,
			Features: []graph.KindFeature{{Name: "finish", Kind: "finish", May: true, Direct: true},
				{Name: "mount", Kind: "caliper-mount", Informs: []graph.Informing{{Dim: "hole", Why: "only tells the bolt"},
					{Dim: "thread", Why: "is that of the leg"}}}}},
		{ID: "hose", Name: "brake hose", Said: []graph.Cite{cite("bench-notes", "demo/kinds.yaml", 9, 3)}},
	}
}

func sampleModels(f *graph.Facts) {
	said := []graph.Cite{cite("parts-list-2003", "demo/models/skerry-620.yaml", 4, 5)}
	both := []graph.Cite{cite("parts-list-2001", "demo/models/skerry-620.yaml", 6, 5), cite("parts-list-2003",
		"demo/models/skerry-620.yaml", 4, 5)}
	early, late := graph.VariantID("skerry-620/2003/eu/early"), graph.VariantID("skerry-620/2003/eu/late")
	f.Models = []graph.Model{{ID: "skerry-620", Maker: "Tarnholt", Name: "Skerry 620", Said: both}}
	f.Variants = []graph.Variant{
		{ID: "skerry-620/2001/eu", Model: "skerry-620", Year: 2001, Market: "eu", Said: both},
		{ID: early, Model: "skerry-620", Year: 2003, Market: "eu", Mark: "early", Said: said,
			Frames: measure.Frames{Prefix: "TK6A", To: 12000, Width: 6}, Schemes: []string{"ash", "kelp", "rust"}},
		{ID: late, Model: "skerry-620", Year: 2003, Market: "eu", Mark: "late", Said: said,
			Frames: measure.Frames{Prefix: "TK6A", From: 12001, Width: 6}},
	}
	f.Assemblies = []graph.Assembly{
		{ID: "skerry-620:fork", Model: "skerry-620", Name: "Fork", Said: said},
		{ID: "skerry-620:front-brake", Model: "skerry-620", Name: "Front brake", Said: both},
	}
	f.Positions = []graph.Position{
		{ID: "skerry-620:fork/leg-left", Assembly: "skerry-620:fork", Model: "skerry-620", Name: "fork leg, left",
			Kind: "fork-leg",
			Side: "left", Quantity: 1, On: []graph.VariantID{early, late}, Said: said},
		{ID: "skerry-620:front-brake/caliper-left", Assembly: "skerry-620:front-brake", Model: "skerry-620",
			Name: "caliper, left", Kind: "caliper",
			Side: "left", Index: 1, Quantity: 1, Safety: graph.SafetyBrake, Renew: true,
			Road: []string{"horn", "tail lamp"}, Said: both,
			Takes: []graph.Consumable{{What: "thread-lock", Grade: "medium strength"}, {What: "grease",
				Amount: []graph.Reading{reading("2 cm3", "", said[0])}}},
			After: []graph.PositionID{"skerry-620:fork/leg-left"}, On: []graph.VariantID{"skerry-620/2001/eu", early, late}},
		{ID: "skerry-620:front-brake/hose", Assembly: "skerry-620:front-brake", Model: "skerry-620", Name: "brake hose",
			Kind:     "hose",
			Quantity: 2, On: []graph.VariantID{early}, Said: said},
	}
	f.Fitments = []graph.Fitment{
		{ID: "fit-1", Position: "skerry-620:front-brake/caliper-left", Part: "Tarnholt 207.4418b", Quantity: 1,
			On: []graph.VariantID{"skerry-620/2001/eu", early}, Scheme: "kelp", Note: "with \"new\" seals\n\tand pins",
			Said: both},
		{ID: "fit-2", Position: "skerry-620:front-brake/caliper-left", Part: "Tarnholt 311.0042a", Quantity: 1,
			On: []graph.VariantID{late}, Said: said},
		{ID: "fit-3", Position: "skerry-620:front-brake/hose", Part: "Ny & Ås 90/25#4", Quantity: 2,
			On: []graph.VariantID{early}, Said: said},
	}
}

func sampleParts(f *graph.Facts) {
	list, notes := cite("parts-list-2003", "demo/parts/brakes.yaml", 12, 7), cite("bench-notes", "demo/parts/brakes.yaml",
		14, 7)
	f.Parts = []graph.Part{
		{ID: "Ny & Ås 90/25#4", Brand: "Ny & Ås", Number: graph.Number{Text: "90/25#4", Core: "90/25#4"}, Kind: "hose",
			Name: "hose", Said: []graph.Cite{list},
			Aliases: []graph.Alias{{Type: graph.AliasSize, Text: "90 cm"}}},
		{ID: "Tarnholt 207.4418b", Brand: "Tarnholt", Number: graph.Number{Text: "207.4418b", Core: "207.4418",
			Revision: "b"},
			Kind: "caliper", Name: "caliper, left, two-piston", Said: []graph.Cite{notes, list}, Note: "åpen \\ «lukket»",
			Aliases: []graph.Alias{{Type: graph.AliasCasting, Text: "TK 441"}, {Type: graph.AliasSupplier, Text: "S-9"}},
			Price:   []graph.Reading{reading("35 EUR", "", notes), reading("39 EUR", "", list)},
			Features: []graph.Feature{
				{Name: "finish", Kind: "finish"},
				{Name: "mount", Kind: "caliper-mount", Dims: map[string][]graph.Reading{
					"spacing": {reading("84 mm", "vernier caliper", notes), reading("84.2 mm", "micrometer", cite("bench-notes",
						"demo/parts/brakes.yaml", 15, 7)),
						reading("84 mm +0/-0.1", "", list)},
					"style": {reading("axial", "", list)},
				}},
			}},
		{ID: "Tarnholt 311.0042a", Brand: "Tarnholt", Number: graph.Number{Text: "311.0042a/kr", Core: "311.0042",
			Revision: "a", Colour: "kr"},
			Kind: "kit", Name: "caliper kit", Said: []graph.Cite{list}, Matched: true, Gone: true,
			Contains: []graph.Content{{Part: "Ny & Ås 90/25#4", Quantity: 1}, {Part: "Tarnholt 207.4418b", Quantity: 2}}},
	}
	f.Supersessions = []graph.Supersession{{ID: "sup-1", Old: "Tarnholt 207.4418b", New: "Tarnholt 311.0042a",
		NewOnOld: graph.Yes, OldOnNew: graph.No,
		Scope: graph.Scope{Years: measure.Years{From: 2003, To: 2003}, Frames: measure.Frames{Prefix: "TK6A",
			From: 12001, Width: 6}},
		Companions: []graph.Content{{Part: "Ny & Ås 90/25#4", Quantity: 2}}, Reason: "hose too short", Date: "2003-06-01",
		Said: []graph.Cite{list}}}
}

func sampleJoints(f *graph.Facts) {
	list, notes := cite("parts-list-2003", "demo/models/skerry-620.yaml", 40, 7), cite("bench-notes",
		"demo/models/skerry-620.yaml", 41, 9)
	caliper, hose, leg := graph.PositionID("skerry-620:front-brake/caliper-left"),
		graph.PositionID("skerry-620:front-brake/hose"), graph.PositionID("skerry-620:fork/leg-left")
	on := []graph.VariantID{"skerry-620/2003/eu/early", "skerry-620/2003/eu/late"}
	f.Joints = []graph.Joint{{ID: "skerry-620:caliper-on-leg", Model: "skerry-620", A: graph.FeatureRef{Position: caliper,
		Feature: "mount"},
		B: graph.FeatureRef{Position: leg, Feature: "caliper-lug"}, Fasteners: []graph.PositionID{hose},
		Renew:  []graph.PositionID{hose},
		Torque: []graph.Reading{reading("a N m", "read", notes), reading("b N m", "", list)}, Allow: "0.02-0.30 mm", On: on,
		Said: []graph.Cite{list}}}
	f.Runs = []graph.Run{{ID: "skerry-620:brake-hose", Model: "skerry-620", Line: hose,
		From: graph.FeatureRef{Position: leg, Feature: "outlet"},
		To:   graph.FeatureRef{Position: caliper, Feature: "port"}, On: on, Said: []graph.Cite{list},
		Needs: []graph.RunNeed{
			{Lock: "left", Fork: "extended", Length: []graph.Reading{reading("610 mm", "steel tape", notes)}},
			{Lock: "left", Fork: "compressed", Length: []graph.Reading{reading("570 mm", "", notes), reading("575 mm", "",
				list)}},
			{Lock: "centre", Fork: "extended", Length: []graph.Reading{reading("590 mm", "", list)}},
			{Lock: "right", Fork: "extended", Length: []graph.Reading{reading("640 mm", "", list)}}},
		Inner: []graph.Reading{reading("92 mm", "", list)}, Spare: []graph.Reading{reading("20-30 mm", "", list)},
		MovedBy:      []graph.FeatureRef{{Position: caliper, Feature: "place"}, {Position: leg, Feature: "place"}},
		LengthenedBy: []graph.FeatureRef{{Position: leg, Feature: "length"}}, Guides: []string{"steering head clip",
			"lower yoke clip", "a third"},
		Hot: []graph.PositionID{leg, caliper}, Gap: []graph.Reading{reading("25 mm", "steel rule", notes)},
		LeastGap: []graph.Reading{reading("20 mm", "", list)}}}
	f.Circuits = []graph.Circuit{{ID: "skerry-620:front-brake", Model: "skerry-620", Carries: "brake fluid",
		Feeds: []graph.PositionID{leg},
		Fed:   []graph.PositionID{hose, caliper}, Members: []graph.PositionID{leg, caliper, hose}, Wheel: "front",
		Fill: []graph.Reading{reading("80 cm3", "", list)}, On: on, Said: []graph.Cite{list}}}
	f.Stacks = []graph.Stack{{ID: "skerry-620:front-axle", Model: "skerry-620", Within: graph.FeatureRef{Position: leg,
		Feature: "gap"},
		Row: []graph.FeatureRef{{Position: leg, Feature: "row"}, {Position: caliper, Feature: "row"}, {Position: leg,
			Feature: "row"}},
		Centre: graph.FeatureRef{Position: caliper, Feature: "row"}, On: on, Said: []graph.Cite{list}}}
}

func sampleFindings(f *graph.Facts) {
	f.Findings = []graph.Finding{
		{ID: "f-0031", Part: "Tarnholt 207.4418b", Position: "skerry-620:front-brake/caliper-left",
			On:   []graph.VariantID{"skerry-620/2003/eu/late"},
			Bike: "winter-project", Verdict: graph.FitsWithChanges, Method: graph.MethodMeasured, Date: "2024-05-11",
			By: "gull", Origin: "f-0007",
			Changes: []graph.Change{{Do: "shim the caliper outward", Effort: graph.EffortDrillShim, Part: "Ny & Ås 90/25#4"},
				{Do: "bleed"}},
			Measured: []graph.Measured{{Feature: "port", Dim: "thread", Text: "M10x1.25", With: "thread gauge"},
				{Feature: "mount", Dim: "spacing", Text: "84 mm"}},
			Photos: []string{"caliper-left-2.jpg", "caliper-left-1.jpg"}, Note: "tight", Withdrawn: "wrong part",
			WithdrawnOn: "2024-06-01",
			Source:      "bench-notes", Pos: at("demo/findings/f.yaml", 2, 5)},
		{ID: "f-0032", Part: "Tarnholt 311.0042a", Verdict: graph.DoesNotFit, Pos: at("demo/findings/f.yaml", 30, 5)},
	}
	step := func(text string) graph.JobLine {
		return graph.JobLine{Text: text, Said: []graph.Cite{f.Joints[0].Said[0]}}
	}
	f.Jobs = []graph.Job{{ID: "front-caliper", Name: "Rebuild the front caliper",
		Places: []graph.PositionID{"skerry-620:front-brake/caliper-left"},
		Kits:   []graph.JobPart{{JobLine: step("seal kit"), Part: "Ny & Ås 90/25#4", Quantity: 1}},
		Parts: []graph.JobPart{{JobLine: graph.JobLine{Text: "piston seal",
			Scope: graph.Scope{Years: measure.Years{From: 2002, To: 2003},
				Markets: []string{"eu"}}, Said: f.Joints[0].Said}, Feature: "seal",
			Kinds: []graph.KindID{"caliper"}, Of: []graph.KindID{"caliper"}, Quantity: 4, Renew: true}},
		Fill:  []graph.JobFill{{JobLine: step("brake fluid"), Spec: "DOT 4", Amount: "150 ml", Where: "reservoir"}},
		Look:  []graph.JobLook{{JobLine: step("piston"), For: "pits", Limit: "at least 33.9 mm", Gauge: "micrometer"}},
		Steps: []graph.JobLine{step("second of all"), step("first of all")},
		Checks: []graph.JobLine{step("lever firm"), {Text: "no oil on the tube", Legs: graph.UpsideDown,
			Said: []graph.Cite{f.Joints[0].Said[0]}}},
		Cautions: []graph.JobLine{step("fluid takes paint off")}, Said: f.Joints[0].Said}}
	f.Bikes = []graph.Bike{{ID: "winter-project", Variant: "skerry-620/2003/eu/late", Frame: "TK6A-013377", Note: "blue",
		Scheme: "kelp",
		Pos:    at("demo/bikes/w.yaml", 2, 3),
		Apart:  true,
		Assemblies: []graph.AssemblyNote{{Assembly: "skerry-620:fork", AsBuilt: true, Note: "whole",
			Pos: at("demo/bikes/w.yaml", 3, 7)}},
		Moved: []graph.Moved{{Position: "skerry-620:front-brake/caliper-left", On: "skerry-620:fork/leg-left", Nothing: true,
			Up:      "-60 mm",
			Forward: "20 mm", Left: "5 mm", Above: "40 mm", Note: "tied on", Pos: at("demo/bikes/w.yaml", 7, 7)}},
		Found: []graph.Fitted{{Position: "skerry-620:fork/leg-left", Note: "missing", Pos: at("demo/bikes/w.yaml", 5, 7)},
			{Position: "skerry-620:front-brake/caliper-left", Part: "Tarnholt 311.0042a", AsBuilt: true,
				Pos: at("demo/bikes/w.yaml", 4, 7),
				Specimen: graph.Specimen{Condition: "worn", Measured: []graph.Measured{{Feature: "mount", Dim: "spacing",
					Text: "83 mm", With: "rule"}}}}},
		Planned: []graph.Fitted{{Position: "skerry-620:front-brake/caliper-left", Part: "Tarnholt 207.4418b",
			Pos: at("demo/bikes/w.yaml", 8, 7)}},
		Boxes: []graph.Box{{Name: "crate-2", Pos: at("demo/bikes/w.yaml", 10, 7)},
			{Name: "crate-1", Pos: at("demo/bikes/w.yaml", 11, 7), Items: []graph.BoxItem{
				{Part: "Ny & Ås 90/25#4", Quantity: 1, Sure: "number read", Note: "dusty", Pos: at("demo/bikes/w.yaml", 12, 9)},
				{Part: "Ny & Ås 90/25#4", Quantity: 1, Sure: "by eye", Specimen: graph.Specimen{Condition: "cracked"},
					Pos: at("demo/bikes/w.yaml", 13, 9)}}}},
		Bags: []graph.Bag{{Name: "bag-3", Label: "front mudguard?", Pos: at("demo/bikes/w.yaml", 15, 7),
			Contents: []graph.BagItem{
				{Kind: "bolt", Dims: map[string]string{"thread": "M6", "length": "20 mm"}, Quantity: 4, Pos: at("demo/bikes/w.yaml",
					16, 9)},
				{Kind: "nut", Quantity: 2, Pos: at("demo/bikes/w.yaml", 17, 9)}}}}}}
}

// Whole hands facts over in one piece, for store.BuildFrom.
func Whole(f graph.Facts) func(add func(graph.Facts) error) error {
	return func(add func(graph.Facts) error) error { return add(f) }
}
