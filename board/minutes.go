package board

import "fmt"

// Minutes says which way a length of time is rounded to the minutes that people read: the
// same on every screen.
type Minutes string

// Work takes the minutes that it has begun, so it is rounded up; of time left only whole
// minutes are there, so it is rounded down.
const (
	MinutesOfWork Minutes = "work"
	MinutesLeft   Minutes = "left"
)

// secondsBelow is how much time is left when its seconds matter, in seconds.
const secondsBelow = 600

// Whole is sec in whole minutes.
func (m Minutes) Whole(sec int) int {
	whole := sec / 60
	switch rest := sec % 60; {
	case m == MinutesOfWork && rest > 0:
		whole++
	case m == MinutesLeft && rest < 0:
		whole--
	}
	return whole
}

// Say is sec as people say it: "12 min"; time left of ten minutes or less with its seconds,
// "1:06".
func (m Minutes) Say(sec int) string {
	if m == MinutesLeft && sec >= 0 && sec <= secondsBelow {
		return fmt.Sprintf("%d:%02d", sec/60, sec%60)
	}
	return fmt.Sprintf("%d min", m.Whole(sec))
}
