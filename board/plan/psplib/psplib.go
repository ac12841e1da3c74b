// Package psplib reads instances of the project scheduling problem library and
// puts them to the planner.
//
// A file is read by section heading, then by whitespace: .sm files have one
// mode a job, .mm files several. Jobs are numbered from 1; the first and the
// last are dummies. Non-renewable demand is per job in total.
//
// Source of format and instances: R. Kolisch, A. Sprecher, "PSPLIB - a project
// scheduling problem library", European Journal of Operational Research 96
// (1997) 205-216 (citation from memory; checked against the files).
package psplib

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"mendline/board/plan"
)

// Instance is one project: jobs in number order, dummies included.
type Instance struct {
	Jobs          []Job
	Renewable     []int // capacity of each renewable resource
	Nonrenewable  []int // amount of each non-renewable resource
	CriticalPath  int   // MPM-Time: longest path on shortest modes
	HorizonLength int   // sum of the longest modes
}

// Job is an activity. Successors are indices into Instance.Jobs.
type Job struct {
	Successors []int
	Modes      []Mode
}

// Mode is one way to do a job.
type Mode struct {
	Duration     int
	Renewable    []int // demand per moment
	Nonrenewable []int // demand in total
}

// Read reads one instance. Errors name the line.
func Read(r io.Reader) (Instance, error) {
	p := parser{}
	scan := bufio.NewScanner(r)
	for scan.Scan() {
		p.line++
		if err := p.read(scan.Text()); err != nil {
			return Instance{}, fmt.Errorf("line %d: %w", p.line, err)
		}
	}
	if err := scan.Err(); err != nil {
		return Instance{}, fmt.Errorf("line %d: %w", p.line+1, err)
	}
	if err := p.complete(); err != nil {
		return Instance{}, err
	}
	return p.out, nil
}

type section int

const (
	heading section = iota
	information
	relations
	requests
	amounts
)

// mostJobs is far above the largest published instance.
const mostJobs = 10_000

type parser struct {
	out        Instance
	line       int
	in         section
	renewables int
	stocks     int
	modes      []int // declared number of modes, by job
	job        int   // whose modes are being read, from 1
}

var sections = map[string]section{
	"PROJECT INFORMATION:":    information,
	"PRECEDENCE RELATIONS:":   relations,
	"REQUESTS/DURATIONS:":     requests,
	"RESOURCEAVAILABILITIES:": amounts,
}

func (p *parser) read(text string) error {
	text = strings.TrimSpace(text)
	if s, ok := sections[text]; ok {
		p.in = s
		return nil
	}
	if p.in == heading {
		return p.header(text)
	}
	n, ok := numbers(text)
	if !ok {
		return nil
	}
	switch p.in {
	case information:
		return p.information(n)
	case relations:
		return p.relation(n)
	case requests:
		return p.request(n)
	}
	return p.amounts(n)
}

// header reads the lines "name : value" that stand before the sections.
func (p *parser) header(text string) error {
	name, value, ok := strings.Cut(text, ":")
	if !ok {
		return nil
	}
	var to *int
	var jobs int
	switch name = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(name), "-")); {
	case strings.HasPrefix(name, "jobs"):
		to = &jobs
	case name == "renewable":
		to = &p.renewables
	case name == "nonrenewable":
		to = &p.stocks
	case name == "horizon":
		to = &p.out.HorizonLength
	default:
		return nil
	}
	fields := strings.Fields(value)
	if len(fields) == 0 {
		return fmt.Errorf("%s: no number", name)
	}
	v, err := strconv.Atoi(fields[0])
	if err != nil || v < 0 || to == &jobs && v > mostJobs {
		return fmt.Errorf("%s: %q is not a count", name, fields[0])
	}
	*to = v
	if to == &jobs {
		p.out.Jobs = make([]Job, v)
		p.modes = make([]int, v)
	}
	return nil
}

// numbers is not ok for a line that is not all numbers: heads and rules.
func numbers(text string) (out []int, ok bool) {
	for _, f := range strings.Fields(text) {
		v, err := strconv.Atoi(f)
		if err != nil || v < 0 {
			return nil, false
		}
		out = append(out, v)
	}
	return out, len(out) > 0
}

func (p *parser) information(n []int) error {
	if len(n) != 6 {
		return fmt.Errorf("project information: %d numbers, want 6", len(n))
	}
	p.out.CriticalPath = n[5]
	return nil
}

func (p *parser) relation(n []int) error {
	if len(n) < 3 || n[0] < 1 || n[0] > len(p.out.Jobs) || len(n) != 3+n[2] {
		return fmt.Errorf("precedence relation: %v is not job, modes, count, successors", n)
	}
	job := &p.out.Jobs[n[0]-1]
	p.modes[n[0]-1] = n[1]
	for _, s := range n[3:] {
		if s < 1 || s > len(p.out.Jobs) {
			return fmt.Errorf("job %d: successor %d does not exist", n[0], s)
		}
		job.Successors = append(job.Successors, s-1)
	}
	return nil
}

// request reads one mode. The job number stands on its first mode's line only.
func (p *parser) request(n []int) error {
	resources := p.renewables + p.stocks
	switch len(n) {
	case 3 + resources:
		p.job = n[0]
		n = n[1:]
	case 2 + resources:
	default:
		return fmt.Errorf("mode: %d numbers with %d resources", len(n), resources)
	}
	if p.job < 1 || p.job > len(p.out.Jobs) {
		return fmt.Errorf("mode of job %d, which does not exist", p.job)
	}
	job := &p.out.Jobs[p.job-1]
	if n[0] != len(job.Modes)+1 {
		return fmt.Errorf("job %d: mode %d out of order", p.job, n[0])
	}
	job.Modes = append(job.Modes, Mode{n[1], n[2 : 2+p.renewables], n[2+p.renewables:]})
	return nil
}

func (p *parser) amounts(n []int) error {
	if len(n) != p.renewables+p.stocks {
		return fmt.Errorf("availabilities: %d numbers with %d resources", len(n), p.renewables+p.stocks)
	}
	p.out.Renewable, p.out.Nonrenewable = n[:p.renewables], n[p.renewables:]
	return nil
}

func (p *parser) complete() error {
	if len(p.out.Jobs) == 0 {
		return fmt.Errorf("no jobs: is this a .sm or .mm file?")
	}
	if len(p.out.Renewable) != p.renewables || len(p.out.Nonrenewable) != p.stocks {
		return fmt.Errorf("availabilities are missing")
	}
	for i, job := range p.out.Jobs {
		if len(job.Modes) == 0 || len(job.Modes) != p.modes[i] {
			return fmt.Errorf("job %d: %d modes, %d declared", i+1, len(job.Modes), p.modes[i])
		}
	}
	return nil
}

// Problem puts the instance to the planner: one group without a deadline, a
// second for each unit of time, so that the group's ready time is the
// makespan. Task i is Jobs[i], way k is Modes[k].
func (in Instance) Problem() plan.Problem {
	p := plan.Problem{
		Groups: []plan.Group{{DeadlineSec: plan.NoDeadline}},
		Tasks:  make([]plan.Task, len(in.Jobs)),
	}
	for _, c := range in.Renewable {
		p.Pools = append(p.Pools, plan.Pool{Capacity: c})
	}
	for _, c := range in.Nonrenewable {
		p.Stocks = append(p.Stocks, plan.Stock{Count: c})
	}
	for i, job := range in.Jobs {
		for _, s := range job.Successors {
			p.Tasks[s].After = append(p.Tasks[s].After, i)
		}
		for _, m := range job.Modes {
			p.Tasks[i].Ways = append(p.Tasks[i].Ways, m.way())
		}
	}
	return p
}

func (m Mode) way() plan.Way {
	w := plan.Way{DurationSec: int32(m.Duration), Place: plan.Off}
	for k, n := range m.Renewable {
		if n > 0 {
			w.Needs = append(w.Needs, plan.Need{Pool: k, Count: n})
		}
	}
	for k, n := range m.Nonrenewable {
		if n > 0 {
			w.Uses = append(w.Uses, plan.Use{Stock: k, Count: n})
		}
	}
	return w
}
