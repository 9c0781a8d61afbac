package desk

import "path/filepath"

var usualFolders = [3]string{"AppData/Local/matewell", "AppData/Local/matewell/cache", "AppData/Roaming/matewell"}

// systemFolderCases are those of Windows alone.
func systemFolderCases(home string) []folderCase {
	return []folderCase{
		{"its own variables", map[string]string{"LOCALAPPDATA": filepath.Join(home, "here"), "APPDATA": filepath.Join(home,
			"roams")},
			[3]string{"here/matewell", "here/matewell/cache", "roams/matewell"}},
	}
}
