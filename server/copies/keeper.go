package copies

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"time"

	"mendline/board"
	"mendline/server/desk"
)

const (
	copyEvery = time.Minute
	lookEvery = 10 * time.Second // for a stick that went or came back
)

// Options of a keeper. Desk and Data are needed.
type Options struct {
	Desk *desk.Desk
	// Data is the board's own folder, in which a copy is made, and Photos that of its photos.
	Data, Photos string
	// Folders take copies. They must be there: none is made, so that the place of a stick
	// that is out is not taken for the stick.
	Folders []string
	// Log takes what an operator should hear of; nil means nobody listens.
	Log *slog.Logger
}

// Keeper keeps the copies of one board. Its methods may be called from any goroutine.
type Keeper struct {
	o       Options
	log     *slog.Logger
	folders []*folder
	laptops laptops

	making sync.Mutex // one copy at a time
	newest Copy
}

// Copy is an examined copy of the board beside it.
type Copy struct {
	Rev   board.Rev
	At    board.Moment // of the board, as the copy was begun
	Line  string       // see store.Report
	epoch string
	path  string
}

// New makes a keeper that does nothing before Run.
//
// Errors: those of the store.
func New(o Options) (*Keeper, error) {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	k := &Keeper{o: o, log: o.Log}
	for i, path := range o.Folders {
		k.folders = append(k.folders, &folder{number: i + 1, path: path, board: o.Data})
	}
	old, _ := filepath.Glob(filepath.Join(o.Data, "copy-*.db*")) // of a process that was killed
	for _, path := range old {
		if err := os.Remove(path); err != nil {
			return nil, fmt.Errorf("remove an old copy: %w", err)
		}
	}
	held, err := o.Desk.Store().Load(0)
	if err != nil {
		return nil, fmt.Errorf("read the code for copies: %w", err)
	}
	k.laptops.code = string(held.Secrets[codeKey])
	return k, nil
}

// Run keeps the folders' copies until ctx ends; then each gets what has changed since,
// and Run returns when they have it, or last has passed.
func (k *Keeper) Run(ctx context.Context, last time.Duration) {
	var all sync.WaitGroup
	for _, f := range k.folders {
		all.Go(func() { k.keep(ctx, f) })
	}
	<-ctx.Done()
	ended := make(chan struct{})
	go func() { // ends with the folders; one that hangs ends with the process
		all.Wait()
		close(ended)
	}()
	patience := time.NewTimer(last)
	defer patience.Stop()
	select {
	case <-ended:
	case <-patience.C:
		k.log.Warn("a folder did not take its last copy in time")
	}
	k.making.Lock()
	defer k.making.Unlock()
	k.remove(k.newest)
}

// keep looks after one folder.
func (k *Keeper) keep(ctx context.Context, f *folder) {
	look := time.NewTicker(lookEvery)
	defer look.Stop()
	for {
		k.round(f, false)
		select {
		case <-look.C:
		case <-ctx.Done():
			k.round(f, true)
			return
		}
	}
}

// round gives the folder a copy if it is due.
func (k *Keeper) round(f *folder, now bool) {
	at, v := k.o.Desk.Now(), k.o.Desk.View()
	if !f.due(at, v, now) {
		k.say(f)
		return
	}
	c, err := k.put(f)
	f.ends(c, k.o.Desk.Now(), err)
	k.say(f)
}

// say logs what has changed about a folder.
func (k *Keeper) say(f *folder) {
	switch why, changed := f.news(); {
	case !changed:
	case why == "":
		k.log.Info("the board is copied again", "folder", f.path)
	default:
		k.log.Error("the board is not copied", "folder", f.path, "why", why)
	}
}

func (k *Keeper) put(f *folder) (Copy, error) {
	c, in, err := k.fresh(0)
	if err != nil {
		return Copy{}, err
	}
	defer in.Close()
	if err := f.folder().Take(c, in); err != nil {
		return Copy{}, err
	}
	if err := takePhotos(k.o.Photos, f.path); err != nil {
		return c, fmt.Errorf("photos: %w", err)
	}
	return c, nil
}

// fresh is a copy of the board, open: the one that there is, where nothing has changed
// since, or it is younger than age.
func (k *Keeper) fresh(age time.Duration) (Copy, *os.File, error) {
	k.making.Lock()
	defer k.making.Unlock()
	v := k.o.Desk.View()
	changed := k.newest.Rev != v.State.Rev || k.newest.epoch != v.Epoch
	if changed && !(k.newest.path != "" && k.o.Desk.Now() < k.newest.At.Add(age)) {
		c, err := k.make(v.Epoch)
		if err != nil {
			return Copy{}, nil, err
		}
		k.remove(k.newest)
		k.newest = c
	}
	in, err := os.Open(k.newest.path)
	if errors.Is(err, fs.ErrNotExist) {
		k.newest = Copy{}
	}
	return k.newest, in, err
}

func (k *Keeper) make(epoch string) (Copy, error) {
	c := Copy{At: k.o.Desk.Now(), epoch: epoch}
	c.path = filepath.Join(k.o.Data, fmt.Sprintf("copy-%d.db", c.At))
	r, err := k.o.Desk.Store().Draft(c.path)
	if err != nil {
		return Copy{}, err
	}
	c.Rev, c.Line = board.Rev(r.Rev), r.Line
	return c, nil
}

func (k *Keeper) remove(c Copy) {
	if c.path == "" {
		return
	}
	if err := os.Remove(c.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		k.log.Warn("an old copy stays beside the board", "path", c.path, "error", err)
	}
}
