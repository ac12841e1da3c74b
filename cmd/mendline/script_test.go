package main

import (
	"context"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(browsing{m}, map[string]func(){
		"mendline": func() { os.Exit(run(context.Background(), os.Args[1:], os.Environ(), os.Stdout, os.Stderr)) },
		"stepped":  stepped,
	})
}

// browsing stops the browser that the tests share when they have run.
type browsing struct{ *testing.M }

func (b browsing) Run() int {
	code := b.M.Run()
	one.Stop()
	return code
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/scripts"})
}
