package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// memory is what a process holds, in bytes: what is resident now, of that what is
// its own and not a mapped file, and the most that ever was resident.
type memory struct {
	Resident int64 `json:"residentBytes"`
	Own      int64 `json:"ownBytes"`
	Peak     int64 `json:"peakBytes"`
}

// memoryOf reads /proc/PID/status (proc(5): VmRSS, RssAnon, VmHWM, in kB).
func memoryOf(pid int) (memory, error) {
	b, err := os.ReadFile(procFile(pid, "status"))
	if err != nil {
		return memory{}, fmt.Errorf("read memory: %w", err)
	}
	return parseMemory(string(b))
}

func parseMemory(text string) (memory, error) {
	kB := map[string]int64{}
	for line := range strings.Lines(text) {
		name, rest, _ := strings.Cut(line, ":")
		if f := strings.Fields(rest); len(f) == 2 && f[1] == "kB" {
			n, err := strconv.ParseInt(f[0], 10, 64)
			if err != nil {
				return memory{}, fmt.Errorf("read memory: %w", err)
			}
			kB[name] = n << 10
		}
	}
	m := memory{Resident: kB["VmRSS"], Own: kB["RssAnon"], Peak: kB["VmHWM"]}
	if m.Peak == 0 {
		return m, fmt.Errorf("read memory: no VmHWM in the process's status")
	}
	return m, nil
}

// clockTicks a second is what Linux counts processor time in, on every kind of
// machine Go runs on (proc(5), USER_HZ; from memory).
const clockTicks = 100

// processorOf is the processor time a process has used, its user and system time.
func processorOf(pid int) (time.Duration, error) {
	b, err := os.ReadFile(procFile(pid, "stat"))
	if err != nil {
		return 0, fmt.Errorf("read processor time: %w", err)
	}
	return parseProcessor(string(b))
}

func parseProcessor(text string) (time.Duration, error) {
	// The second field is the name in brackets, which may hold spaces and brackets.
	f := strings.Fields(text[strings.LastIndexByte(text, ')')+1:])
	const user, system = 14 - 3, 15 - 3 // fields 14 and 15, f begins at field 3
	if len(f) <= system {
		return 0, fmt.Errorf("read processor time: %d fields in the process's stat", len(f))
	}
	var ticks int64
	for _, i := range [...]int{user, system} {
		n, err := strconv.ParseInt(f[i], 10, 64)
		if err != nil {
			return 0, fmt.Errorf("read processor time: %w", err)
		}
		ticks += n
	}
	return time.Duration(ticks) * time.Second / clockTicks, nil
}

func procFile(pid int, name string) string {
	return filepath.Join("/proc", strconv.Itoa(pid), name)
}
