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
	fitScreens(t, open, map[string]string{"readme": string(readme), "work": long}, 390, 900)
}

// fitScreens has pages opened on screens of some pixels, all at once: nothing of any is
// wider. No window is narrower than some 500 pixels, a frame within one is.
func fitScreens(t *testing.T, open func(name, page string, args ...string) string, pages map[string]string,
	screens ...int) {
	t.Helper()
	frames := "<!DOCTYPE html><title>not measured</title>\n"
	for _, screen := range screens {
		for name, page := range pages {
			frames += fmt.Sprintf(`<iframe name="%s on %d" style="width:%dpx;height:800px;border:0" srcdoc="%s"></iframe>
`, name, screen, screen, html.EscapeString(page))
		}
	}
	told := open("screens.html", frames+`<script>onload = () => {
	document.title = [...document.querySelectorAll("iframe")].map(
		f => f.name + " wide " + f.contentDocument.documentElement.scrollWidth).join(";")
}</script>`, "--dump-dom", "--window-size=1200,900")
	found := regexp.MustCompile(`(\w+) on (\d+) wide (\d+)`).FindAllStringSubmatch(told, -1)
	if len(found) != len(pages)*len(screens) {
		t.Fatalf("%d pages were measured of %d: the test says nothing", len(found), len(pages)*len(screens))
	}
	for _, one := range found {
		screen, _ := strconv.Atoi(one[2])
		if wide, _ := strconv.Atoi(one[3]); wide == 0 || wide > screen {
			t.Errorf("the sheet of %s is %d wide on a screen of %d", one[1], wide, screen)
		}
	}
}
