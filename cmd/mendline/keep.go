package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"mendline/board"
	"mendline/server/copies"
	"mendline/server/store"
)

const (
	keepEvery   = 10 * time.Second
	keepPatient = 5 * time.Minute  // for a large copy on a bad Wi-Fi
	keepAnswers = 30 * time.Second // for the board to begin with it
)

// errCode says that the board does not know the code.
var errCode = errors.New("the code is not the one that the captain's screen shows now")

// keeping is this laptop keeping copies of a board that is served by another.
type keeping struct {
	t      terminal
	client http.Client
	data   dataDir
	url    string
	code   string
	has    copies.Copy // the newest that is here
	tag    string
	said   string
}

// keep keeps copies of another laptop's board until ctx ends, or somebody serves the
// board from here.
func keep(ctx context.Context, t terminal, args []string) error {
	f := flag.NewFlagSet("keep", flag.ContinueOnError)
	data := dataFlag(f)
	args, err := parse(f, args, "URL", "[CODE]")
	if err != nil {
		return err
	}
	k := &keeping{t: t, data: dataDir(*data), url: strings.TrimRight(args[0], "/"), code: t.env["MENDLINE_COPIES_CODE"]}
	if len(args) == 2 {
		k.code = args[1]
	}
	if u, err := url.Parse(k.url); err != nil || u.Host == "" || (u.Scheme != "http" && u.Scheme != "https") {
		return misuse(fmt.Sprintf("%q is no address of a board: it looks like http://192.168.1.20:8080", args[0]))
	}
	if k.code == "" {
		return misuse("it takes the code for copies, which the captain's screen shows under set up, codes")
	}
	if err := k.data.make(); err != nil {
		return err
	}
	lines := http.DefaultTransport.(*http.Transport).Clone()
	lines.ResponseHeaderTimeout = keepAnswers
	k.client.Transport = lines
	fmt.Fprintf(t.out, "Keeping copies of the board at %s in %s.\n", k.url, k.data)
	fmt.Fprintf(t.out, "To go on from the newest here, see that the other laptop no longer serves, then: mendline serve -data %s\n", k.data)
	next := time.NewTicker(keepEvery)
	defer next.Stop()
	for {
		if done, err := k.round(ctx); done {
			return err
		}
		select {
		case <-next.C:
		case <-ctx.Done():
			return nil
		}
	}
}

// round asks once. It is done when there is no use in asking again.
func (k *keeping) round(ctx context.Context) (done bool, err error) {
	ctx, cancel := context.WithTimeout(ctx, keepPatient)
	defer cancel()
	err = k.pull(ctx)
	var held *store.HeldError
	switch {
	case errors.As(err, &held):
		k.say("The board is served from here now (process %d): keeping has ended.", held.PID)
		return true, nil
	case errors.Is(err, store.ErrGoneOn):
		return true, fmt.Errorf("%w: keep copies in another folder, with -data", err)
	case errors.Is(err, errCode) && k.tag == "":
		return true, err
	case context.Cause(ctx) == context.Canceled:
	case err != nil && k.tag == "":
		k.say("No copy yet: %v", err)
	case err != nil:
		k.say("No newer copy: %v. The newest here is of %s, revision %d.", err, clockTime(k.has), k.has.Rev)
	default:
		k.say("The newest copy here is of %s, revision %d, examined.", clockTime(k.has), k.has.Rev)
	}
	return false, nil
}

func clockTime(c copies.Copy) string { return c.At.Time().Local().Format("15:04:05") }

// say prints what is new, with the time.
func (k *keeping) say(format string, args ...any) {
	if text := fmt.Sprintf(format, args...); text != k.said {
		k.said = text
		fmt.Fprintln(k.t.out, time.Now().Format("15:04:05 "), text)
	}
}

// pull asks for a newer copy than the one here and puts it where it is served from.
func (k *keeping) pull(ctx context.Context) error {
	if pid := store.HeldBy(k.data.board()); pid != 0 {
		return &store.HeldError{Path: k.data.board(), PID: pid}
	}
	res, err := k.ask(ctx, "/copies/board")
	if err != nil {
		return err
	}
	defer res.Body.Close()
	if res.StatusCode == http.StatusNotModified {
		return k.pullPhotos(ctx)
	}
	tag := strings.Trim(res.Header.Get("ETag"), `"`)
	c, ok := copies.Tagged(tag)
	if !ok {
		return fmt.Errorf("%s answers with something that is no copy", k.url)
	}
	if err := k.takeCopy(c, tag, res.Body); err != nil {
		return err
	}
	k.has, k.tag = c, tag
	if confirmed, err := k.ask(ctx, "/copies/board"); err == nil { // so that the board knows at once
		confirmed.Body.Close()
	}
	return k.pullPhotos(ctx)
}

func (k *keeping) takeCopy(c copies.Copy, tag string, sealed io.Reader) error {
	temp := filepath.Join(string(k.data), "coming.db")
	defer os.Remove(temp)
	if err := unsealTo(temp, sealed, k.code, tag); err != nil {
		return err
	}
	r, err := store.Check(temp)
	if err == nil {
		err = r.Err()
	}
	if err != nil {
		return fmt.Errorf("examine what came: %w", err)
	}
	if board.Rev(r.Rev) != c.Rev || r.Line != c.Line {
		return fmt.Errorf("what came is not what %s says it is", tag)
	}
	folder := filepath.Join(string(k.data), "copies")
	if err := os.Mkdir(folder, 0o700); err != nil && !os.IsExist(err) {
		return err
	}
	in, err := os.Open(temp)
	if err != nil {
		return err
	}
	defer in.Close()
	if err := copies.Folder(folder).Take(c, in); err != nil {
		return err
	}
	return store.PutCopy(temp, k.data.board())
}

func (k *keeping) pullPhotos(ctx context.Context) error {
	var list strings.Builder
	if err := k.unseal(ctx, "/copies/photos", copies.PhotoList, &list); err != nil {
		return err
	}
	missing, err := copies.MissingPhotos(strings.Fields(list.String()), k.data.photos())
	if err != nil {
		return err
	}
	for _, name := range missing {
		res, err := k.ask(ctx, "/copies/photos/"+name)
		if err != nil {
			return err
		}
		path := filepath.Join(k.data.photos(), name)
		err = unsealTo(path+".coming", res.Body, k.code, name)
		if err = errors.Join(err, res.Body.Close()); err == nil {
			err = os.Rename(path+".coming", path)
		}
		if err != nil {
			return fmt.Errorf("photo %s: %w", name, err)
		}
	}
	return nil
}

func (k *keeping) unseal(ctx context.Context, path, about string, to io.Writer) error {
	res, err := k.ask(ctx, path)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	return copies.Unseal(to, res.Body, k.code, about)
}

func (k *keeping) ask(ctx context.Context, path string) (*http.Response, error) {
	q, err := http.NewRequestWithContext(ctx, http.MethodGet, k.url+path, nil)
	if err != nil {
		return nil, err
	}
	q.Header.Set("Authorization", "Bearer "+copies.AskWith(k.code))
	if k.tag != "" {
		q.Header.Set("If-None-Match", `"`+k.tag+`"`)
	}
	res, err := k.client.Do(q)
	if err != nil {
		var why *url.Error
		if errors.As(err, &why) {
			err = why.Err // the address is said already
		}
		return nil, fmt.Errorf("%s does not answer: %w", k.url, err)
	}
	switch res.StatusCode {
	case http.StatusOK, http.StatusNotModified:
		return res, nil
	case http.StatusUnauthorized:
		err = errCode
	default:
		err = refusalOf(res)
	}
	return nil, errors.Join(err, res.Body.Close())
}

// unsealTo writes to path, for its owner alone, what was sealed with the code.
func unsealTo(path string, sealed io.Reader, code, about string) error {
	out, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	err = copies.Unseal(out, sealed, code, about)
	return errors.Join(err, out.Sync(), out.Close())
}
