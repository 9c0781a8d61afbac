package loader

// Code is one sort of fault.
type Code struct {
	Name string // stable: "unknown-part"
	// Warning is true when the fault never fails a load.
	Warning bool
	Means   string
}

// Codes lists every sort of fault that Load reports, sorted by name.
func Codes() []Code {
	return []Code{
		{"bad-csv", false, "a line of a list breaks the rules of RFC 4180"},
		{"bad-date", false, "a date is no date"},
		{"bad-frames", false, "frame numbers can't be read"},
		{"bad-name", false, "a name has letters that names don't have"},
		{"bad-number", false, "a part number is not written as its brand writes numbers"},
		{"bad-value", false, "a value can't be read, or is none of those allowed"},
		{"bad-yaml", false, "a file is not YAML"},
		{"bad-year", false, "a year is no model year"},
		{"covers-nothing", false, "what is said holds on no variant"},
		{"duplicate", false, "one identity is given twice, or one source says one thing twice"},
		{"duplicate-key", false, "a key or a column is given twice"},
		{"empty-value", false, "a key has no value"},
		{"frame-outside", false, "a frame number does not belong to its variant"},
		{"frames-overlap", false, "two variants of one model and market share frame numbers"},
		{"impossible-value", false, "a value that no part can have"},
		{"joint-without-feature", false, "no part at a position has the feature"},
		{"kit-contains-itself", false, "a kit contains itself, directly or in another kit"},
		{"missing-dimension", true, "a feature lacks a dimension that its joints need"},
		{"missing-feature", true, "a part lacks a feature that its kind has"},
		{"missing-key", false, "a key or a column that must be given is not"},
		{"no-data", true, "a folder holds no data file"},
		{"no-source", false, "an item names no source, and neither does its file"},
		{"not-a-file", false, "a device or a pipe stands where a file should be"},
		{"not-utf8", false, "a file holds bytes that are not UTF-8"},
		{"order-cycle", false, "positions each come after the other"},
		{"other-kind", true, "a part fits at a position that is for another kind of part"},
		{"other-meaning", true, "a kind of part has the feature as another sort of feature in another set"},
		{"outside-years", false, "years in which the model was not made"},
		{"reversed-range", false, "a range ends before it starts"},
		{"same-number", false, "one part number is written in two ways"},
		{"several-documents", false, "a YAML file holds more than one document"},
		{"source-cycle", false, "sources are each other's origin"},
		{"splits-variant", false, "frame numbers cut through a variant"},
		{"supersedes-itself", false, "a part supersedes itself"},
		{"supersession-cycle", false, "numbers supersede each other in a circle"},
		{"terminal-escape", false, "a file holds characters that could steer a terminal"},
		{"too-large", false, "a file is too large to be hand-written"},
		{"two-values", false, "one source gives one quantity two values"},
		{"unknown-bike", false, "nothing defines the bike"},
		{"unknown-brand", false, "nothing defines the brand"},
		{"unknown-dimension", false, "the sort of feature has no such dimension"},
		{"unknown-feature", false, "the kind of part has no such feature"},
		{"unknown-feature-kind", false, "there is no such sort of feature"},
		{"unknown-finding", false, "nothing defines the finding that is taken back"},
		{"unknown-key", false, "there is no such key or column"},
		{"unknown-kind", false, "nothing defines the kind of part"},
		{"unknown-list", false, "a CSV file is none of the lists, by its name"},
		{"unknown-mark", false, "no variant of the model has the mark"},
		{"unknown-market", false, "no variant of the model has the market"},
		{"unknown-model", false, "nothing defines the model"},
		{"unknown-part", false, "nothing defines the part"},
		{"unknown-position", false, "the model has no such position"},
		{"unknown-scheme", false, "the variants were not sold in the colour scheme"},
		{"unknown-source", false, "nothing defines the source"},
		{"unknown-variant", false, "nothing defines the variant"},
		{"unused-source", true, "nothing cites the source"},
		{"wrong-column-count", false, "a row has more or fewer values than the first line names"},
		{"wrong-feature-kind", false, "the feature is of another sort than its place asks for"},
		{"wrong-shape", false, "a list stands where a mapping should, or the like"},
		{"wrong-unit", false, "a unit of another quantity"},
		{"yaml-anchor", false, "YAML anchors, aliases and merged mappings are not read"},
		{"yaml-tag", false, "YAML tags are not read"},
		{"zero-quantity", false, "a quantity of nothing"},
	}
}
