package queries_test

import (
	"fmt"
	"strings"

	"matewell/queries/evidence"
	"matewell/queries/part"
)

func partText(a part.PartAnswer) string {
	var b strings.Builder
	for _, c := range a.Parts {
		fmt.Fprintf(&b, "%s | %s | core %s, revision %s, colour %s | found by %s\n", c.ID, orDash(c.Name), c.Core,
			orDash(c.Revision), orDash(c.Colour), c.FoundBy)
		for _, alias := range c.Aliases {
			fmt.Fprintf(&b, "    %s: %s\n", alias.Type, alias.Text)
		}
		for _, f := range c.Features {
			featureText(&b, f)
		}
		for _, ask := range c.NotKnown {
			fmt.Fprintf(&b, "    not known: %s\n", ask)
		}
		for _, line := range c.Chain {
			fmt.Fprintf(&b, "    chain: %s\n", line)
		}
		for _, content := range c.Contains {
			fmt.Fprintf(&b, "    holds: %d x %s\n", content.Quantity, content.Part)
		}
		for _, kit := range c.Kits {
			fmt.Fprintf(&b, "    in kit: %s\n", kit)
		}
		usesText(&b, c.Used)
		for _, f := range c.Findings {
			fmt.Fprintf(&b, "    finding: %s: %s: %s (%s)\n", f.ID, orDash(f.Verdict), orDash(f.Why), f.Source.Rank)
			if f.Withdrawn != "" {
				fmt.Fprintf(&b, "        withdrawn: %s\n", f.Withdrawn)
			}
		}
		for _, twin := range c.Twins {
			fmt.Fprintf(&b, "    twin: %s (%s)\n", twin.Part, twin.Differs)
		}
	}
	return b.String()
}

func featureText(b *strings.Builder, f part.FeatureCard) {
	for _, d := range f.Dims {
		fmt.Fprintf(b, "    %s %s: %s\n", f.Name, d.Name, d.Value)
		for _, r := range d.Readings {
			fmt.Fprintf(b, "        %s, %s, %s%s\n", r.Value, r.Source.ID, r.Source.Rank, withText(r.Method))
		}
		if d.Conflict {
			fmt.Fprintf(b, "        they disagree: %s\n", d.Settle)
		}
	}
}

func withText(method string) string {
	if method == "" {
		return ""
	}
	return ", " + method
}

func usesText(b *strings.Builder, uses []evidence.Use) {
	for _, use := range uses {
		fmt.Fprintf(b, "    used at %s | %s\n", use.Position, use.Covers)
	}
}

func whereText(a part.WhereAnswer) string {
	var b strings.Builder
	fmt.Fprintln(&b, a.Part.ID)
	usesText(&b, a.Uses)
	for _, twin := range a.Revisions {
		fmt.Fprintf(&b, "twin, not the same part: %s (%s)\n", twin.Part, twin.Differs)
		usesText(&b, twin.Listed)
	}
	for _, gap := range a.Gaps {
		fmt.Fprintf(&b, "no source speaks for: %s %s\n", gap.Model, gap.Market)
	}
	return b.String()
}

func identifyText(a part.IdentifyAnswer) string {
	var b strings.Builder
	if a.VIN != nil {
		fmt.Fprintf(&b, "17 characters: year letter %s: %v, check digit %s, holds %v\n", a.VIN.YearLetter, a.VIN.Years,
			a.VIN.CheckDigit, a.VIN.CheckHolds)
	}
	for _, c := range a.Candidates {
		fmt.Fprintf(&b, "%s | %s | %s\n", c.Variant, orDash(c.Frames), c.Why)
	}
	for _, fact := range a.Settle {
		fmt.Fprintf(&b, "to settle it: %s\n", fact.Fact)
		for _, says := range fact.Says {
			fmt.Fprintf(&b, "    %s\n", says)
		}
	}
	for _, near := range a.Near {
		fmt.Fprintf(&b, "near: %s\n", near)
	}
	for _, note := range a.Notes {
		fmt.Fprintf(&b, "note: %s\n", note)
	}
	if b.Len() == 0 {
		return "nothing\n"
	}
	return b.String()
}

func findText(a part.FindAnswer) string {
	var b strings.Builder
	found := func(mark string, parts []part.FoundPart) {
		for _, f := range parts {
			fmt.Fprintf(&b, "%s%s | %s | %s | %s\n", mark, f.Part, orDash(f.Name), f.Feature,
				orDash(strings.Join(f.Matches, ", ")))
			for _, ask := range f.NotKnown {
				fmt.Fprintf(&b, "    not known: %s\n", ask)
			}
			for _, off := range f.Off {
				fmt.Fprintf(&b, "    off: %s\n", off)
			}
			usesText(&b, f.Uses)
		}
	}
	found("", a.Parts)
	found("close: ", a.Close)
	if b.Len() == 0 {
		return "nothing\n"
	}
	return b.String()
}
