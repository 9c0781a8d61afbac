package page

import (
	"strings"
	"testing"
)

// What a fact says stays text in Markdown: no link, no picture, no markup, no heading.
func TestMarkdownIsText(t *testing.T) {
	for text, want := range map[string]string{
		"plain, 84 mm (left)":        "plain, 84 mm (left)",
		"[look](https://a.example)":  `\[look\](https:\//a.example)`,
		"![x](y)":                    `!\[x\](y)`,
		"see www.a.example":          `see www\.a.example`,
		"heron@a.example":            `heron\@a.example`,
		"&#91;x&#93;(y) a & b":       "&amp;#91;x&amp;#93;(y) a &amp; b",
		"~~gone~~":                   `\~\~gone\~\~`,
		"# loud":                     `\# loud`,
		"> said":                     `\> said`,
		"- [ ] to do":                `\- \[ \] to do`,
		"10 - 12 mm, over > under #": "10 - 12 mm, over > under #",
		"<b>":                        "&lt;b>",
	} {
		p := Page{{Table: Table{Columns: []string{"note"}, Rows: [][]string{{text}}}, Lines: []string{text}}}
		var out strings.Builder
		if err := p.WriteMarkdown(&out); err != nil {
			t.Fatal(err)
		}
		if got := out.String(); !strings.Contains(got, "- "+want+"\n") || !strings.Contains(got, "| "+want+" |\n") {
			t.Errorf("%q is written\n%s\nwant %q", text, got, want)
		}
	}
}
