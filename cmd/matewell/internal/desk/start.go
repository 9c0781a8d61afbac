package desk

import (
	"bytes"
	"os"
	"strconv"
	"time"
)

// longestStart is how much of the life of a process may lie before its main
// function; what seems longer is a clock that can't be trusted.
const longestStart = time.Second

// processAge is how long ago the process was started, where Linux says so, to a
// hundredth of a second; else zero. What the system and the runtime do before
// main takes a quarter of the time of a short answer, more under load.
//
// Source: proc(5), /proc/pid/stat field 22 and /proc/uptime, both since boot;
// the former in units of sysconf(_SC_CLK_TCK), which is 100 on every Linux.
func processAge(read func(name string) ([]byte, error)) time.Duration {
	stat, err := read("/proc/self/stat")
	if err != nil {
		return 0
	}
	fields := bytes.Fields(stat[bytes.LastIndexByte(stat, ')')+1:]) // the name of the program may hold anything
	const startTime = 22 - 3                                        // the first after the name is field 3
	uptime, err := read("/proc/uptime")
	if err != nil || len(fields) <= startTime {
		return 0
	}
	ticks, err := strconv.ParseInt(string(fields[startTime]), 10, 64)
	if err != nil {
		return 0
	}
	seconds, _, _ := bytes.Cut(uptime, []byte(" "))
	now, err := strconv.ParseFloat(string(seconds), 64)
	if err != nil {
		return 0
	}
	age := time.Duration(now*float64(time.Second)) - time.Duration(ticks)*time.Second/100
	if age < 0 || age > longestStart {
		return 0
	}
	return age
}

// began is when the process began.
func began() time.Time { return time.Now().Add(-processAge(os.ReadFile)) }
