// Command crowd joins many simulated devices to a board, gives it commands at a
// set rate, and measures the time from a command sent to its patch received by
// every device, beside the least that the machine could take for the same bytes.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}
