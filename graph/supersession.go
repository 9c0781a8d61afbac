package graph

// Usable says whether an edge allows a direction. The zero value is "not
// stated", which never means yes.
type Usable int

// The values of Usable.
const (
	NotStated Usable = iota
	Yes
	No
)

// String is "not stated", "yes" or "no".
func (u Usable) String() string { return [...]string{"not stated", "yes", "no"}[u] }

// Supersession is a directed edge from an old number to the one that took its
// place.
type Supersession struct {
	ID       SupersessionID
	Old, New PartID // New may be a kit
	NewOnOld Usable // may the new part go where the old one was?
	OldOnNew Usable // may the old part go where the new one is?
	// Scope limits the edge: a branch by frame number, market or year. The
	// zero scope holds everywhere.
	Scope      Scope
	Companions []Content // must be changed with it, sorted by part
	Reason     string
	Date       string // when it was announced; empty when not known
	Said       []Cite
}
