package conflicts

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/lists"
)

func claimConflict(row fits.FitsRow) ConflictRow {
	at := []graph.PositionID{row.Position}
	conflict := ConflictRow{Sort: sortOfClaims(row), About: fmt.Sprintf("%s at %s", row.Part, row.Position),
		Part: row.Part, At: at,
		Covers: row.Covers, Settle: row.Settle, AnswerID: row.ID,
		settle: settling{part: row.Part, at: at, number: strings.HasPrefix(row.Settle, "read the number"),
			measured: strings.HasPrefix(row.Settle, "measure")}}
	if row.Safety != graph.SafetyNone {
		conflict.Safety = []graph.Safety{row.Safety}
	}
	undecided := row.Verdict == graph.Unknown
	if !undecided {
		conflict.Sides = append(conflict.Sides, ConflictVoices{Says: row.Verdict.String() + ": " + row.Why, Rank: row.Rank,
			Sources: []evidence.Source{row.Source}})
	}
	for _, against := range row.ContradictedBy {
		says := against.Why
		if against.Verdict != graph.NoVerdict {
			says = against.Verdict.String() + ": " + says
		}
		conflict.Sides = append(conflict.Sides, ConflictVoices{Says: says, Rank: against.Source.Rank,
			Sources: []evidence.Source{against.Source}})
	}
	conflict.Open = undecided || len(conflict.Sides) > 1 && conflict.Sides[0].Rank == conflict.Sides[1].Rank
	return conflict
}

func sortOfClaims(row fits.FitsRow) ConflictSort {
	ways := append([]evidence.Via{row.Via}, lists.Mapped(row.ContradictedBy,
		func(c evidence.Contradiction) evidence.Via { return c.Via })...)
	switch {
	case slices.Contains(ways, evidence.ViaFinding):
		return ConflictFinding
	case slices.Contains(ways, evidence.ViaSupersession), slices.Contains(ways, evidence.ViaKit):
		return ConflictSupersession
	}
	return ConflictListing
}

// joinConflict puts rows that say the same of several machines together.
func joinConflict(groups map[string]*ConflictRow, row ConflictRow) {
	key := string(row.Sort) + row.About
	for _, s := range row.Sides {
		key += "\x00" + s.Says + s.Rank.String()
	}
	have, ok := groups[key]
	if !ok {
		groups[key] = &row
		return
	}
	have.Covers = joinText(have.Covers, row.Covers)
}
