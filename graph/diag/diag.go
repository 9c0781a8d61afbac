package diag

// Pos is a place in a file.
type Pos struct {
	File string // slash-separated, relative to the data folder, its name in front
	Line int    // from 1
	Col  int    // from 1, in bytes
}

// Severity says whether a diagnostic stops a load. The zero value is Error, so
// that a forgotten one fails loudly.
type Severity int

// The severities.
const (
	Error Severity = iota
	Warning
)

// Diagnostic is one fault.
type Diagnostic struct {
	Pos      Pos
	Severity Severity
	Code     string // stable: "unknown-part"
	Message  string // what is wrong, with the offending value quoted
	Hint     string // what to do; may be empty
	Related  []Pos  // the other side, such as the first of two duplicates
}
