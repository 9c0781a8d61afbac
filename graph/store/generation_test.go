package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/disk/disktest"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

// TestMain lets the test program play a build that is killed half-way, and one
// that asks while another loads.
func TestMain(m *testing.M) {
	if root := os.Getenv("MATEWELL_TEST_ASK"); root != "" {
		rounds, err := strconv.Atoi(os.Getenv("MATEWELL_TEST_ROUNDS"))
		if err == nil {
			err = askOn(root, rounds)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	if root := os.Getenv("MATEWELL_TEST_BUILD"); root != "" {
		large := storetest.Whole(storetest.Large(20_000))
		err := store.BuildFrom(context.Background(), root, large, nil, func(done, total int) {
			if done > total/2 {
				fmt.Println("half-way")
				time.Sleep(time.Minute)
			}
		})
		fmt.Println("not killed:", err)
		os.Exit(1)
	}
	debug.SetGCPercent(400) // much is filled for a moment only
	os.Exit(m.Run())
}

func build(t *testing.T, root string, f graph.Facts) {
	t.Helper()
	if err := store.BuildFrom(context.Background(), root, storetest.Whole(f), nil, nil); err != nil {
		t.Fatal(err)
	}
}

func openCurrent(t *testing.T, root string) *store.Store {
	t.Helper()
	s, err := store.OpenCurrent(root)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// models are the identities of the models of a store, to tell two apart.
func models(t *testing.T, s *store.Store) string {
	t.Helper()
	list, err := s.Models(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, m := range list {
		ids = append(ids, string(m.ID))
	}
	return strings.Join(ids, " ")
}

func oneModel(id graph.ModelID) graph.Facts {
	return graph.Facts{Models: []graph.Model{{ID: id}}}
}

// entries are the names in a folder that start with a prefix.
func entries(t *testing.T, root, prefix string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(root, prefix+"*"))
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// TestLostPointer: a store whose pointer is gone beside a whole generation is damaged,
// and not one into which nothing was ever loaded; loading again mends it.
func TestLostPointer(t *testing.T) {
	root := disktest.Folder(t)
	if err := store.BuildFrom(t.Context(), root, storetest.Whole(oneModel("m")), nil, nil); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(filepath.Join(root, "current")); err != nil {
		t.Fatal(err)
	}
	if _, err := store.OpenCurrent(root); !errors.Is(err, store.ErrDamaged) || errors.Is(err, store.ErrNoGeneration) {
		t.Errorf("without its pointer: %v, want ErrDamaged", err)
	}
	if err := store.BuildFrom(t.Context(), root, storetest.Whole(oneModel("m")), nil, nil); err != nil {
		t.Fatal(err)
	}
	s, err := store.OpenCurrent(root)
	if err != nil {
		t.Fatalf("loaded again: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

func TestOpenCurrentWithoutBuild(t *testing.T) {
	for _, root := range []string{disktest.Folder(t), filepath.Join(disktest.Folder(t), "absent")} {
		if _, err := store.OpenCurrent(root); !errors.Is(err, store.ErrNoGeneration) {
			t.Errorf("OpenCurrent(%s) = %v, want ErrNoGeneration", root, err)
		}
	}
}

func TestBuildSwitchesAndRemovesTheOldGeneration(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, oneModel("fjeld-750"))
	build(t, root, oneModel("skerry-620"))
	if got := models(t, openCurrent(t, root)); got != "skerry-620" {
		t.Errorf("models %q, want skerry-620", got)
	}
	if got := entries(t, root, "gen-"); len(got) != 1 {
		t.Errorf("generations left: %v, want one", got)
	}
}

func TestReaderKeepsItsGeneration(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, oneModel("fjeld-750"))
	first, second := openCurrent(t, root), openCurrent(t, root) // two at once
	build(t, root, oneModel("skerry-620"))
	if got := models(t, first) + " " + models(t, second); got != "fjeld-750 fjeld-750" {
		t.Errorf("open readers see %q, want the old generation", got)
	}
	if got := entries(t, root, "gen-"); len(got) != 2 {
		t.Errorf("generations %v, want the old one kept while it is read", got)
	}
	first.Close()
	second.Close()
	build(t, root, oneModel("skerry-620"))
	if got := entries(t, root, "gen-"); len(got) != 1 {
		t.Errorf("generations %v, want the old ones removed", got)
	}
}

func TestKilledBuildLeavesTheOldGeneration(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, oneModel("fjeld-750"))
	killBuildHalfWay(t, root)
	if got := entries(t, root, "unfinished-"); len(got) != 1 {
		t.Fatalf("unfinished generations %v, want one", got)
	}
	if got := models(t, openCurrent(t, root)); got != "fjeld-750" {
		t.Errorf("models %q after the kill, want fjeld-750", got)
	}
	build(t, root, oneModel("skerry-620"))
	if got := entries(t, root, "unfinished-"); len(got) != 0 {
		t.Errorf("left behind: %v", got)
	}
	if got := models(t, openCurrent(t, root)); got != "skerry-620" {
		t.Errorf("models %q, want skerry-620", got)
	}
}

func killBuildHalfWay(t *testing.T, root string) {
	t.Helper()
	child := startBuild(t, root)
	if err := child.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	child.Wait()
}

// startBuild starts another process that builds and stops half-way.
func startBuild(t *testing.T, root string) *exec.Cmd {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), "MATEWELL_TEST_BUILD="+root)
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	line := make([]byte, 8)
	if _, err := out.Read(line); err != nil || string(line) != "half-way" {
		child.Process.Kill()
		t.Fatalf("child said %q, %v", line, err)
	}
	return child
}

func TestLiveBuildIsNotSweptAway(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, oneModel("fjeld-750"))
	child := startBuild(t, root)
	defer func() { child.Process.Kill(); child.Wait() }()
	ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer cancel()
	err := store.BuildFrom(ctx, root, storetest.Whole(oneModel("skerry-620")), nil, nil)
	if !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("Build beside a live one = %v, want it to wait until its time is up", err)
	}
	if got := entries(t, root, "unfinished-"); len(got) != 1 {
		t.Errorf("the live build's folder: %v, want it untouched", got)
	}
	if got := models(t, openCurrent(t, root)); got != "fjeld-750" {
		t.Errorf("models %q, want fjeld-750", got)
	}
}

func TestCancelledBuildCleansUp(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, oneModel("fjeld-750"))
	ctx, cancel := context.WithCancel(context.Background())
	err := store.BuildFrom(ctx, root, storetest.Whole(storetest.Sample()), nil, func(done, total int) { cancel() })
	if !errors.Is(err, context.Canceled) {
		t.Errorf("Build = %v, want it cancelled", err)
	}
	if got := entries(t, root, "unfinished-"); len(got) != 0 {
		t.Errorf("left behind: %v", got)
	}
	if got := models(t, openCurrent(t, root)); got != "fjeld-750" {
		t.Errorf("models %q, want fjeld-750", got)
	}
}

func TestBrokenPointer(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, oneModel("fjeld-750"))
	if err := os.WriteFile(filepath.Join(root, "current"), []byte("../elsewhere\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := store.OpenCurrent(root); err == nil || !strings.Contains(err.Error(), "names no generation") {
		t.Errorf("OpenCurrent = %v, want a word about the pointer", err)
	}
	build(t, root, oneModel("skerry-620"))
	if got := models(t, openCurrent(t, root)); got != "skerry-620" {
		t.Errorf("models %q after a new build, want skerry-620", got)
	}
}

func TestReadersDuringBuilds(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, oneModel("fjeld-750"))
	stop := make(chan struct{})
	var readers sync.WaitGroup
	for range 2 {
		readers.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				s, err := store.OpenCurrent(root)
				if err != nil {
					t.Errorf("OpenCurrent: %v", err)
					return
				}
				if got := models(t, s); got != "fjeld-750" {
					t.Errorf("models %q", got)
				}
				s.Close()
			}
		})
	}
	for range 4 {
		build(t, root, oneModel("fjeld-750"))
	}
	close(stop)
	readers.Wait()
}

func TestBuildNeedsAFolder(t *testing.T) {
	file := filepath.Join(disktest.Folder(t), "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	root := filepath.Join(file, "root")
	if err := store.BuildFrom(context.Background(), root, storetest.Whole(graph.Facts{}), nil, nil); err == nil {
		t.Error("Build under a file succeeded")
	}
}

func TestGenerationsDiscarded(t *testing.T) {
	root := filepath.Join(disktest.Folder(t), "store")
	build(t, root, oneModel("fjeld-750"))
	reader := openCurrent(t, root)
	if err := store.Discard(root); err != nil {
		t.Errorf("discard what is read: %v", err)
	}
	late := openCurrent(t, root)
	if got := models(t, reader) + " " + models(t, late); got != "fjeld-750 fjeld-750" {
		t.Errorf("models %q, want the store left as it is while it is read", got)
	}
	reader.Close()
	late.Close()
	if err := store.Discard(root); err != nil {
		t.Error(err)
	}
	if got := entries(t, root, ""); len(got) != 0 {
		t.Errorf("left: %v", got)
	}
}
