package graph

// Job is the rebuilding of an assembly, or of a few places of it, such as both front
// calipers: what is inside, what goes in new, what to look at, what to do.
type Job struct {
	ID   JobID
	Name string // "Rebuild the front calipers"
	// Places are what is rebuilt, on every model that the job is written for; sorted,
	// at least one.
	Places []PositionID
	// Kits bring inner parts; of several that hold for a machine each has other parts.
	Kits  []JobPart
	Parts []JobPart // inner parts, in the order they are laid out
	Fill  []JobFill // fluids, oils and greases
	Look  []JobLook // what to inspect once it is apart
	// Steps are in the order of the work, Checks what is tried afterwards, Cautions
	// what can hurt somebody or spoil the work.
	Steps, Checks, Cautions []JobLine
	Said                    []Cite
}

// JobLine is one sentence of a job.
type JobLine struct {
	Text  string // of a part, a fluid or something to inspect: what it is; empty for a part that goes by its own name
	Scope Scope  // the machines it holds for; zero for all that the job is for
	Said  []Cite // who says so; never empty once loaded
}

// JobPart is an inner part or a kit.
type JobPart struct {
	JobLine
	Part     PartID // empty when it goes by its description
	Quantity int    // for the whole job; at least 1
	Renew    bool   // goes in new every time
}

// JobFill is what is filled in or put on.
type JobFill struct {
	JobLine
	Spec   string // "DOT 4"; empty when the manual must say
	Amount string // as written, with its unit; empty when no source gives it
	Where  string // "each leg", "seals and pistons"
}

// JobLook is something to inspect.
type JobLook struct {
	JobLine
	For   string // what to look for, in words; empty when Limit says it all
	Limit string // as written, "at least 4.5 mm"; empty when no source gives one
	Gauge string // what it is measured with; empty when looked at
}
