package loader

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
)

// Choice is one thing in which machines differ, and for which there are
// patterns.
type Choice struct {
	Name    string // "front-brake"
	Ask     string // the question, without a question mark
	Answers []Answer
}

// Answer is one answer to a Choice. The first of a choice is the commonest.
type Answer struct {
	Word string // "one-disc"
	Is   string // in a few words
}

// Choices are all, in the order a person is asked.
func Choices() []Choice {
	return []Choice{
		{"fork", "Which fork", []Answer{
			{"conventional", "the tubes are in the yokes, the sliders carry the axle"},
			{"upside-down", "the thick outer tubes are in the yokes"}}},
		{"front-brake", "Which brake in front", []Answer{
			{"two-discs", "one hose from the master cylinder to a splitter, one from there to each caliper"},
			{"two-discs-two-hoses", "a hose from the master cylinder to each caliper"},
			{"one-disc", "on the left"},
			{"drum", "worked by a cable"}}},
		{"rear-brake", "Which brake behind", []Answer{{"disc", "worked by fluid"}, {"drum", "worked by a rod"}}},
		{"drive", "Which final drive", []Answer{{"chain", ""}, {"shaft", "in the swingarm"}, {"belt", "toothed"}}},
		{"shocks", "Which shocks", []Answer{
			{"linkage", "one, with a rocker and rods"}, {"single", "one, straight on the swingarm"}, {"twin",
				"one on each side"}}},
		{"cylinders", "How many cylinders", []Answer{{"2", ""}, {"1", ""}, {"3", ""}, {"4", ""}}},
		{"fuel", "Carburettors or injection", []Answer{{"carburettors", ""}, {"injection", ""}}},
		{"cooling", "Cooled by", []Answer{{"air", ""}, {"water", ""}}},
		{"clutch", "Clutch worked by", []Answer{{"cable", ""}, {"fluid", "a master and a slave cylinder"}}},
		{"speedometer", "Speedometer driven by", []Answer{{"cable", "from the front wheel"}, {"sensor", "in the engine"}}},
		{"fairing", "Which fairing", []Answer{{"none", "headlamp on the fork, mirrors on the perches"}, {"half",
			"on a stay that carries headlamp, clocks and mirrors"}}},
		{"wheels", "Which wheels", []Answer{{"cast", ""}, {"spoked", "with inner tubes"}}},
		{"stands", "Which stands", []Answer{
			{"side", ""}, {"side-with-switch", ""}, {"side-and-centre", ""}, {"side-with-switch-and-centre", ""}}},
	}
}

// Words are what may be answered, the commonest first.
func (c Choice) Words() []string {
	var words []string
	for _, a := range c.Answers {
		words = append(words, a.Word)
	}
	return words
}

// PatternsFor gives the patterns of a machine, in the order in which a model is
// like them. answers holds a word for each choice by name; what is left out is
// answered by the commonest word.
func PatternsFor(answers map[string]string) ([]string, error) {
	given := map[string]string{}
	for _, c := range Choices() {
		word := answers[c.Name]
		if word == "" {
			word = c.Answers[0].Word
		}
		if !slices.Contains(c.Words(), word) {
			return nil, fmt.Errorf("%s can't be %q; it is %s", strings.ReplaceAll(c.Name, "-", " "), word, eitherOf(c.Words()))
		}
		given[c.Name] = word
	}
	return patternNames(given), nil
}

func eitherOf(words []string) string {
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// patternNames puts the pieces together. Some choices meet: what sits beside
// the front wheel depends on brake and speedometer, the row on the rear axle on
// brake and drive.
func patternNames(given map[string]string) []string {
	front := map[string]string{"two-discs": "front-discs-two", "two-discs-two-hoses": "front-discs-two-long",
		"one-disc": "front-disc-one", "drum": "front-drum"}[given["front-brake"]]
	speedometer := "speedo-" + given["speedometer"]
	if front == "front-drum" {
		speedometer = map[string]string{"cable": "speedo-cable-drum", "sensor": "speed-sensor"}[given["speedometer"]]
	}
	beside := strings.ReplaceAll(given["drive"], "belt", "chain") // a carrier sits beside the wheel for either
	names := []string{"road", "fork-" + given["fork"], front, speedometer,
		"rear-" + given["rear-brake"] + "-" + beside, given["drive"],
		map[string]string{"linkage": "shock-single", "single": "shock-direct", "twin": "shocks-twin"}[given["shocks"]],
		"cylinders-" + given["cylinders"], given["fuel"] + "-" + given["cylinders"],
		given["cooling"] + "-cooled",
		map[string]string{"cable": "clutch-cable", "fluid": "clutch-hydraulic"}[given["clutch"]],
		map[string]string{"none": "naked", "half": "fairing"}[given["fairing"]],
		"wheels-" + given["wheels"]}
	if strings.Contains(given["stands"], "switch") {
		names = append(names, "stand-switch")
	}
	if strings.Contains(given["stands"], "centre") {
		names = append(names, "centre-stand")
	}
	return names
}

// BuiltPattern is a pattern that ships with the program.
type BuiltPattern struct {
	Name string `json:"name"`
	Is   string `json:"is"`
	// Like are the patterns it adds to.
	Like []string `json:"like,omitempty"`
}

// Patterns are those that ship with the program, sorted by name.
func Patterns() []BuiltPattern {
	var all []BuiltPattern
	for _, f := range builtPatterns() {
		for _, p := range f.patterns {
			all = append(all, BuiltPattern{p.name.text, p.item.name.text, texts(p.item.like)})
		}
	}
	slices.SortFunc(all, func(a, b BuiltPattern) int { return strings.Compare(a.Name, b.Name) })
	return all
}

// StartedMachine is a machine that a data folder is begun with.
type StartedMachine struct {
	Model       graph.ModelID
	Maker, Name string
	// Like are the patterns, or the sister model, that it is like.
	Like     []string
	From, To int    // model years
	Market   string // "any" where markets do not differ
	Frame    string // number stamped on the user's own machine; may be empty
	Date     string // today, 2026-11-28
	// HasMaker is true when the folder names the maker already.
	HasMaker bool
}

// source is the identity of the source that the files of a machine name.
func (m StartedMachine) source() string { return string(m.Model) + "-notes" }

// Bike is the identity of the user's own machine.
func (m StartedMachine) Bike() string { return "my-" + string(m.Model) }

// Text is the file that describes the machine: short, since it is like others.
func (m StartedMachine) Text() string {
	is := map[string]string{}
	for _, p := range Patterns() {
		is[p.Name] = p.Is
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# %s %s: begun with \"matewell start\" on %s.\n", m.Maker, m.Name, m.Date)
	b.WriteString(`# Its places, joints, runs, circuits and rows come from what it is like. What is
# written here adds to them or overrides them; "matewell schema models" tells all
# keys, "matewell list positions" all places.
`)
	fmt.Fprintf(&b, "source: %s\n\nsources:\n  %[1]s:\n    kind: measurement\n    title: %q\n    date: %s\n",
		m.source(), "Notes and measurements on the "+m.Maker+" "+m.Name, m.Date)
	if !m.HasMaker {
		fmt.Fprintf(&b, "\nbrands:\n  %s:    # how it writes its numbers, if you know: number: {core: \"999.9999\", "+
			"revision: a}\n", m.Maker)
	}
	fmt.Fprintf(&b, "\nmodels:\n  %s:\n    maker: %s\n    name: %q\n    like:\n", m.Model, m.Maker, m.Name)
	for _, name := range m.Like {
		line := "      - " + name
		if text := is[name]; text != "" {
			line = fmt.Sprintf("%-30s # %s", line, text)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	b.WriteString("    # What that has and this machine has not, by place, assembly or name of a joint:\n    # " +
		"without: [bodywork/rear-mudguard]\n")
	b.WriteString("    variants:    # year by market; add frames: where a change was made in the middle of a year\n")
	for year := m.From; year <= m.To; year++ {
		fmt.Fprintf(&b, "      - {year: %d, market: %s}\n", year, m.Market)
	}
	b.WriteString(`    # What you measured on the machine itself, by the name of the joint or run:
    # runs:
    #   clutch-line: {needs: {left-extended: 985 mm, right-extended: 1010 mm}}

# Parts with what you measured on them. What no list has can be written here too:
# parts:
#   - number: ` + m.Maker + ` 1234
#     kind: brake-disc
#     features:
#       rim: {diameter: 296 mm, thickness: {value: 4.9 mm, by: micrometer}}
`)
	return b.String()
}

// BikeText is the file of the user's own machine.
func (m StartedMachine) BikeText() string {
	frame := "    # frame:             the number stamped on it\n"
	if m.Frame != "" {
		frame = fmt.Sprintf("    frame: %q\n", m.Frame)
	}
	return fmt.Sprintf(`# Your own %s %s: what it was built as, and what is really on it.
bikes:
  %s:
    variant: %s/%d/%s
%s    # Is it in pieces? Then nothing is on it but what you note; else all that nobody
    # noted counts as on it, as the book says:
    # everything: missing
    # What is really on it where that differs, what you plan, and what lies in boxes:
    # found:
    #   front-brake/lever: missing
    # boxes:
    #   shelf: [{part: %s 1234, sure: number read}]
`, m.Maker, m.Name, m.Bike(), m.Model, m.From, m.Market, frame, m.Maker)
}

// NameFor makes a name of small letters, digits and hyphens of what a person
// calls a thing: "holm-400" of "Holm 400"; empty when nothing is left.
func NameFor(text string) string {
	return strings.Trim(notName.compile().ReplaceAllString(strings.ToLower(text), "-"), "-")
}

// CheckBrand reports a maker that can't stand in front of part numbers.
func CheckBrand(maker string) error {
	if !brandPattern.compile().MatchString(maker) {
		return fmt.Errorf("the maker must be one word, since it stands in front of part numbers; %q is not: write %q", maker,
			strings.Join(strings.Fields(maker), "-"))
	}
	return nil
}
