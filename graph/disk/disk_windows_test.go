package disk_test

import (
	"path/filepath"
	"strings"
	"testing"

	"matewell/graph/disk"
	"matewell/graph/disk/disktest"
)

func TestReplaceRefusesWhatIsNoFile(t *testing.T) {
	dir := disktest.Folder(t)
	for _, name := range []string{"swap: 1.svg", "nul.yaml", "what?.svg", "dot."} {
		err := disk.Replace(filepath.Join(dir, name), []byte("x"), 0o666)
		if err == nil || !strings.Contains(err.Error(), "would do") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if got := names(t, dir); len(got) != 0 {
		t.Errorf("written: %q", got)
	}
}
