package store_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/disk/disktest"
	"matewell/graph/sampletest"
	"matewell/graph/store"
)

// perRound is how many models each load holds, all of one round.
const perRound = 5

func roundFacts(round int) (f graph.Facts) {
	for i := range perRound {
		f.Models = append(f.Models, graph.Model{ID: graph.ModelID(fmt.Sprintf("fjeld-%d", i)), Name: strconv.Itoa(round)})
	}
	return f
}

// roundOf is the round that a store holds; an error when it holds anything but
// all of one round.
func roundOf(root string) (round int, err error) {
	s, err := store.OpenCurrent(root)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	models, err := s.Models(context.Background())
	if err != nil {
		return 0, err
	}
	if len(models) != perRound {
		return 0, fmt.Errorf("%d models, want %d", len(models), perRound)
	}
	for _, m := range models {
		if m.Name != models[0].Name {
			return 0, fmt.Errorf("models of rounds %s and %s", models[0].Name, m.Name)
		}
	}
	return strconv.Atoi(models[0].Name)
}

// askOn asks a store until it holds a last round, for a process of its own;
// what it met goes to standard output.
func askOn(root string, lastRound int) error {
	asked, seen := 0, 0
	for last := 0; last < lastRound; asked++ {
		round, err := roundOf(root)
		if err != nil {
			return fmt.Errorf("question %d, after round %d: %w", asked, last, err)
		}
		if round < last {
			return fmt.Errorf("round %d after round %d", round, last)
		}
		if round != last {
			last, seen = round, seen+1
		}
		time.Sleep(time.Millisecond) // leave the loader some of the machine
	}
	fmt.Println(asked, seen)
	return nil
}

// A process that loads many times, each time over what it loaded before, and two
// others that ask all the while lose nothing: each question meets all of one
// load, never an older one than before, and the last load is there at the end.
func TestLoadAndAskAtOnce(t *testing.T) {
	root, rounds := disktest.Folder(t), sampletest.Of(t, 30, 200)
	build(t, root, roundFacts(0))
	var askers []*exec.Cmd
	var said []*bufio.Reader
	for range 2 {
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), "MATEWELL_TEST_ASK="+root, fmt.Sprint("MATEWELL_TEST_ROUNDS=", rounds))
		c.Stderr = os.Stderr
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = c.Process.Kill() }) // when the test failed before the last round
		askers, said = append(askers, c), append(said, bufio.NewReader(out))
	}
	for round := 1; round <= rounds; round++ {
		build(t, root, roundFacts(round))
	}
	for i, c := range askers {
		line, _ := said[i].ReadString('\n')
		if err := c.Wait(); err != nil {
			t.Errorf("asker %d: %v", i, err)
			continue
		}
		asked, seen, _ := strings.Cut(strings.TrimSpace(line), " ")
		t.Logf("asker %d: %s questions, %s different loads", i, asked, seen)
		if n, err := strconv.Atoi(seen); err != nil || n < 2 {
			t.Errorf("asker %d met %q loads: nothing happened at once", i, seen)
		}
	}
	if got := entries(t, root, "gen-"); len(got) > 2 {
		t.Errorf("generations left: %v", got)
	}
	build(t, root, roundFacts(rounds))
	if got := entries(t, root, "gen-"); len(got) != 1 {
		t.Errorf("generations left once nobody reads: %v", got)
	}
}
