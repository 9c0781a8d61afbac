package graph

import "slices"

// Job is the rebuilding of an assembly, or of a few places of it, such as both front
// calipers: what is inside, what goes in new, what to look at, what to do. It is
// written either for places of models or for kinds of part on any machine.
type Job struct {
	ID   JobID
	Name string // "Rebuild the front calipers"
	// Places are what is rebuilt, on every model that the job is written for; sorted,
	// at least one where there are no Kinds.
	Places []PositionID
	// Kinds are what is rebuilt wherever a machine has it; sorted, empty for a job that
	// names its places. What a job of the machine's own rebuilds is left to that.
	Kinds []KindID
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
	Text  string  // of a part, a fluid or something to inspect: what it is; empty for a part that goes by its own name
	Scope Scope   // the machines it holds for; zero for all that the job is for
	Legs  LegForm // the form of fork leg that it holds for; empty for any
	Said  []Cite  // who says so; never empty once loaded
}

// LegForm is which way up a fork leg is built.
type LegForm string

// The forms of fork legs: in a conventional one the tube that slides, and on which the seal runs,
// is the one that the yokes hold; in an upside-down one it is a thinner one below that.
const (
	Conventional LegForm = "conventional"
	UpsideDown   LegForm = "upside-down"
)

// JobPart is an inner part or a kit.
type JobPart struct {
	JobLine
	Part PartID // empty when it goes by its description
	// Feature is the kind of feature, such as "bearing", of what the description means: on a
	// machine each such part that meets what is rebuilt is named instead. May be empty.
	Feature string
	// Kinds are the kinds of part of what the description means: on a machine each place for
	// one that meets what is rebuilt is named instead, or, where none meets it, each that lies
	// in the same assembly. Sorted; may be empty.
	Kinds []KindID
	// Of are the kinds of part that it belongs to, where that is not what is rebuilt: the
	// washer of the drain plug. Sorted; may be empty.
	Of       []KindID
	Quantity int  // for the whole job, with Kinds for each place; at least 1
	Renew    bool // goes in new every time
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

// Models are those that a job is written for, sorted; none for a job of any machine.
func (j Job) Models() []ModelID {
	var models []ModelID
	for _, id := range j.Places {
		models = append(models, id.Model())
	}
	slices.Sort(models)
	return slices.Compact(models)
}

// JobsAt are the jobs that rebuild something at the given places of one model, in their
// order. A job for any machine gets those of the places that take one of its kinds,
// less those that a job written for the model rebuilds.
func JobsAt(jobs []Job, places []Position) []Job {
	own := map[PositionID]bool{}
	for _, j := range jobs {
		for _, id := range j.Places {
			own[id] = true
		}
	}
	var here []Job
	for _, j := range jobs {
		for _, p := range places {
			if slices.Contains(j.Kinds, p.Kind) && !own[p.ID] {
				j.Places = append(slices.Clone(j.Places), p.ID)
			}
		}
		if slices.ContainsFunc(places, func(p Position) bool { return slices.Contains(j.Places, p.ID) }) {
			here = append(here, j)
		}
	}
	return here
}
