package desk

import (
	"time"

	"golang.org/x/sys/windows"
)

// BootClock reads the time since the machine was started, the time it slept included. Who
// sets the machine's clock moves this by nothing.
func BootClock() func() time.Duration { return windows.DurationSinceBoot }
