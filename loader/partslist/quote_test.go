package partslist_test

import (
	"fmt"
	"strings"
	"testing"

	"matewell/loader/partslist"
)

// TestOpenQuotes: a quote that is not closed where it should be would make one part
// of many rows. It is told with its line, wherever the next quote stands.
func TestOpenQuotes(t *testing.T) {
	const head = "Part No,Name,Qty\n"
	tests := []struct{ name, text, want string }{
		{"never closed", head + "K 1,\"brake disc front,1\nK 2,clutch cable,1\nK 3,caliper,1\n", "line 2: "},
		{"closed by the next row's", head + "K 1.100-0,\"disc,1\nK 1.101-0,\"clutch cable\",1\nK 1.102-0,x,1\n", "line 2: "},
		{"closed some rows on", head + "K 1,a,1\nK 2,\"disc,1\nK 3,b,1\nK 4,c,1\nK 5,\"d\",1\nK 6,e,1\n", "line 3: "},
		{"in the last column", head + "K 1,a,\"1\nK 2,b,1\nK 3,\"c\",1\n", "line 2: "},
		{"in the first column", head + "\"K 1,a,1\nK 2,b,1\n\"K 3\",c,1\n", "line 2: "},
		{"with semicolons", "Nr;Name;St\n1;\"a;1\n2;b;1\n3;c;1\n", "line 2: "},
		{"a cell of two lines", head + "K 1,\"disc,\nfront\",1\nK 2,b,1\n", ""},
		{"quotes in quotes", head + "K 1,\"the \"\"long\"\" one, 5\"\"\",1\nK 2,b,1\n", ""},
		{"inches amid a value", head + "K 1,5\" disc,1\nK 2,b,1\n", ""},
		{"an empty one", head + "K 1,\"\",1\nK 2,b,1\n", ""},
	}
	for _, tt := range tests {
		for end, lineEnd := range map[string]string{"lf": "\n", "crlf": "\r\n", "cr": "\r"} {
			_, err := partslist.Read("list.csv", []byte(strings.ReplaceAll(tt.text, "\n", lineEnd)), partslist.Options{})
			if said := fmt.Sprint(err); tt.want == "" && err != nil || tt.want != "" && (!strings.HasPrefix(said, tt.want) ||
				!strings.Contains(said, "a quote is opened here")) {
				t.Errorf("%s, %s: %v, want %q", tt.name, end, err, tt.want)
			}
		}
	}
}

// TestHugeCells: what has cells as large as books is no list, and is not looked at
// word by word.
func TestHugeCells(t *testing.T) {
	for size, ok := range map[int]bool{1000: true, 65 << 10: false, 8 << 20: false} {
		text := "Number,Name\nK 1," + strings.Repeat("x y ", size/4) + "\n"
		if _, err := partslist.Read("list.csv", []byte(text), partslist.Options{}); (err == nil) != ok {
			t.Errorf("%d bytes: %v", size, err)
		}
		if _, err := partslist.Cells([]byte(text)); (err == nil) != ok {
			t.Errorf("%d bytes: %v", size, err)
		}
	}
}
