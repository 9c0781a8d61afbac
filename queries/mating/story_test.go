package mating_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"matewell/graph"
	"matewell/queries/mating"
)

// TestStories runs testdata/mating/*.txtar: a sentence, the features that meet
// in lines a mechanic can read, and the checks expected. Set MATEWELL_UPDATE to
// refresh them, then read the difference as if it were code.
func TestStories(t *testing.T) {
	files, err := filepath.Glob("../../testdata/mating/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no stories found (%v)", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.HasSuffix(strings.TrimSpace(string(archive.Comment)), ".") {
				t.Error("a story starts with a full sentence")
			}
			got := checksText(readStory(t, archive).judge())
			want := section(archive, "want")
			if got == want {
				return
			}
			if os.Getenv("MATEWELL_UPDATE") == "" {
				t.Fatalf("got:\n%s\nwant:\n%s", got, want)
			}
			writeWant(t, file, archive, got)
		})
	}
}

func section(a *txtar.Archive, name string) string {
	for _, f := range a.Files {
		if f.Name == name {
			return string(f.Data)
		}
	}
	return ""
}

func writeWant(t *testing.T, file string, a *txtar.Archive, got string) {
	t.Helper()
	var kept []txtar.File
	for _, f := range a.Files {
		if f.Name != "want" {
			kept = append(kept, f)
		}
	}
	a.Files = append(kept, txtar.File{Name: "want", Data: []byte(got)})
	if err := os.WriteFile(file, txtar.Format(a), 0o644); err != nil {
		t.Fatal(err)
	}
}

// checksText prints checks as the stories write them.
func checksText(checks []mating.Check) string {
	var out strings.Builder
	for _, c := range checks {
		fmt.Fprintf(&out, "%s: %s\n    %s\n", c.Rule, c.Verdict, c.Why)
		line := func(name, text string) {
			if text != "" {
				fmt.Fprintf(&out, "    %s: %s\n", name, text)
			}
		}
		line("had", c.Had)
		line("wanted", c.Wanted)
		line("gap", c.Gap)
		if c.Basis == "" && c.Rule != "no rule" {
			line("basis", "missing")
		}
		if c.Effort != graph.EffortNone {
			line("effort", c.Effort.String())
		}
		for _, do := range c.Do {
			line("do", do)
		}
		for _, a := range c.Measure {
			line("measure", strings.TrimRight(fmt.Sprintf("%s of %s, %s, to %s", a.What, a.Where, a.Gauge, a.Accuracy), " ,"))
		}
		for _, o := range c.Orders {
			line("order "+o.Kind, o.Text)
			for _, f := range o.Spec {
				fmt.Fprintf(&out, "        %s: %s\n", f.Name, f.Value)
			}
		}
		for _, r := range c.Renew {
			line("renew", r)
		}
	}
	return out.String()
}

// story is what a file describes; the sections it has say which judge it asks.
type story struct {
	kinds  map[string]bool
	meet   mating.Meeting
	run    mating.RunCase
	stack  mating.StackCase
	chain  mating.ChainCase
	fluid  mating.FluidCase
	panels mating.PanelCase
}

func (s story) judge() []mating.Check {
	switch {
	case s.kinds["line"]:
		return mating.JudgeRun(s.run)
	case s.kinds["row"]:
		return mating.JudgeStack(s.stack)
	case s.kinds["chain"]:
		return mating.JudgeChain(s.chain)
	case s.kinds["member"]:
		return mating.JudgeFluid(s.fluid)
	case s.kinds["panel"]:
		return mating.JudgePanels(s.panels)
	}
	return mating.Judge(s.meet)
}

func readStory(t *testing.T, a *txtar.Archive) story {
	t.Helper()
	s := story{kinds: map[string]bool{}}
	for _, f := range a.Files {
		s.kinds[f.Name] = true
		text := strings.TrimSpace(string(f.Data))
		if !s.meeting(t, f.Name, text) && !s.others(t, f.Name, text) && f.Name != "want" {
			t.Fatalf("unknown section %q", f.Name)
		}
	}
	return s
}

func (s *story) meeting(t *testing.T, name, text string) bool {
	t.Helper()
	switch name {
	case "a":
		s.meet.A = readSide(t, text)
	case "b":
		s.meet.B = readSide(t, text)
	case "bolt":
		s.meet.Bolts = append(s.meet.Bolts, readSide(t, text))
	case "washer":
		s.meet.Washers = append(s.meet.Washers, readSide(t, text))
	case "disc":
		s.meet.Disc = readSide(t, text)
	case "allow":
		s.meet.Allow = text
	case "new":
		s.meet.New = graph.PositionID(text)
	default:
		return false
	}
	return true
}

func (s *story) others(t *testing.T, name, text string) bool {
	t.Helper()
	switch name {
	case "line":
		s.run.Line = readSide(t, text)
	case "needs":
		s.run.Needs = readNeeds(t, text)
	case "inner":
		s.run.Inner = readings(text)
	case "spare":
		s.run.Spare = readings(text)
	case "was":
		s.run.Moves = append(s.run.Moves, mating.Move{Was: readSide(t, text)})
	case "now":
		s.run.Moves[len(s.run.Moves)-1].Now = readSide(t, text)
	case "was-longer":
		s.run.Lengthens = append(s.run.Lengthens, mating.Move{Was: readSide(t, text)})
	case "now-longer":
		s.run.Lengthens[len(s.run.Lengthens)-1].Now = readSide(t, text)
	case "guides":
		s.run.Guides = strings.Split(text, "\n")
	case "guides-moved":
		s.run.GuidesMoved = true
	case "fitting":
		end, what, _ := strings.Cut(text, ": ")
		s.run.Fittings = append(s.run.Fittings, mating.Field{Name: end, Value: what})
	default:
		return s.rows(t, name, text)
	}
	return true
}

func (s *story) rows(t *testing.T, name, text string) bool {
	t.Helper()
	switch name {
	case "gap":
		s.stack.Within = readSide(t, text)
	case "row", "spacer", "centre":
		s.kinds["row"] = true
		s.stack.Row = append(s.stack.Row, mating.Member{Side: readSide(t, text), Spacer: name == "spacer"})
		if name == "centre" {
			s.stack.Centre = len(s.stack.Row)
		}
	case "shaft":
		s.stack.Shaft = readSide(t, text)
	case "chain":
		s.chain.Chain = readSide(t, text)
	case "front":
		s.chain.Front = readSide(t, text)
	case "rear":
		s.chain.Rear = readSide(t, text)
	case "front-plane":
		s.chain.FrontPlane = readSide(t, text)
	case "rear-plane":
		s.chain.RearPlane = readSide(t, text)
	case "adjusters":
		s.chain.Centre = readings(text)
	case "member":
		s.fluid.Members = append(s.fluid.Members, readSide(t, text))
	case "filled":
		s.fluid.Filled = readings(text)
	case "panel":
		s.panels.Panels = append(s.panels.Panels, readSide(t, text))
	case "scheme":
		s.panels.Scheme = text
	default:
		return false
	}
	return true
}

// readSide reads "KIND at POSITION, FEATURE" and a line for each reading:
// "dim: text" or "dim: text | source".
func readSide(t *testing.T, text string) mating.Side {
	t.Helper()
	lines := strings.Split(text, "\n")
	kind, where, _ := strings.Cut(lines[0], " at ")
	position, feature, _ := strings.Cut(where, ", ")
	if feature == "" {
		feature = kind
	}
	side := mating.Side{Position: graph.PositionID(position),
		Feature: graph.Feature{Name: feature, Kind: kind, Dims: map[string][]graph.Reading{}}}
	spec, ok := graph.FeatureKindNamed(kind)
	if !ok && kind != "nothing" {
		t.Fatalf("no feature kind %q", kind)
	}
	if kind == "nothing" {
		side.Feature = graph.Feature{}
	}
	for _, line := range lines[1:] {
		dim, value, ok := strings.Cut(strings.TrimSpace(line), ": ")
		if _, known := spec.Dim(dim); !ok || !known {
			t.Fatalf("%q is no dimension of %s", line, kind)
		}
		side.Feature.Dims[dim] = append(side.Feature.Dims[dim], readings(value)...)
	}
	return side
}

func readings(text string) []graph.Reading {
	value, source, _ := strings.Cut(text, " | ")
	return []graph.Reading{{Text: value, Cite: graph.Cite{Source: graph.SourceID(source)}}}
}

func readNeeds(t *testing.T, text string) []graph.RunNeed {
	t.Helper()
	var needs []graph.RunNeed
	for _, line := range strings.Split(text, "\n") {
		at, value, ok := strings.Cut(line, ": ")
		lock, fork, ok2 := strings.Cut(at, "-")
		if !ok || !ok2 {
			t.Fatalf("a need is LOCK-FORK: LENGTH, not %q", line)
		}
		needs = append(needs, graph.RunNeed{Lock: lock, Fork: fork, Length: readings(value)})
	}
	return needs
}
