package queries_test

import (
	"fmt"
	"strings"

	"matewell/queries/differ"
	"matewell/queries/evidence"
	"matewell/queries/fits"
)

// The stories' own way to show an answer: the row first, what hangs on it
// indented below. The command line prints tables; those are tested there.

func fitsText(a fits.FitsAnswer) string {
	var b strings.Builder
	for _, row := range a.Rows {
		part := string(row.Part)
		if part == "" {
			part = "-"
		}
		fmt.Fprintf(&b, "%s | %s | %s | %s | %s\n", row.Position, row.Covers, part, row.Verdict, row.Why)
		if row.Source.ID != "" {
			fmt.Fprintf(&b, "    source: %s, %s\n", row.Source.ID, row.Rank)
		}
		for _, s := range row.OtherSources {
			fmt.Fprintf(&b, "    also: %s, %s%s\n", s.ID, s.Rank, reprint(s))
		}
		for _, c := range row.Changes {
			fmt.Fprintf(&b, "    change: %s (%s)\n", c.Do, c.Effort)
		}
		for _, c := range row.ContradictedBy {
			fmt.Fprintf(&b, "    against: %s\n", c)
		}
		if row.Settle != "" {
			fmt.Fprintf(&b, "    to settle it: %s\n", row.Settle)
		}
		if len(row.SettledBy) > 0 {
			fmt.Fprintf(&b, "    settled by: %s\n", strings.Join(row.SettledBy, ", "))
		}
		for _, kit := range row.Kits {
			fmt.Fprintf(&b, "    in kit: %s holds %d\n", kit.Part, kit.Quantity)
		}
		if len(row.Schemes) > 0 {
			fmt.Fprintf(&b, "    scheme: %s\n", strings.Join(row.Schemes, ", "))
		}
	}
	for _, line := range a.Split {
		fmt.Fprintf(&b, "variant %s: %s\n", line.Variant, orDash(line.Frames))
	}
	for _, c := range a.Unsaid {
		fmt.Fprintf(&b, "nobody says: %s %s\n", c.Model, c)
	}
	for _, p := range a.Belongs {
		fmt.Fprintf(&b, "    such a part belongs at %s\n", p.Position)
	}
	for _, twin := range a.Twins {
		fmt.Fprintf(&b, "twin, not the same part: %s (%s)\n", twin.Part, twin.Differs)
		for _, use := range twin.Listed {
			fmt.Fprintf(&b, "    listed at %s | %s\n", use.Position, use.Covers)
		}
	}
	for _, f := range a.Withdrawn {
		fmt.Fprintf(&b, "withdrawn: %s: %s\n", f.ID, f.Withdrawn)
	}
	if a.SafetyOpen() {
		b.WriteString("something safety-relevant is unknown or does not fit\n")
	}
	if b.Len() == 0 {
		return "nobody says anything\n"
	}
	return b.String()
}

func reprint(s evidence.Source) string {
	if s.ReprintOf == "" {
		return ""
	}
	return ", reprint of " + s.ReprintOf
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

func differText(a differ.DifferAnswer) string {
	var b strings.Builder
	for _, row := range a.Rows {
		fmt.Fprintf(&b, "%s | %s | %s | %s\n", row.Position, row.Covers, row.Class, row.Why)
		if row.Class != differ.ClassSame {
			fmt.Fprintf(&b, "    A has %s, B has %s\n", sideText(row.A), sideText(row.B))
		}
		if row.AOnB != nil {
			fmt.Fprintf(&b, "    interchange: %s\n", row.Interchange)
			directionText(&b, "A on B", row.AOnB)
			directionText(&b, "B on A", row.BOnA)
		}
		for _, d := range row.Disputed {
			fmt.Fprintf(&b, "    disputed: %s\n", d)
		}
		if row.Runs != "" {
			fmt.Fprintf(&b, "    years: %s\n", row.Runs)
		}
		if len(row.SettledBy) > 0 {
			fmt.Fprintf(&b, "    settled by: %s\n", strings.Join(row.SettledBy, ", "))
		}
	}
	for _, v := range a.Alone {
		fmt.Fprintf(&b, "compared with nothing: %s\n", v)
	}
	fmt.Fprintln(&b, a.Summary.Text)
	return b.String()
}

func sideText(s *differ.DifferSide) string {
	switch {
	case s == nil:
		return "no such position"
	case s.Part == "":
		return "nothing listed"
	case len(s.Others) > 0:
		return fmt.Sprintf("%s (also listed: %s)", s.Part, strings.Trim(fmt.Sprint(s.Others), "[]"))
	}
	return string(s.Part)
}

func directionText(b *strings.Builder, which string, d *differ.Direction) {
	fmt.Fprintf(b, "    %s: %s: %s (%s%s)\n", which, d.Verdict, d.Why, d.Via, voiceText(d))
	for _, c := range d.Changes {
		fmt.Fprintf(b, "        change: %s (%s)\n", c.Do, c.Effort)
	}
	for _, c := range d.ContradictedBy {
		fmt.Fprintf(b, "        against: %s\n", c)
	}
}

func voiceText(d *differ.Direction) string {
	if d.Source.ID == "" {
		return ""
	}
	return ", " + d.Source.ID + ", " + d.Rank.String()
}
