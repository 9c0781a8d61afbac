package help

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph"
	"matewell/loader"
)

// kindTable is the standard set, as help and schemas read it.
type kindTable struct {
	kinds []graph.Kind // sorted by identity
}

// ReadKinds reads the standard set.
func ReadKinds(ctx context.Context) (kindTable, error) {
	set, err := loader.StandardSet(ctx)
	return kindTable{set.Kinds}, err
}

func (t kindTable) Kind(name string) (graph.Kind, bool) {
	i, ok := slices.BinarySearchFunc(t.kinds, graph.KindID(name), func(k graph.Kind,
		id graph.KindID) int {
		return cmp.Compare(k.ID, id)
	})
	if !ok {
		return graph.Kind{}, false
	}
	return t.kinds[i], true
}

// with are the kinds that have a kind of feature, those that must have it first.
func (t kindTable) with(feature string) []graph.Kind {
	has := func(k graph.Kind, may bool) bool {
		return slices.ContainsFunc(k.Features, func(f graph.KindFeature) bool { return f.Kind == feature && f.May == may })
	}
	var must, may []graph.Kind
	for _, k := range t.kinds {
		switch {
		case has(k, false):
			must = append(must, k)
		case has(k, true):
			may = append(may, k)
		}
	}
	return append(must, may...)
}

// Kinds prints the page of a topic about kinds. A command of the same name
// comes first; what is a kind of part and a kind of feature has both pages.
func Kinds(ctx context.Context, e desk.Env, topic string, isCommand bool) (told bool, err error) {
	if isCommand {
		return false, nil
	}
	t, err := ReadKinds(ctx)
	if err != nil {
		return false, err
	}
	var b strings.Builder
	k, isKind := t.Kind(topic)
	f, isFeature := graph.FeatureKindNamed(topic)
	switch topic {
	case "kinds":
		t.writeKinds(&b)
	case "features":
		t.writeFeatures(&b)
	case "undecided":
		t.writeUndecided(&b)
	default:
		if isKind {
			t.writeKind(&b, k)
		}
		if isKind && isFeature {
			b.WriteString("\n")
		}
		if isFeature {
			t.writeFeature(&b, f)
		}
	}
	_, err = io.WriteString(e.Out, b.String())
	return b.Len() > 0, err
}

// NoTopic says that nothing is called by the words, with what is near; otherwise, as
// a command that is not there is refused.
func NoTopic(ctx context.Context, e desk.Env, about *cobra.Command, words []string,
	otherwise cobra.PositionalArgs) error {
	topic := strings.Join(words, "-")
	var names []string
	for _, line := range append(slices.Clone(Topics), KindTopics(ctx)...) {
		name, _, _ := strings.Cut(line, "\t")
		names = append(names, name)
	}
	if near := graph.Nearest(topic, names, 3); len(near) > 0 {
		return desk.Usagef("there is no command, no topic and no kind %q; did you mean %s?", topic,
			strings.Join(near, " or "))
	}
	return otherwise(about, words)
}

// KindTopics are the names of all pages about kinds, each with a tab and what it
// is, for completion.
func KindTopics(ctx context.Context) []string {
	t, err := ReadKinds(ctx)
	if err != nil {
		return nil // a completion has nobody to tell
	}
	topics := []string{"kinds\tkinds of part", "features\tkinds of mating feature", "undecided\twhat decides nothing, " +
		"and why"}
	for _, k := range t.kinds {
		topics = append(topics, string(k.ID)+"\t"+k.Name)
	}
	for _, f := range graph.FeatureKinds() {
		if _, isKind := t.Kind(f.Name); !isKind {
			topics = append(topics, f.Name+"\t"+f.Is)
		}
	}
	return topics
}

// writeKinds lists the kinds by the file that they stand in.
func (t kindTable) writeKinds(b *strings.Builder) {
	b.WriteString(helpLines("", "The kinds of part that every data set may use. A set of yours adds to one by writing "+
		"its name again under \"kinds\".", "") + "\n")
	groups := map[string][]graph.Kind{}
	for _, k := range t.kinds {
		file := strings.TrimSuffix(path.Base(k.Said[0].Pos.File), ".yaml")
		groups[file] = append(groups[file], k)
	}
	names := make([]string, 0, len(groups))
	width := 0
	for name, kinds := range groups {
		names = append(names, name)
		for _, k := range kinds {
			width = max(width, len(k.ID))
		}
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(b, "\n%s:\n", capital(strings.ReplaceAll(name, "-", " ")))
		for _, k := range groups[name] {
			b.WriteString(helpLines(fmt.Sprintf("  %-*s  ", width, k.ID), sayKind(k), strings.Repeat(" ", width+4)))
		}
	}
	b.WriteString("\nMore about one: matewell help caliper\n")
}

// sayKind is what a kind is in a line: its name, where that is not its
// identity, and what it does.
func sayKind(k graph.Kind) string {
	if k.Name == strings.ReplaceAll(string(k.ID), "-", " ") {
		return k.Is
	}
	return k.Name + ": " + k.Is
}

func (t kindTable) writeFeatures(b *strings.Builder) {
	b.WriteString(helpLines("", "The kinds of mating feature. Each has its rule, or is compared with that of the part "+
		"that is replaced.", "") + "\n")
	width := 0
	for _, f := range graph.FeatureKinds() {
		width = max(width, len(f.Name))
	}
	for _, f := range sortedFeatures() {
		text := f.Is
		if meets := graph.Meets(f.Name); len(meets) > 0 {
			text += "; meets " + graph.OrList(meets)
		}
		b.WriteString(helpLines(fmt.Sprintf("  %-*s  ", width, f.Name), text, strings.Repeat(" ", width+4)))
	}
	b.WriteString("\nMore about one: matewell help banjo\nWhat decides nothing, and why: matewell help undecided\n")
}

// writeUndecided lists every dimension that decides nothing, with why: those of
// a kind of feature, then those of a kind of part alone.
func (t kindTable) writeUndecided(b *strings.Builder) {
	b.WriteString(helpLines("", "Every dimension decides, but for these; what differs in one of them does not change a "+
		"verdict.", "") + "\n")
	for _, f := range sortedFeatures() {
		for _, d := range f.Dims {
			if why := d.WhyNot(); why != "" {
				b.WriteString(helpLines("  ", d.Name+" of a "+f.Name+" "+why, "    "))
			}
		}
	}
	for _, k := range t.kinds {
		for _, f := range k.Features {
			for _, i := range f.Informs {
				b.WriteString(helpLines("  ", fmt.Sprintf("%s of %s, in a %s, %s", i.Dim, f.Name, k.ID, i.Why), "    "))
			}
		}
	}
}

func sortedFeatures() []graph.FeatureKind {
	return slices.SortedFunc(slices.Values(graph.FeatureKinds()), func(a,
		b graph.FeatureKind) int {
		return cmp.Compare(a.Name, b.Name)
	})
}

// writeKind is the page of a kind of part.
func (t kindTable) writeKind(b *strings.Builder, k graph.Kind) {
	b.WriteString(helpLines("", fmt.Sprintf("%s: a kind of part, %s", k.ID, k.Name), "  "))
	if k.Is != "" {
		b.WriteString(helpLines("  ", k.Is, "  "))
	}
	if k.Safety != graph.SafetyNone {
		b.WriteString(helpLines("  ", fmt.Sprintf("safety class of its places: %s, unless a place says otherwise", k.Safety),
			"  "))
	}
	if len(k.Road) > 0 {
		b.WriteString(helpLines("  ", "the road asks for it: "+strings.Join(k.Road, "; ")+"; local rules decide", "  "))
	}
	if k.Joins {
		b.WriteString(helpLines("  ", "made to go between two parts that do not meet each other, and offered there", "  "))
	}
	must, may := parted(k)
	writeKindFeatures(b, "Every part of this kind is judged by:", must)
	writeKindFeatures(b, "One may have, and is judged by it then:", may)
	if len(must)+len(may) == 0 {
		b.WriteString("\nNo feature of it is judged: only a list or a finding says where it goes.\n")
	}
	writeInforms(b, k)
	b.WriteString("\nWritten in a data file:\n\n" + indented(partExample(k)))
	fmt.Fprintf(b, "\nMore: matewell help %s, matewell schema %s\n", exampleTopic(k), k.ID)
}

// parted are the features that a part must have, and those it may have.
func parted(k graph.Kind) (must, may []graph.KindFeature) {
	for _, f := range k.Features {
		if f.May {
			may = append(may, f)
		} else {
			must = append(must, f)
		}
	}
	return must, may
}

func writeKindFeatures(b *strings.Builder, title string, features []graph.KindFeature) {
	if len(features) == 0 {
		return
	}
	b.WriteString("\n" + title + "\n")
	width := 0
	for _, f := range features {
		width = max(width, len(f.Name))
	}
	for _, f := range features {
		spec, _ := graph.FeatureKindNamed(f.Kind)
		is := f.Kind + ": " + spec.Is
		if f.Direct {
			is += "; nothing is made to go between it and what it meets"
		}
		b.WriteString(helpLines(fmt.Sprintf("  %-*s  ", width, f.Name), is, strings.Repeat(" ", width+4)))
	}
}

// writeInforms lists the dimensions of a kind's features that decide nothing,
// with why.
func writeInforms(b *strings.Builder, k graph.Kind) {
	first := true
	for _, f := range k.Features {
		spec, _ := graph.FeatureKindNamed(f.Kind)
		for _, d := range spec.Dims {
			why := k.WhyNot(f.Name, d)
			if why == "" || d.Looks {
				continue
			}
			if first {
				b.WriteString("\nWhat tells something and decides nothing:\n")
				first = false
			}
			b.WriteString(helpLines("  ", fmt.Sprintf("%s of %s %s", d.Name, f.Name, why), "    "))
		}
	}
}

// exampleTopic is a kind of feature of a kind, to look up next.
func exampleTopic(k graph.Kind) string {
	for _, f := range k.Features {
		if f.Kind != string(k.ID) && f.Kind != "finish" {
			return f.Kind
		}
	}
	return "features"
}

// writeFeature is the page of a kind of feature.
func (t kindTable) writeFeature(b *strings.Builder, f graph.FeatureKind) {
	b.WriteString(helpLines("", fmt.Sprintf("%s: a kind of feature, %s", f.Name, f.Is), "  "))
	writeDims(b, "It can't be judged without:", f, func(d graph.DimSpec) bool { return d.Must })
	writeDims(b, "It is judged by, where given:", f, func(d graph.DimSpec) bool { return !d.Must && d.Decides() })
	writeDims(b, "What tells something and decides nothing:", f, func(d graph.DimSpec) bool { return !d.Decides() })
	for _, o := range graph.Orders(f.Name) {
		than := "less than"
		if o.MayEqual {
			than = "at most"
		}
		b.WriteString(helpLines("\n", fmt.Sprintf("The %s is always %s the %s.", o.Less, than, o.More), ""))
	}
	if kinds := t.with(f.Name); len(kinds) > 0 {
		b.WriteString("\n" + helpLines("", "Kinds of part that have it: "+listKinds(kinds)+".", "  "))
	}
	t.writeMeetings(b, f)
}

func listKinds(kinds []graph.Kind) string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k.ID)
	}
	return strings.Join(names, ", ")
}

func writeDims(b *strings.Builder, title string, f graph.FeatureKind, which func(graph.DimSpec) bool) {
	first := true
	width := 0
	for _, d := range f.Dims {
		width = max(width, len(d.Name))
	}
	for _, d := range f.Dims {
		if !which(d) {
			continue
		}
		if first {
			b.WriteString("\n" + title + "\n")
			first = false
		}
		b.WriteString(helpLines(fmt.Sprintf("  %-*s  ", width, d.Name), sayDim(d), strings.Repeat(" ", width+4)))
	}
}

// sayDim is what a dimension is: in words, as what, by what gauge, and why it
// decides nothing.
func sayDim(d graph.DimSpec) string {
	text := d.Is + "; " + sayType(d)
	if d.Gauge == graph.ByEye {
		text += "; by eye (" + d.Accuracy + ")"
	} else {
		text += "; " + d.Gauge + ", to " + d.Accuracy
	}
	if d.Signed {
		text += "; may be below zero"
	}
	if d.Compared {
		text += "; compared with that of the part replaced"
	}
	if why := d.WhyNot(); why != "" {
		text += "; " + why
	}
	return text
}

// writeMeetings tells what a feature meets, and how such a joint is written.
func (t kindTable) writeMeetings(b *strings.Builder, f graph.FeatureKind) {
	meets := graph.Meets(f.Name)
	if len(meets) > 0 {
		b.WriteString(helpLines("", "It meets: "+strings.Join(meets, ", ")+".", "  "))
	}
	note, example := joined(t, f.Name)
	switch {
	case example != "":
		b.WriteString("\n" + helpLines("", note, "") + "\n" + indented(example))
	case note != "":
		b.WriteString("\n" + helpLines("", note, ""))
	}
}

// helpLines is a text in lines of at most Width characters: the first begins
// with one text, all others with another.
func helpLines(first, text, others string) string {
	var b strings.Builder
	line, empty := first, true
	for _, word := range strings.Fields(text) {
		if !empty && len([]rune(line))+1+len([]rune(word)) > Width {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line, empty = others, true
		}
		if !empty {
			line += " "
		}
		line, empty = line+word, false
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
	return b.String()
}

func indented(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		b.WriteString("  " + line)
	}
	return b.String()
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// Width keeps help within an 80-column terminal.
const Width = 79
