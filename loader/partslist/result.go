package partslist

import (
	"slices"
	"strings"

	"matewell/graph"
)

// Options are what a person said about a file.
type Options struct {
	// Brands are the makers whose way of writing numbers is known.
	Brands []graph.Brand
	// Brand is who made the parts, where no number tells; may be empty.
	Brand graph.BrandID
	// Columns say by heading, or by letter, what a column holds.
	Columns map[string]Field
	// Sheet is the only sheet of a workbook to read; empty for those that look
	// like a list of parts.
	Sheet string
	// Encoding, when it is not to be found out.
	Encoding string
}

// File is a list as it was understood.
type File struct {
	Encoding  string // empty for a workbook
	LineEnd   string // "lf", "crlf" or "cr"; empty for a workbook
	Separator string // ";", "tab", ","; empty for a workbook and for a single column
	Sheets    []Sheet
}

// Use says what is made of a sheet.
type Use string

// The uses of a sheet.
const (
	UseParts  Use = "parts"
	UseIgnore Use = "ignore"
	UseAsk    Use = "ask" // it may be a list; a person has to say
)

// Sheet is one table of a file.
type Sheet struct {
	Name       string // empty in a CSV file
	Use        Use
	Why        string // why it is not used, or asked about
	HeaderRows []int
	Columns    []Column
	Decimal    string // "." or ","; empty when no number tells
	Thousands  string
	Language   string // of the headings: "en", "de", "fr" ...; empty when they don't tell
	DateOrder  string // "dmy", "mdy"; empty when no date tells
	Currency   string // ISO 4217, of the whole price column; empty when not told
	Rows       []Row
}

// Column says what one column was taken for.
type Column struct {
	Letter  string
	Heading string
	Field   Field
	How     string // "heading", "content", "told"
}

// Is says what a row is.
type Is string

// What rows are.
const (
	IsTitle        Is = "title"
	IsHeader       Is = "header"
	IsHeading      Is = "heading"
	IsPart         Is = "part"
	IsHardware     Is = "hardware"
	IsContinuation Is = "continuation"
	IsTotal        Is = "total"
	IsNote         Is = "note"
	IsGarbage      Is = "garbage"
	IsBlank        Is = "blank"
)

// Row is one row as it was understood. What the file does not tell is left
// empty.
type Row struct {
	N     int // from 1, blank ones counted
	Is    Is
	Text  string   // what was written, cell by cell, for a person
	Cells []string // as written, by column

	Number     string // as the maker writes it
	Maker      graph.BrandID
	Written    string   // the number as it stands in the file
	Candidates []string // what a number may have been that can't be known
	Older      string   // a number that this one takes the place of
	Newer      string   // a number that takes the place of this one

	Name     string
	Quantity int    // how many; meaningless unless Counted
	Counted  bool   // the quantity is told
	Paired   bool   // it is told by the pair; Quantity counts both of each
	Nothing  string // why none is there; empty where nothing says so
	About    bool   // the quantity is a guess of the owner's
	Price    float64
	Priced   bool
	Currency string // ISO 4217
	Status   Status
	Group    string // the assembly of a heading above, one of groupWords; empty when not told
	Under    string // that heading as written
	Place    string
	Model    string
	Note     string
	Box      string
	Bought   string // 2006-01-02
	Ordered  string
	Arrived  string

	When Years

	Hardware *Hardware
	Torque   string // "24 N m"

	How          []string // what was done to read it
	Ask          []string // "quantity: empty": what a person has to say
	Cannot       []string // "number: ...": what can't be placed and why
	CannotTorque string
	SameAs       int      // the row above with the same number; 0 for none
	Contradicts  []string // what differs from it
	Sum          float64  // of a total
	Summed       bool
}

// Status says where a part is.
type Status string

// The states of a part.
const (
	Have      Status = "have"
	Missing   Status = "missing"
	Ordered   Status = "ordered"
	NotKnown  Status = "unknown"
	NotNeeded Status = "not needed"
)

// Hardware is what a size says of a loose fastener, bearing or seal. Values are
// written as a data file has them.
type Hardware struct {
	Kind        string // kind of part: bolt, nut, washer ...; empty when not told
	Thread      string
	Length      string
	Head        string
	Class       string
	Inside      string
	Outside     string
	Thickness   string
	Width       string
	Material    string
	Designation string
	Note        string
	WrongList   string
}

func (r *Row) how(text string)    { r.How = append(r.How, text) }
func (r *Row) ask(text string)    { r.Ask = append(r.Ask, text) }
func (r *Row) cannot(text string) { r.Cannot = append(r.Cannot, text) }

// IsOfStates reports whether the heading of a column of states asks for the state of a part or what is to do about it
// ("State", "Status"), and not whether it is there.
func (c Column) IsOfStates() bool {
	return slices.ContainsFunc(strings.Fields("state status stato statut estado zustand etat condition check"),
		func(word string) bool { return HasWord(Fold(c.Heading), word) })
}

// Is says whether a heading, or a letter for a column without one, names the
// column.
func (c Column) Is(heading string) bool {
	return strings.EqualFold(heading, c.Heading) || c.Heading != "" && Fold(heading) == Fold(c.Heading) ||
		strings.EqualFold(heading, c.Letter)
}
