// Command planbench measures the board's planner on published scheduling
// instances and writes its schedules out for an independent checker.
package main

import "os"

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}
