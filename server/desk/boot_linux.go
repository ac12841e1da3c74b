package desk

import (
	"time"

	"golang.org/x/sys/unix"
)

// BootClock reads the time since the machine was started, the time it slept included. Who
// sets the machine's clock moves this by nothing.
func BootClock() func() time.Duration {
	return func() time.Duration {
		var at unix.Timespec
		if err := unix.ClockGettime(unix.CLOCK_BOOTTIME, &at); err != nil {
			panic("desk: read the time since boot: " + err.Error())
		}
		return time.Duration(at.Nano())
	}
}
