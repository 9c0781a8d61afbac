package main

import (
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"matewell/queries/donor"
)

// TestSheetInBrowser opens a sheet with markup in every text in headless Chromium: no
// script of a stranger runs, on no screen is anything wider than that, and it prints to
// a PDF. Without chromium it skips, unless MATEWELL_NO_SKIP=1 forbids that.
func TestSheetInBrowser(t *testing.T) {
	alone(t)
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("MATEWELL_NO_SKIP") == "1" {
			t.Fatal("chromium is not installed, and MATEWELL_NO_SKIP=1 forbids to skip")
		}
		t.Skip("chromium is not installed")
	}
	dir := t.TempDir()
	open := func(name, page string, args ...string) string {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, []byte(page), 0o644); err != nil {
			t.Fatal(err)
		}
		flags := append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
			"--user-data-dir=" + dir + "/profile"}, args...)
		out, err := exec.Command(chromium, append(flags, "file://"+file)...).Output()
		if err != nil {
			t.Fatalf("chromium: %v", err)
		}
		return string(out)
	}
	evil := sheetText(t, swapSheet(evilSwap()))
	pdf := filepath.Join(dir, "sheet.pdf")
	ran := open("evil.html", strings.ReplaceAll(evil, `alert(`, `document.body.dataset.ran=(`),
		"--dump-dom", "--no-pdf-header-footer", "--print-to-pdf="+pdf)
	if strings.Contains(ran, "data-ran=") || !strings.Contains(ran, "Cautions") {
		t.Error("a script in a text has run, or the page did not open")
	}
	if body, err := os.ReadFile(pdf); err != nil || !strings.HasPrefix(string(body), "%PDF-") {
		t.Errorf("it does not print: %v", err)
	}
	readme, err := os.ReadFile(filepath.Join("..", "..", "testdata", "readme", "panel.html"))
	if err != nil {
		t.Fatal(err)
	}
	turn := "turn the boss of the carrier down until the caliper stands in line with its disc; "
	work := modifySection([]donor.DonorModify{{At: "front-brake/caliper-left", Effort: "lathe or welding",
		Do: strings.Repeat(turn, 3)}})
	long := sheetText(t, jobSheet{Blocks: []sheetBlock{blockOf("modify", work).ticked()}})
	for name, page := range map[string]string{"readme": string(readme), "work": long} {
		for _, screen := range []int{390, 900} {
			fitsScreen(t, open, name, page, screen)
		}
	}
}

// fitsScreen has a page opened on a screen of some pixels: nothing of it is wider.
func fitsScreen(t *testing.T, open func(name, page string, args ...string) string, name, page string, screen int) {
	t.Helper()
	// No window is narrower than some 500 pixels, a frame within one is.
	frame := fmt.Sprintf(`<!DOCTYPE html><title>not measured</title>
<iframe id="f" style="width:%dpx;height:800px;border:0" srcdoc="%s"></iframe>
<script>onload = () => {
	document.title = "wide " + document.getElementById("f").contentDocument.documentElement.scrollWidth
}</script>`, screen, html.EscapeString(page))
	told := open("screen.html", frame, "--dump-dom", "--window-size=1200,900")
	found := regexp.MustCompile(`<title>wide (\d+)</title>`).FindStringSubmatch(told)
	if found == nil {
		t.Fatal("the page was not measured: the test says nothing")
	}
	if wide, _ := strconv.Atoi(found[1]); wide == 0 || wide > screen {
		t.Errorf("the sheet of %s is %d wide on a screen of %d", name, wide, screen)
	}
}
