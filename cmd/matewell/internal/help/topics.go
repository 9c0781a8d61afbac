package help

import (
	"embed"
	"io"
	"strings"
)

// The pages of help that tell of no single command, as Markdown.
//
//go:embed topic/*.md
var TopicFiles embed.FS

// Topics are those pages in the order in which a newcomer reads them, each with
// a tab and what it tells.
var Topics = []string{
	"first\tfrom nothing to the first answer about your own machine",
	"answers\thow to read an answer",
	"machine\ta machine of your own, and what you find out",
	"plans\tdonors, offers and plans",
	"data\tyour own data files",
	"systems\tWindows, macOS and small boards",
}

// Topic prints the page of that name, if there is one.
func Topic(w io.Writer, name string) (told bool, err error) {
	page, err := TopicFiles.ReadFile("topic/" + name + ".md")
	if err != nil {
		return false, nil
	}
	_, err = io.WriteString(w, plainTopic(string(page)))
	return true, err
}

// plainTopic is a page as a terminal shows it: no marks of a heading, and what
// is typed or written in a file moved in instead of fenced.
func plainTopic(page string) string {
	var b strings.Builder
	fenced := false
	for line := range strings.Lines(strings.TrimPrefix(page, "# ")) {
		switch {
		case strings.HasPrefix(line, "```"):
			fenced = !fenced
			continue
		case fenced && line != "\n":
			b.WriteString("  ")
		}
		b.WriteString(line)
	}
	return b.String()
}
