package desk

var usualFolders = [3]string{"Library/Application Support/matewell", "Library/Caches/matewell",
	"Library/Application Support/matewell"}

// systemFolderCases are those of macOS alone.
func systemFolderCases(string) []folderCase { return nil }
