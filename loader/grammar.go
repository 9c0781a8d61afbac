package loader

import (
	"bytes"
	"path"
	"strings"

	"matewell/graph/diag"
)

// grammar holds the tables that say what a data set may hold. Files are read
// with one grammar at the same time; nothing in it changes.
type grammar struct {
	file          form[dataFile]
	fitments      table[rawFitment]
	supersessions table[rawSupersession]
	fasteners     table[rawFastener]
	// later says that files with many items are read when their items are
	// resolved, so that few of them are in memory at a time.
	later bool
}

func newGrammar() *grammar {
	return &grammar{
		file:          mapping[dataFile]("a data file", nil, fileFields()...),
		fitments:      fitmentTable(),
		supersessions: supersessionTable(),
		fasteners:     fastenerTable(),
	}
}

// fileFields are the keys at the top of a YAML file.
func fileFields() []field[dataFile] {
	return []field[dataFile]{
		says("default source of all that is in this file", key("source", sourcesForm(),
			func(f *dataFile) *[]word { return &f.source })),
		says("where claims come from, by identity", key("sources", byName("sources", name(), sourceForm()),
			func(f *dataFile) *[]named[rawSource] { return &f.sources })),
		says("makers and how they write numbers", key("brands", byName("brands", brandName(), brandForm()),
			func(f *dataFile) *[]named[rawBrand] { return &f.brands })),
		says("kinds of part and the features each has", key("kinds", byName("kinds", name(), kindForm()),
			func(f *dataFile) *[]named[rawKind] { return &f.kinds })),
		says("models, by identity", key("models", byName("models", name(), modelForm()),
			func(f *dataFile) *[]named[rawModel] { return &f.models })),
		says("layouts that models may be like, by identity", key("patterns", byName("patterns", name(), patternForm()),
			func(f *dataFile) *[]named[rawModel] { return &f.patterns })),
		says("parts with what they measure", key("parts", list("parts", partForm()),
			func(f *dataFile) *[]rawPart { return &f.parts })),
		says("what somebody found to fit, or not", key("findings", list("findings", findingForm()),
			func(f *dataFile) *[]rawFinding { return &f.findings })),
		says("findings that were taken back", key("withdrawals", list("withdrawals", withdrawalForm()),
			func(f *dataFile) *[]rawWithdrawal { return &f.withdrawals })),
		says("your own machines, by identity", key("bikes", byName("bikes", name(), bikeForm()),
			func(f *dataFile) *[]named[rawBike] { return &f.bikes })),
		says("how assemblies are rebuilt, by identity", key("jobs", byName("jobs", name(), jobForm()),
			func(f *dataFile) *[]named[rawJob] { return &f.jobs })),
		says("what can be had, by name; in a file of its own, for: matewell donor --offer",
			key("offers", byName("offers", phrase(), offerForm()), func(f *dataFile) *[]named[rawOffer] { return &f.offers })),
	}
}

func (g *grammar) readYAML(r reading, f *dataFile) {
	before := r.Errors()
	root := parseYAML(r.text, r.List)
	f.broken = root == nil && r.Errors() > before
	if root != nil {
		g.file.read(r, root, f)
	}
}

// The CSV files a data set may have, by the start of their name.
const (
	fitmentList      = "fitments"
	supersessionList = "supersessions"
	fastenerList     = "fasteners"
)

// leftList is what an import could not place: kept beside the data, and passed
// over.
const leftList = "not-placed"

func (g *grammar) readCSV(r reading, f *dataFile, base string) {
	whole := true
	base = strings.ToLower(base)
	switch {
	case strings.HasPrefix(base, fitmentList):
		if g.later {
			whole = g.fitments.each(r, func(*rawFitment) {})
		} else {
			f.fitments, whole = g.fitments.read(r)
		}
	case strings.HasPrefix(base, supersessionList):
		if g.later {
			whole = g.supersessions.each(r, func(*rawSupersession) {})
		} else {
			f.supersessions, whole = g.supersessions.read(r)
		}
	case strings.HasPrefix(base, fastenerList):
		f.fasteners, whole = g.fasteners.read(r)
	case strings.HasPrefix(base, leftList): // nothing that counts
	case len(bytes.TrimSpace(r.body)) > 0:
		sort, _, _ := strings.Cut(strings.ReplaceAll(base, "-", "."), ".")
		r.Errorf(diag.Pos{File: f.name}, "unknown-list", "no list is called %q", sort).Hint = nearOrList(sort,
			[]string{fitmentList, supersessionList, fastenerList})
	}
	f.cut = !whole
	f.broken = f.cut && strings.HasPrefix(base, fastenerList) // the only list that defines names
}

// isList reports whether a file is a list of one sort, by its name.
func isList(name, list string) bool {
	return strings.EqualFold(path.Ext(name), ".csv") && strings.HasPrefix(strings.ToLower(path.Base(name)), list)
}

// readTwice reports whether a list may have so many rows that they are read
// once to check them and once more when they are resolved.
func readTwice(name string) bool { return isList(name, fitmentList) || isList(name, supersessionList) }
