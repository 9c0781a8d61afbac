//go:build !windows && !darwin

package desk

var usualFolders = [3]string{".local/share/matewell", ".cache/matewell", ".config/matewell"}

// systemFolderCases are those of this system alone.
func systemFolderCases(string) []folderCase { return nil }
