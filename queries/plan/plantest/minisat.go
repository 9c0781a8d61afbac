// Package plantest puts problems to a solver that is not ours, for tests.
package plantest

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

// solution is a line of minisat+ that names the cost of a solution; the last one
// is the smallest.
var solution = regexp.MustCompile(`(?m)^c Found solution: (\d+)`)

// Minisat runs minisat+ on a problem in the open pseudo-Boolean format and gives
// the optimum it proves, empty when it proves that there is none. Told a number that
// is no great one, it looks only for what costs at most that. Without the program it
// skips the test.
func Minisat(t testing.TB, opb []byte, atMost string) string {
	t.Helper()
	program, err := exec.LookPath("minisat+")
	if err != nil {
		if os.Getenv("MATEWELL_NO_SKIP") == "1" {
			t.Fatal("minisat+ is not installed, and MATEWELL_NO_SKIP=1 forbids to skip")
		}
		t.Skip("minisat+ is not installed")
	}
	file := filepath.Join(t.TempDir(), "problem.opb")
	if err := os.WriteFile(file, opb, 0o600); err != nil {
		t.Fatal(err)
	}
	// Adders for the goal (-ga) suit sums of many weights. Its exit code says
	// what it found (10, 20, 30), so only the output counts.
	args := []string{"-a", "-ga", file}
	if _, err := strconv.ParseInt(atMost, 10, 32); err == nil { // it takes no greater one
		args = append(args, "-goal="+atMost)
	}
	out, _ := exec.Command(program, args...).Output()
	if bytes.Contains(out, []byte("s UNSATISFIABLE")) {
		return ""
	}
	all := solution.FindAllSubmatch(out, -1)
	if !bytes.Contains(out, []byte("s OPTIMUM FOUND")) || len(all) == 0 {
		t.Fatalf("minisat+ says:\n%s", out)
	}
	return string(all[len(all)-1][1])
}
