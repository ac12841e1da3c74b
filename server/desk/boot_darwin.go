package desk

import (
	"time"

	"golang.org/x/sys/unix"
)

// BootClock reads the time since the machine was started, the time it slept included. Who
// sets the machine's clock moves this by nothing.
//
// clock_gettime(3) of macOS, from memory: of its monotonic clocks this is the one that no
// adjustment touches and that counts sleep.
func BootClock() func() time.Duration {
	return func() time.Duration {
		var at unix.Timespec
		if err := unix.ClockGettime(unix.CLOCK_MONOTONIC_RAW, &at); err != nil {
			panic("desk: read the time since boot: " + err.Error())
		}
		return time.Duration(at.Nano())
	}
}
