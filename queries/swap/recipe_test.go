package swap_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestOneRecipe: nobody puts a judgement together beside judging.met and judging.earn. The
// figures that a change is drawn from take no verdict.
func TestOneRecipe(t *testing.T) {
	examiner := regexp.MustCompile(`examine\.NewExaminer(Unclassed)?\(`)
	earning := regexp.MustCompile(`\.Places\(ctx,|\btakenWhole\(ctx,|\bsayings\(ctx,`)
	may := map[*regexp.Regexp][]string{
		examiner: {"figure/figure.go", "swap/held.go", "swap/judge.go"},
		earning:  {"swap/judge.go"},
	}
	found := map[*regexp.Regexp]int{}
	files, err := filepath.Glob("../*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.ToSlash(strings.TrimPrefix(file, ".."+string(filepath.Separator)))
		for call, where := range may {
			if at := call.Find(text); at != nil {
				found[call]++
				if !slices.Contains(where, name) {
					t.Errorf("%s has %s of its own: go through swap.Judge, swap.Met, Trials or Measured", name, at)
				}
			}
		}
	}
	for call, where := range may {
		if found[call] != len(where) {
			t.Errorf("%s is in %d files, want it in %d", call, found[call], len(where))
		}
	}
}
