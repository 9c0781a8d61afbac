package main

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"unsafe"
)

// TestAdviseLarge reads back from the kernel that the room asked for may come in
// large pages: "hg" among the flags of its mapping, as proc_pid_smaps(5) says.
func TestAdviseLarge(t *testing.T) {
	switch enabled, err := os.ReadFile("/sys/kernel/mm/transparent_hugepage/enabled"); {
	case err != nil:
		t.Skipf("no large pages here: %v", err)
	case strings.Contains(string(enabled), "[never]"):
		t.Skip("large pages are switched off here")
	}
	room := make([]byte, 8<<20)
	if flags := mappingFlags(t, &room[4<<20]); strings.Contains(flags, " hg") {
		t.Fatalf("before: flags are%s", flags)
	}
	adviseLarge(room)
	if flags := mappingFlags(t, &room[4<<20]); !strings.Contains(flags, " hg") {
		t.Errorf("after: flags are%s; want hg among them", flags)
	}
}

// mappingFlags is the VmFlags line of the mapping that holds p.
func mappingFlags(t *testing.T, p *byte) string {
	t.Helper()
	maps, err := os.ReadFile("/proc/self/smaps")
	if err != nil {
		t.Skipf("no list of mappings here: %v", err)
	}
	at := uintptr(unsafe.Pointer(p))
	inside := false
	for line := range strings.Lines(string(maps)) {
		var from, to uintptr
		if n, _ := fmt.Sscanf(line, "%x-%x ", &from, &to); n == 2 {
			inside = from <= at && at < to
		}
		if flags, ok := strings.CutPrefix(line, "VmFlags:"); ok && inside {
			return " " + strings.TrimSpace(flags)
		}
	}
	t.Skip("the mappings carry no flags here")
	return ""
}
