package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/cmd/matewell/internal/help"
)

const readmeFile = "../../README.md"

// toldToReaders is README.md and the pages of help that tell of no single
// command: all that shows commands and files to type off.
func toldToReaders(t *testing.T) string {
	t.Helper()
	readme, err := os.ReadFile(readmeFile)
	if err != nil {
		t.Fatal(err)
	}
	all := []string{string(readme)}
	for _, topic := range help.Topics {
		name, _, _ := strings.Cut(topic, "\t")
		page, err := help.TopicFiles.ReadFile("topic/" + name + ".md")
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, string(page))
	}
	return strings.Join(all, "\n")
}

// TestTopicsAreRead holds that every page is listed, is found by its name, and
// keeps within a terminal.
func TestTopicsAreRead(t *testing.T) {
	pages, err := fs.Glob(help.TopicFiles, "topic/*.md")
	if err != nil || len(pages) != len(help.Topics) {
		t.Errorf("%d pages, %d topics, %v", len(pages), len(help.Topics), err)
	}
	for _, topic := range help.Topics {
		name, _, _ := strings.Cut(topic, "\t")
		e, out, errs := testEnv(t)
		if code := run(e, []string{"help", name}); code != exitAnswered || errs.Len() > 0 {
			t.Errorf("help %s: exit %d, %s", name, code, errs)
		}
		if strings.Contains(out.String(), "```") || strings.HasPrefix(out.String(), "#") {
			t.Errorf("help %s shows marks that are meant for a reader of Markdown", name)
		}
		for line := range strings.Lines(out.String()) {
			if len([]rune(line)) > 80 {
				t.Errorf("help %s: a line of %d characters: %s", name, len([]rune(line)), line)
			}
		}
	}
}

// TestReadmeOutput keeps the answers that README.md shows real: each block that
// starts with "$ matewell" must hold what a terminal of 80 columns shows. Set
// MATEWELL_UPDATE to have them written, then read the diff.
func TestReadmeOutput(t *testing.T) {
	readme, err := os.ReadFile(readmeFile)
	if err != nil {
		t.Fatal(err)
	}
	alone(t)
	cache := demoCache(t)
	shown := 0
	blocks := strings.Split(string(readme), "```")
	for i := 1; i < len(blocks); i += 2 {
		block, ok := strings.CutPrefix(blocks[i], "\n$ matewell ")
		if !ok {
			continue
		}
		shown++
		command, want, _ := strings.Cut(block, "\n")
		e, out, errs := testEnv(t)
		e.OutTerm, e.Width = true, 80
		e.Getenv = func(name string) string { return map[string]string{"XDG_CACHE_HOME": cache, "NO_COLOR": "1"}[name] }
		if code := run(e, shellWords(command)); code == exitFailed || code == exitUsage {
			t.Fatalf("%s: exit %d: %s", command, code, errs)
		}
		if out.String() != want {
			t.Errorf("README.md shows for %q:\n%s\nbut the answer is:\n%s", command, want, out)
		}
		blocks[i] = "\n$ matewell " + command + "\n" + out.String()
	}
	if shown == 0 {
		t.Error("README.md shows no answer")
	}
	if os.Getenv("MATEWELL_UPDATE") != "" {
		if err := os.WriteFile(readmeFile, []byte(strings.Join(blocks, "```")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestReadmeData checks the data files that README.md and the pages of help show with matewell itself.
func TestReadmeData(t *testing.T) {
	files, name := fstest.MapFS{}, ""
	for i, block := range strings.Split(toldToReaders(t), "```") {
		if i%2 == 0 {
			continue
		}
		name = ""
		for line := range strings.Lines(block) {
			if named, ok := strings.CutPrefix(line, "# my-data/"); ok {
				name = strings.TrimSpace(named)
				files[name] = &fstest.MapFile{}
			} else if name != "" {
				files[name].Data = append(files[name].Data, line...)
			}
		}
	}
	if len(files) < 3 {
		t.Fatalf("README.md shows %d data files; was its form changed?", len(files))
	}
	e, out, errs := testEnv(t)
	e.DirFS = func(string) fs.FS { return files }
	if code := run(e, []string{"check", "my-data"}); code != exitAnswered || errs.Len() > 0 {
		t.Errorf("exit %d:\n%s%s", code, out, errs)
	}
}

// shellWords parts a command as a shell does, with double quotes only.
func shellWords(command string) []string {
	words := regexp.MustCompile(`("[^"]*"|[^\s"])+`).FindAllString(command, -1)
	for i := range words {
		words[i] = strings.ReplaceAll(words[i], `"`, "")
	}
	return words
}

// readmePages are what README.md shows besides text: the file, and the command that
// makes it; {} stands for the file.
var readmePages = map[string]string{
	"swap.svg":   `swap --on skerry-620/2002/eu front-brake/master-cylinder=207.7003 --picture {}`,
	"panel.html": `swap --on skerry-620/2002/eu bodywork/side-panel-left="Tarnholt 302.4026/sl" --sheet {}`,
}

// TestReadmePages keeps the picture and the sheet that README.md shows as the program
// makes them. Set MATEWELL_UPDATE to have them written, then look at them.
func TestReadmePages(t *testing.T) {
	readme, err := os.ReadFile(readmeFile)
	if err != nil {
		t.Fatal(err)
	}
	alone(t)
	cache := demoCache(t)
	for name, command := range readmePages {
		file := filepath.Join(t.TempDir(), name)
		kept := filepath.Join("..", "..", "testdata", "readme", name)
		e, _, errs := testEnv(t)
		e.Getenv = cacheAt(cache)
		args := shellWords(strings.ReplaceAll(command, "{}", "FILE"))
		args[len(args)-1] = file
		if code := run(e, args); code == exitFailed || code == exitUsage {
			t.Fatalf("%s: exit %d: %s", command, code, errs)
		}
		got, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if os.Getenv("MATEWELL_UPDATE") != "" {
			if err := os.WriteFile(kept, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(kept)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("testdata/readme/%s is not what %s makes; set MATEWELL_UPDATE=1, run again, and look at it", name, command)
		}
		if !strings.Contains(string(readme), "testdata/readme/"+name) || !strings.Contains(string(readme),
			strings.ReplaceAll(command, "{}", name)) {
			t.Errorf("README.md does not show %s with its command", name)
		}
	}
}
