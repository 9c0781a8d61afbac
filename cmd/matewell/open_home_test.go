package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestHomeBelowAFile: where a home is a file, or below one, nothing was loaded, recorded
// or named there, and the built-in set answers (common practice for users of services, no source).
func TestHomeBelowAFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	cached := demoCache(t)
	for _, home := range []string{file, filepath.Join(file, "below")} {
		e, _, errs := testEnv(t)
		e.Getenv = func(name string) string {
			return map[string]string{"XDG_DATA_HOME": home, "XDG_CONFIG_HOME": home, "XDG_CACHE_HOME": cached}[name]
		}
		code := run(e, []string{"list", "sources"})
		name, err := userName(e)
		if code != exitAnswered || !strings.Contains(errs.String(), "built-in") || name != "" || err != nil {
			t.Errorf("%s: exit %d, name %q (%v): %s", home, code, name, err, errs)
		}
	}
}
