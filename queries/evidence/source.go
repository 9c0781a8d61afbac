package evidence

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// kindFinding is what Source.Kind says of a finding that names no source.
const kindFinding = "finding"

// Source is one voice for something an answer says.
type Source struct {
	ID    string `json:"id"`   // of the source, or of the finding
	Kind  string `json:"kind"` // kind of the source, or "finding"
	Title string `json:"title,omitempty"`
	Date  string `json:"date,omitempty"`
	By    string `json:"by,omitempty"` // who found it; findings only
	Rank  Rank   `json:"rank"`         // of this voice alone
	At    string `json:"at"`           // file:line:column, "-" when not known
	// Says is what the voice says where voices of one list differ: the value of
	// a reading.
	Says string `json:"says,omitempty"`
	// ReprintOf is the origin when the voice only repeats it; voices of one
	// origin count once.
	ReprintOf string `json:"reprint_of,omitempty"`

	Origin string `json:"-"` // who said it first
	// In is where a finder put down what came to hand: who retells that page may
	// be retelling this very finder.
	In string `json:"-"`
}

// IsApart reports whether two voices are independent: neither has its word from the
// other, nor both from one third.
func (s Source) IsApart(other Source) bool {
	return s.Origin != other.Origin && s.Origin != other.In && s.In != other.Origin
}

// independent leaves, of voices of one origin, the first. Whatever counts voices
// counts these.
func independent(voices []Source) []Source {
	var apart []Source
	for i, of := range Repeats(voices) {
		if of < 0 {
			apart = append(apart, voices[i])
		}
	}
	return apart
}

// Repeats gives for each voice the place of one that counts and whose origin it
// shares, so that it is not counted again; -1 for one that counts. Who had the thing in
// hand counts before who retells.
func Repeats(voices []Source) []int {
	of := make([]int, len(voices))
	var counted []int
	for _, inHand := range []bool{true, false} {
		for i, voice := range voices {
			if (voice.In != "") != inHand {
				continue
			}
			of[i] = -1
			if at := slices.IndexFunc(counted, func(j int) bool { return !voice.IsApart(voices[j]) }); at >= 0 {
				of[i] = counted[at]
			} else {
				counted = append(counted, i)
			}
		}
	}
	return of
}

// CompareSources orders voices best first: by rank, own words before reprints,
// newer before older, then by identity and place.
func CompareSources(a, b Source) int {
	reprint := func(s Source) int {
		if s.ReprintOf != "" {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(b.Rank, a.Rank), cmp.Compare(reprint(a), reprint(b)),
		cmp.Compare(b.Date, a.Date), cmp.Compare(a.ID, b.ID), cmp.Compare(a.At, b.At), cmp.Compare(a.Says, b.Says))
}

// MergeSources joins two lists of voices, sorted, without doubles.
func MergeSources(a, b []Source) []Source {
	all := slices.Concat(a, b)
	slices.SortFunc(all, CompareSources)
	return slices.CompactFunc(all, func(x, y Source) bool {
		return x.ID == y.ID && x.At == y.At && x.Says == y.Says
	})
}

// Distinct leaves the first voice of every source, so that a source that says
// a thing in ten rows is named once.
func Distinct(voices []Source) []Source {
	seen := map[string]bool{}
	return lists.Kept(voices, func(s Source) bool {
		first := !seen[s.ID]
		seen[s.ID] = true
		return first
	})
}

// sourceOf puts a source in the form of an answer.
func sourceOf(s graph.Source) Source {
	return Source{ID: string(s.ID), Kind: string(s.Kind), Title: s.Title, Date: s.Date}
}
