package copies

import (
	"fmt"
	"strings"

	"github.com/go-json-experiment/json"

	"mendline/board"
	"mendline/board/forecast"
)

// Copies is how the board's copies stand (copies/event; none where none are kept).
type Copies struct {
	Folders []FolderCopies `json:"folders"`
	Laptops []Laptop       `json:"laptops"`
}

// FolderCopies is a folder that takes copies.
type FolderCopies struct {
	Path string `json:"path"`
	// At is when its newest copy was made, Current that nothing has changed since.
	At      board.Moment `json:"at,omitzero"`
	Current bool         `json:"current"`
	// Failing says why no copy is written there, since Since.
	Failing string       `json:"failing,omitzero"`
	Since   board.Moment `json:"since,omitzero"`
	// OwnDisk: it is not on the disk that the board is on.
	OwnDisk bool `json:"ownDisk"`
}

// Laptop is another that keeps copies.
type Laptop struct {
	Address string `json:"address"`
	// At is when the newest copy that it has was made, Current that nothing has changed
	// since.
	At      board.Moment `json:"at,omitzero"`
	Current bool         `json:"current"`
	// Failing says why it gets no copy, since Since.
	Failing string       `json:"failing,omitzero"`
	Since   board.Moment `json:"since,omitzero"`
}

// State is how the copies stand now.
func (k *Keeper) State() Copies {
	at, v := k.o.Desk.Now(), k.o.Desk.View()
	c := Copies{Folders: []FolderCopies{}, Laptops: k.laptops.state(at, v)}
	for _, f := range k.folders {
		c.Folders = append(c.Folders, f.state(at, v))
	}
	return c
}

// Newest is when the newest copy was made that is away from the board's own file, 0 while
// there is none.
func (k *Keeper) Newest() board.Moment {
	newest := board.Moment(0)
	c := k.State()
	for _, f := range c.Folders {
		newest = max(newest, f.At)
	}
	for _, l := range c.Laptops {
		newest = max(newest, l.At)
	}
	return newest
}

// Entry is the state as a derived noun, nil where no copies are kept.
func (c Copies) Entry() []byte {
	if len(c.Folders)+len(c.Laptops) == 0 {
		return nil
	}
	b, err := json.Marshal(c)
	if err != nil {
		panic("copies: encode: " + err.Error())
	}
	return b
}

// Alarms asks for someone's act for each folder and laptop that gets no copy.
func (c Copies) Alarms() []forecast.Alarm {
	var list []forecast.Alarm
	for i, f := range c.Folders {
		if f.Failing != "" {
			list = append(list, forecast.Alarm{
				Slug: fmt.Sprintf("copy-%d", i+1), Class: forecast.ClassC, Since: f.Since,
				What: fmt.Sprintf("The board is not copied to %s: %s", f.Path, f.Failing),
				Act:  "see to it, or put another one in its place",
			})
		}
	}
	for _, l := range c.Laptops {
		if l.Failing != "" {
			list = append(list, forecast.Alarm{
				Slug: "laptop-" + strings.NewReplacer(".", "-", ":", "-").Replace(l.Address), Class: forecast.ClassC, Since: l.Since,
				What: fmt.Sprintf("The laptop %s keeps no copy of the board: %s", l.Address, l.Failing),
				Act:  "see to it, or say that it is not coming back",
			})
		}
	}
	return list
}
