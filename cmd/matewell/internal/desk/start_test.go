package desk

import (
	"errors"
	"testing"
	"time"
)

// The text is that of proc(5): field 22 of stat is the start in hundredths of a
// second since boot.
func TestProcessAge(t *testing.T) {
	stat := func(name, start string) string {
		return "1234 (" + name + ") R 1 1 1 0 -1 4194560 1 0 0 0 0 0 0 0 20 0 5 0 " + start + " 1000 200\n"
	}
	tests := []struct {
		name, stat, uptime string
		want               time.Duration
	}{
		{"started 40 ms ago", stat("mw", "100000"), "1000.04 1900.10\n", 40 * time.Millisecond},
		{"a name with a blank and a bracket", stat("m) w", "100000"), "1000.04 1900.10\n", 40 * time.Millisecond},
		{"a start in the future is not believed", stat("mw", "100000"), "999.50 1\n", 0},
		{"nor one long ago", stat("mw", "100000"), "1002.00 1\n", 0},
		{"nor what can't be read", stat("mw", "soon"), "1000.04 1\n", 0},
		{"nothing there", "", "1000.04 1\n", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := processAge(func(name string) ([]byte, error) {
				switch {
				case name == "/proc/uptime":
					return []byte(tt.uptime), nil
				case tt.stat != "":
					return []byte(tt.stat), nil
				}
				return nil, errors.New("no such file")
			})
			if got.Round(time.Millisecond) != tt.want {
				t.Errorf("%v, want %v", got, tt.want)
			}
		})
	}
}
