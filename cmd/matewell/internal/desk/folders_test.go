package desk

import (
	"path/filepath"
	"strings"
	"testing"

	"matewell/graph/disk/disktest"
)

// folderNames are what dataDir, cacheDir and configDir answer, below home and
// with forward slashes; an error is told as "none".
func folderNames(variables map[string]string, home string) [3]string {
	e := Env{Getenv: func(name string) string { return variables[name] }}
	var names [3]string
	for i, ask := range []func() (string, error){e.DataDir, e.CacheDir, e.ConfigDir} {
		dir, err := ask()
		if err != nil {
			dir = "none"
		}
		names[i] = strings.TrimPrefix(filepath.ToSlash(strings.TrimPrefix(dir, home)), "/")
	}
	return names
}

// folderCase is what an environment makes of the three.
type folderCase struct {
	name      string
	variables map[string]string
	want      [3]string
}

func TestFolders(t *testing.T) {
	home := filepath.Join(disktest.Folder(t), "a home")
	tests := []folderCase{
		{"the usual ones", map[string]string{homeVariable: home}, usualFolders},
		{"named by a variable", map[string]string{homeVariable: home, "XDG_CACHE_HOME": filepath.Join(home, "quick")},
			[3]string{usualFolders[0], "quick/matewell", usualFolders[2]}},
		{"a relative path is ignored", map[string]string{homeVariable: home, "XDG_DATA_HOME": "data"}, usualFolders},
		{"a relative home is none", map[string]string{homeVariable: "home"}, [3]string{"none", "none", "none"}},
		{"nobody's", nil, [3]string{"none", "none", "none"}},
		{"variables alone do", map[string]string{"XDG_DATA_HOME": home, "XDG_CACHE_HOME": home, "XDG_CONFIG_HOME": home},
			[3]string{"matewell", "matewell", "matewell"}},
	}
	tests = append(tests, systemFolderCases(home)...)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := folderNames(tt.variables, home); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// What is loaded must never lie where old cached stores are thrown away.
func TestCacheHoldsNothingElse(t *testing.T) {
	names := folderNames(map[string]string{homeVariable: disktest.Folder(t)}, "")
	if strings.HasPrefix(names[0]+"/", names[1]+"/") || strings.HasPrefix(names[2]+"/", names[1]+"/") {
		t.Errorf("data %s or config %s lies in the cache %s", names[0], names[2], names[1])
	}
}
