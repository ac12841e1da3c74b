package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"time"
)

const (
	startWait = 30 * time.Second
	stopWait  = 15 * time.Second
	tailBytes = 2000
)

// child is a board that the crowd started.
type child struct {
	base, code string
	bin        string
	args       []string
	cmd        *exec.Cmd
	log        string        // path of what it printed
	ended      chan struct{} // closed when the process is gone
}

// start starts a board in dir, on a free port of this machine, and waits until it
// answers. The caller stops it.
func (o options) start(ctx context.Context, dir string, progress io.Writer) (*child, error) {
	bin, err := o.program(ctx, dir, progress)
	if err != nil {
		return nil, err
	}
	team, err := o.teamDir(ctx, bin, dir)
	if err != nil {
		return nil, err
	}
	addr, err := freeAddress()
	if err != nil {
		return nil, err
	}
	c := &child{base: "http://" + addr, code: rand.Text(), bin: bin, log: filepath.Join(dir, "server.log")}
	c.args = append([]string{"serve", "-addr", addr, "-data", filepath.Join(dir, "data"), "-team", team}, o.serveArgs...)
	return c, c.run(ctx)
}

// run starts the process and waits until the board answers.
func (c *child) run(ctx context.Context) error {
	cmd, ended := exec.Command(c.bin, c.args...), make(chan struct{})
	cmd.Env = append(os.Environ(), "MENDLINE_CREW_CODE="+c.code)
	out, err := os.OpenFile(c.log, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err != nil {
		return fmt.Errorf("start the board: %w", err)
	}
	defer out.Close()
	cmd.Stdout, cmd.Stderr = out, out
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("start the board: %w", err)
	}
	c.cmd, c.ended = cmd, ended
	go func() { // ends with the process, which stop ends
		_ = cmd.Wait() // how it ended is in its log
		close(ended)
	}()
	if err := c.answers(ctx); err != nil {
		c.stop()
		return err
	}
	return nil
}

// program is the path of mendline: the one given, or one built from the module
// that the working directory is in.
func (o options) program(ctx context.Context, dir string, progress io.Writer) (string, error) {
	if o.bin != "" {
		return filepath.Abs(o.bin)
	}
	bin := filepath.Join(dir, "mendline")
	fmt.Fprintln(progress, "building mendline")
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", bin, "mendline/cmd/mendline").CombinedOutput(); err != nil {
		return "", fmt.Errorf("build mendline: %w: run crowd inside its source tree, or name the program with -bin\n%s", err, out)
	}
	return bin, nil
}

func (o options) teamDir(ctx context.Context, bin, dir string) (string, error) {
	if o.team != "" {
		return filepath.Abs(o.team)
	}
	team := filepath.Join(dir, "team")
	if out, err := exec.CommandContext(ctx, bin, "demo", "-dump", team).CombinedOutput(); err != nil {
		return "", fmt.Errorf("write the demo team: %w\n%s", err, out)
	}
	return team, nil
}

func freeAddress() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", fmt.Errorf("look for a free port: %w", err)
	}
	return l.Addr().String(), l.Close()
}

// answers waits until the board says that it is well.
func (c *child) answers(ctx context.Context) error {
	ctx, cancel := context.WithTimeoutCause(ctx, startWait, errors.New("the board does not answer"))
	defer cancel()
	for {
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, c.base+"/healthz", nil)
		if err != nil {
			return fmt.Errorf("ask the board: %w", err)
		}
		if w, err := http.DefaultClient.Do(r); err == nil {
			w.Body.Close()
			if w.StatusCode == http.StatusOK {
				return nil
			}
		}
		select {
		case <-time.After(tick):
		case <-c.ended:
			return fmt.Errorf("the board ended at once:\n%s", c.tail())
		case <-ctx.Done():
			return fmt.Errorf("%w:\n%s", context.Cause(ctx), c.tail())
		}
	}
}

// tail is the end of what the board printed.
func (c *child) tail() []byte {
	b, err := os.ReadFile(c.log)
	if err != nil {
		return []byte(err.Error())
	}
	return b[max(0, len(b)-tailBytes):]
}

// kill ends the process at once.
func (c *child) kill() {
	_ = c.cmd.Process.Kill() // it may be gone already
	<-c.ended
}

// stop ends the process, in good order if it can.
func (c *child) stop() {
	_ = c.cmd.Process.Signal(syscall.SIGTERM) // it may be gone already
	select {
	case <-c.ended:
	case <-time.After(stopWait):
		_ = c.cmd.Process.Kill()
		<-c.ended
	}
}
