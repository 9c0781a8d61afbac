package loader

import (
	"embed"
	"io/fs"
)

//go:embed pattern/*.yaml
var patternFiles embed.FS

// builtPatterns reads the patterns that ship with the program. A test keeps them
// free of faults.
func builtPatterns() []*dataFile {
	sub, err := fs.Sub(patternFiles, "pattern")
	if err != nil {
		panic("loader: " + err.Error()) // the path is a constant of this file
	}
	layers := []Layer{{Name: "pattern", FS: sub}}
	names, err := findFiles(sub, func(p string, err error) { panic("loader: " + p + ": " + err.Error()) },
		func(p string) { panic("loader: " + p + " is a link") })
	if err != nil {
		panic("loader: " + err.Error())
	}
	g := newGrammar()
	files := make([]*dataFile, 0, len(names))
	for _, name := range names {
		f, err := readFile(g, layers, fileName{0, name})
		if err != nil {
			panic("loader: " + err.Error())
		}
		files = append(files, f)
	}
	return files
}
