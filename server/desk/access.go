package desk

import (
	"os"

	"mendline/board"
)

// Reply gives the follower a frame of the server's own, behind the acks and
// refusals that wait.
func (f *Follower) Reply(r *Frame) { f.reply(r) }

// End ends the follower for why. What waits is still taken, and nothing comes
// after it.
func (f *Follower) End(why error) { f.cut(why) }

// NewCommandID makes the id of a command of the server's own, by the desk's clock.
func (d *Desk) NewCommandID() board.CommandID { return newCommandID(d.clock.now()) }

// FileBytes is the size of the board's file.
func (d *Desk) FileBytes() (int64, error) {
	info, err := os.Stat(d.o.Path)
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}
