package desk

import (
	"errors"
	"os"
	"path/filepath"

	"mendline/board"
)

// rescued is the copy that was written last when the file had gone from its place.
type rescued struct {
	path string
	rev  board.Rev
}

// rescue copies the board from the open file, wherever that is now, to the folder
// where it was, or else to the next one that can be written to. A file that comes and
// goes is copied again only when the board has changed.
func (d *Desk) rescue() {
	if d.rescued.path != "" && d.rescued.rev == d.state.Rev {
		return
	}
	d.rescued = rescued{}
	var tried []error
	for _, folder := range d.rescueFolders() {
		path := filepath.Join(folder, d.clock.now().Time().UTC().Format("mendline-rescue-20060102-150405.db"))
		if _, err := d.store.Backup(path); err != nil {
			tried = append(tried, err)
			continue
		}
		d.rescued = rescued{path: path, rev: d.state.Rev}
		d.o.Log.Warn("a rescue copy of the board was written", "path", path, "rev", d.state.Rev)
		d.publish()
		return
	}
	d.o.Log.Error("no rescue copy of the board could be written", "error", errors.Join(tried...))
}

func (d *Desk) rescueFolders() []string {
	path, err := filepath.Abs(d.o.Path)
	if err != nil {
		path = d.o.Path
	}
	folder := filepath.Dir(path)
	folders := []string{folder, filepath.Dir(folder)}
	if home, err := os.UserHomeDir(); err == nil {
		folders = append(folders, home)
	}
	return append(folders, os.TempDir())
}
