package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/donor"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/figure"
	"matewell/queries/mating"
	"matewell/queries/swap"
	"matewell/queries/worksheet"
)

// evil is what a stranger may write into any text.
const evil = `<script>alert("x")</script><img src=x onerror=alert(1)>"'` + "`" + `</style></svg>`

// evilSwap is an answer and a sheet with markup in every text.
func evilSwap() (swap.SwapAnswer, worksheet.Sheet, figure.Figures) {
	at := graph.PositionID("m:" + evil + "/" + evil)
	source := evidence.Source{ID: evil, Kind: evil, Title: evil, Date: evil}
	ends := []examine.End{{Position: at, Name: evil, Feature: evil, Part: evil, Changed: true}, {Position: "m:a/b",
		Name: evil, Part: evil}}
	check := mating.Check{Rule: evil, Verdict: graph.DoesNotFit, Why: evil, Had: evil, Wanted: evil, Gap: evil,
		Do: []string{evil}}
	a := swap.SwapAnswer{On: graph.VariantID(evil), Bike: graph.BikeID(evil), Scheme: evil,
		NotReady: []swap.Hindrance{{What: evil}}, Verdict: graph.DoesNotFit,
		Swaps: []swap.SwapLine{{Position: at, Name: evil, Was: evil, WasName: evil, WasWhy: evil, Now: evil,
			NowName: evil}},
		DoesNotMate: []examine.Outcome{{What: examine.OfJoint, ID: evil, Ends: ends, Why: evil, After: graph.DoesNotFit,
			Checks: []mating.Check{check}}},
		NotJudged: []examine.NotJudged{{Position: at, Name: evil, Feature: evil, Dim: evil, Was: evil, Now: evil,
			Why: evil, WhoCanTell: evil, Decides: true}},
		Renew: []swap.RenewRow{{Position: at, Text: evil}},
		Measure: []swap.MeasureRow{{Ask: mating.Ask{Where: evil, What: evil, Gauge: evil, Accuracy: evil},
			For: []string{evil}}},
		Numbers:  []examine.Number{{About: evil, Name: evil, Unit: evil, Words: evil, Source: evil, Change: evil}},
		Cautions: []queries.Caution{{Safety: graph.Safety(evil), Text: evil}}}
	w := worksheet.Sheet{Proof: []string{evil}, Renew: a.Renew,
		LayOut: []worksheet.Item{{Position: at, Part: evil, Text: evil, Quantity: 1}}, Tools: []string{evil},
		Steps: []donor.WorkStep{{Do: evil, Position: at, Part: evil, Text: evil}},
		Joints: []worksheet.Joint{{Joint: evil, Torque: evil, See: evil, Source: &source,
			Fasteners: []worksheet.Fastener{{Text: evil, Part: evil}}}},
		Threads: []string{evil}, Checks: []string{evil}, Sources: []evidence.Source{source}}
	points := mating.Overlay{Right: evil, Up: evil}
	f := figure.Figures{Panels: []figure.Panel{{At: at, On: at, Was: evil, Now: evil, Carrier: evil, New: points}},
		Lines: []figure.Line{{At: at, NowPart: evil, Now: mating.RunLengths{Line: 600, Needs: []mating.PathNeed{{Lock: evil,
			Fork: evil, Built: 500, High: 500}}}}},
		Rows: []figure.Row{{Stack: evil, Now: []mating.RowWidth{{Position: at, Width: 20}}, NowGap: 20}}}
	return a, w, f
}

func sheetText(t *testing.T, s jobSheet) string {
	t.Helper()
	var b bytes.Buffer
	if err := s.write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestSheetRunsNothing: whatever a fact says is text and no markup.
func TestSheetRunsNothing(t *testing.T) {
	text := sheetText(t, swapSheet(evilSwap()))
	for _, bad := range []string{"<script", "<img", "onerror=alert(1)>", "</style></svg>"} {
		if n := strings.Count(text, bad); n > 0 {
			t.Errorf("%q stands there %d times as markup", bad, n)
		}
	}
	if n := strings.Count(text, "&lt;script&gt;"); n < 40 {
		t.Errorf("only %d of the texts are in the page: the test says too little", n)
	}
	if strings.Contains(text, "http") && strings.Count(text, "http") != strings.Count(text, "http://www.w3.org/2000/svg") {
		t.Error("the page names something on a network")
	}
}

// TestSheetIsSound: every element is closed, every section has a heading that it is
// named by, and every identity is there once.
func TestSheetIsSound(t *testing.T) {
	text := sheetText(t, swapSheet(evilSwap()))
	dec := xml.NewDecoder(strings.NewReader(text))
	dec.Strict, dec.AutoClose, dec.Entity = false, []string{"meta", "input", "br", "wbr"}, xml.HTMLEntity
	ids, labels := map[string]int{}, []string{}
	open := 0
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			open++
			for _, attr := range e.Attr {
				switch attr.Name.Local {
				case "id":
					ids[attr.Value]++
				case "aria-labelledby":
					labels = append(labels, attr.Value)
				}
			}
		case xml.EndElement:
			open--
		}
	}
	if open != 0 {
		t.Errorf("%d elements are not closed", open)
	}
	for _, l := range labels {
		if ids[l] != 1 {
			t.Errorf("the heading %q is there %d times", l, ids[l])
		}
	}
	if len(labels) < 10 {
		t.Errorf("only %d sections", len(labels))
	}
}

// TestSheetContrast: every colour of text on the page has a contrast of at least 7 to 1
// to white, as WCAG 2 (success criterion 1.4.6) asks of small text.
func TestSheetContrast(t *testing.T) {
	colours := regexp.MustCompile(`[^-]color: (#[0-9a-f]{3,6})`).FindAllStringSubmatch(sheetTemplate, -1)
	if len(colours) < 2 {
		t.Fatal("no colours found: the test says nothing")
	}
	for _, c := range colours {
		if ratio := 1.05 / (luminance(t, c[1]) + 0.05); ratio < 7 {
			t.Errorf("%s has a contrast of %.1f to white", c[1], ratio)
		}
	}
}

// luminance is the relative luminance of a colour by WCAG 2: black is 0, white 1.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// TestSheetLeavesOutNothing: each section with something in it is there, and an empty
// one is not.
func TestSheetLeavesOutNothing(t *testing.T) {
	text := sheetText(t, swapSheet(evilSwap()))
	for _, want := range []string{"What is done", "Settle before anyone rides", "Which machine", "What to measure first",
		"Lay out first", "Tools and gauges",
		"Order of work", "Tighten, joint by joint", "Threads to clean first", renewSection(nil).Title, "Numbers, before " +
			"and after", "What meets what",
		"Points, paths and rows", "What was not judged", "Afterwards, before anyone rides", "Who did it, who checked it",
		"Notes", "Sources", "Cautions"} {
		if !strings.Contains(text, want) {
			t.Errorf("no section %q", want)
		}
	}
	bare := sheetText(t, swapSheet(swap.SwapAnswer{On: "skerry-620/2003/eu"}, worksheet.Sheet{}, figure.Figures{}))
	for _, not := range []string{"Threads to clean first", renewSection(nil).Title, "Points, paths and rows"} {
		if strings.Contains(bare, not) {
			t.Errorf("an empty section %q", not)
		}
	}
}

// Steps have on paper, where the joints are a list of their own, the numbers that they have on screen.
func TestStepsAreNumberedAlike(t *testing.T) {
	w := worksheet.Sheet{Turns: []int{3},
		Steps:  []donor.WorkStep{{Do: donor.DoFit}, {Do: donor.DoTight}, {Do: donor.DoFill}},
		Joints: []worksheet.Joint{{Joint: "m:a"}, {Joint: "m:b"}, {Joint: "m:c"}}}
	var got []string
	for _, row := range stepBlock(w).Table.Rows {
		got = append(got, row[0])
	}
	if want := []string{"1", "2-4", "5"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
