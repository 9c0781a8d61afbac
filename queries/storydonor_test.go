package queries_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"matewell/queries/demotest"
	"matewell/queries/readertest"
)

// TestDonorStories runs the stories testdata/queries/donor_*.txtar against the
// demonstration data. Each says in its first lines, so that a fitter can check
// it by hand, why the plan it wants is the best one. MATEWELL_UPDATE=1 rewrites
// what is wanted: read the difference as if it were code.
func TestDonorStories(t *testing.T) {
	r := readertest.New(demotest.Facts(t))
	files, err := filepath.Glob(demotest.Root(t) + "/testdata/queries/donor_*.txtar")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d stories, want at least four: %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if len(archive.Files) != 2 || archive.Files[0].Name != "ask" || archive.Files[1].Name != "want" {
				t.Fatal("a donor story holds the files ask and want")
			}
			got, _ := answerText(context.Background(), r, strings.TrimSpace(string(archive.Files[0].Data)))
			if want := string(archive.Files[1].Data); got != want {
				if os.Getenv("MATEWELL_UPDATE") == "" {
					t.Fatalf("got:\n%s\nwant:\n%s", got, want)
				}
				archive.Files[1].Data = []byte(got)
				if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}
