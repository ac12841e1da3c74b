package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
)

// terminal is where a command writes: what was asked for to out, all else to err.
type terminal struct {
	out, err io.Writer
	env      map[string]string
}

// command is one of the program's commands.
type command struct {
	name  string
	usage string
	run   func(ctx context.Context, t terminal, args []string) error
}

func commands() []command {
	return []command{
		{"serve", usageServe, serve},
		{"demo", usageDemo, runDemo},
		{"load", usageLoad, load},
		{"dump", usageDump, dump},
		{"backup", usageBackup, backup},
		{"restore", usageRestore, restore},
		{"keep", usageKeep, keep},
		{"salvage", usageSalvage, salvage},
		{"debrief", usageDebrief, runDebrief},
		{"check", usageCheck, check},
		{"healthy", usageHealthy, healthy},
		{"charge", usageCharge, runCharge},
		{"notices", usageNotices, notices},
	}
}

// misuse is a mistake on the command line; its text says what to type instead.
type misuse string

func (m misuse) Error() string { return string(m) }

// run is the whole program. It returns the exit code: 0, 1 for what went wrong,
// 2 for a command line that cannot be understood.
func run(ctx context.Context, args, env []string, out, errOut io.Writer) int {
	ctx, stop := stopBySignal(ctx)
	defer stop()
	t := terminal{out: out, err: errOut, env: variables(env)}
	name := "serve"
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		name, args = args[0], args[1:]
	} else if len(args) > 0 && isHelp(args[0]) {
		name = "help"
	}
	if name == "help" {
		fmt.Fprint(out, usage)
		return 0
	}
	if name == "version" {
		fmt.Fprintln(out, "mendline", version())
		return 0
	}
	all := commands()
	i := slices.IndexFunc(all, func(c command) bool { return c.name == name })
	if i < 0 {
		fmt.Fprintf(errOut, "mendline: there is no command %q%s\n", name, didYouMean(name))
		return 2
	}
	err := all[i].run(ctx, t, args)
	var wrong misuse
	var bad wrongFlag
	switch {
	case err == nil:
		return 0
	case errors.Is(err, flag.ErrHelp):
		fmt.Fprint(out, all[i].usage)
		return 0
	case errors.As(err, &bad):
		fmt.Fprintf(errOut, "mendline %s: %s\n", name, bad)
		return 2
	case errors.As(err, &wrong):
		fmt.Fprintf(errOut, "mendline %s: %s\n(mendline %s -h shows how it is used)\n", name, wrong, name)
		return 2
	}
	fmt.Fprintf(errOut, "mendline: %v\n", err)
	return 1
}

func isHelp(arg string) bool { return arg == "-h" || arg == "-help" || arg == "--help" }

// stopBySignal ends the context at the first interrupt or termination. A second
// one ends the program at once, which is safe: what was acknowledged is on disk.
func stopBySignal(ctx context.Context) (context.Context, func()) {
	ctx, cancel := context.WithCancel(ctx)
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go func() { // ends with ctx
		select {
		case <-signals:
			cancel()
		case <-ctx.Done():
			return
		}
		<-signals
		os.Exit(1)
	}()
	return ctx, func() { signal.Stop(signals); cancel() }
}

func variables(env []string) map[string]string {
	m := map[string]string{}
	for _, pair := range env {
		name, value, _ := strings.Cut(pair, "=")
		m[name] = value
	}
	return m
}

// didYouMean names the command that begins alike.
func didYouMean(name string) string {
	for _, c := range commands() {
		if name != "" && c.name[0] == name[0] {
			return fmt.Sprintf("; did you mean %q? (mendline -h lists them)", c.name)
		}
	}
	return " (mendline -h lists them)"
}

// version is the program's own, from what the Go tool wrote into it.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			return s.Value[:12]
		}
	}
	return info.Main.Version
}

// parse reads flags and checks how many arguments are left. A wanted argument in
// brackets may be left out.
func parse(f *flag.FlagSet, args []string, want ...string) ([]string, error) {
	f.SetOutput(io.Discard)
	f.Usage = func() {}
	if err := f.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return nil, err
		}
		return nil, misuse(err.Error())
	}
	needed := 0
	for _, w := range want {
		if !strings.HasPrefix(w, "[") {
			needed++
		}
	}
	if f.NArg() >= needed && f.NArg() <= len(want) {
		return f.Args(), nil
	}
	if len(want) == 0 {
		return nil, misuse(fmt.Sprintf("it takes no arguments, and has %q", f.Args()))
	}
	return nil, misuse(fmt.Sprintf("it takes %s, and has %q; flags come first", strings.Join(want, " "), f.Args()))
}
