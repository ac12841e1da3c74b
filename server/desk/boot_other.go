//go:build !(darwin || linux || windows)

package desk

import "time"

// BootClock reads the time since it was made. Who sets the machine's clock moves this by
// nothing; on some of these systems the time that the machine slept is missing.
func BootClock() func() time.Duration {
	made := time.Now()
	return func() time.Duration { return time.Since(made) }
}
