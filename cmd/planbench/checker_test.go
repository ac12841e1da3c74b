package main

import (
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
)

// mode is duration and demands of one mode, as in the file.
type mode []int

// project is what this checker reads of an instance file, by job from 1.
type project struct {
	after     map[int][]int
	modes     map[int][]mode
	capacity  []int
	renewable int
}

var count = regexp.MustCompile(`- (renewable|nonrenewable) +: +(\d+)`)

func integers(line string) (out []int) {
	for _, f := range strings.Fields(line) {
		v, err := strconv.Atoi(f)
		if err != nil {
			return nil
		}
		out = append(out, v)
	}
	return out
}

func readProject(text string) project {
	p := project{after: map[int][]int{}, modes: map[int][]mode{}}
	resources := 0
	for _, m := range count.FindAllStringSubmatch(text, -1) {
		n, _ := strconv.Atoi(m[2])
		resources += n
		if m[1] == "renewable" {
			p.renewable = n
		}
	}
	section, job := "", 0
	for _, line := range strings.Split(text, "\n") {
		if strings.HasSuffix(strings.TrimSpace(line), ":") {
			section = strings.TrimSpace(line)
		}
		n := integers(line)
		switch {
		case len(n) == 0:
		case strings.HasPrefix(section, "PRECEDENCE"):
			for _, s := range n[3:] {
				p.after[s] = append(p.after[s], n[0])
			}
		case strings.HasPrefix(section, "REQUESTS"):
			if len(n) == resources+3 {
				job, n = n[0], n[1:]
			}
			p.modes[job] = append(p.modes[job], n[1:])
		case strings.HasPrefix(section, "RESOURCEAVAIL"):
			p.capacity = n
		}
	}
	return p
}

type placed struct{ mode, start int }

func readSchedule(text string) map[int]placed {
	out := map[int]placed{}
	for _, line := range strings.Split(text, "\n")[1:] {
		if n := integers(strings.ReplaceAll(line, ",", " ")); len(n) == 3 {
			out[n[0]] = placed{n[1], n[2]}
		}
	}
	return out
}

// makespanOf reads an instance and a schedule and returns when the last job
// ends, or which rule the schedule breaks.
func makespanOf(file, schedule string) (int, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return 0, err
	}
	said, err := os.ReadFile(schedule)
	if err != nil {
		return 0, err
	}
	p, at := readProject(string(text)), readSchedule(string(said))
	end := 0
	for job := 1; job <= len(p.modes); job++ {
		a, ok := at[job]
		if !ok {
			return 0, fmt.Errorf("job %d is missing", job)
		}
		if a.mode < 1 || a.mode > len(p.modes[job]) || a.start < 0 {
			return 0, fmt.Errorf("job %d: mode %d does not exist or start %d", job, a.mode, a.start)
		}
		end = max(end, a.start+p.modes[job][a.mode-1][0])
	}
	return end, p.broken(at, end)
}

// broken replays a schedule moment by moment.
func (p project) broken(at map[int]placed, end int) error {
	of := func(job int) mode { return p.modes[job][at[job].mode-1] }
	total := make([]int, len(p.capacity))
	for job := range p.modes {
		for _, before := range p.after[job] {
			if over := at[before].start + of(before)[0]; at[job].start < over {
				return fmt.Errorf("job %d starts at %d, before job %d is over at %d", job, at[job].start, before, over)
			}
		}
		for k := range p.capacity {
			total[k] += of(job)[1+k]
		}
	}
	for k := p.renewable; k < len(p.capacity); k++ {
		if total[k] > p.capacity[k] {
			return fmt.Errorf("nonrenewable resource %d: %d used, there are %d", k-p.renewable+1, total[k], p.capacity[k])
		}
	}
	for now := range end {
		for k := range p.renewable {
			used := 0
			for job := range p.modes {
				if at[job].start <= now && now < at[job].start+of(job)[0] {
					used += of(job)[1+k]
				}
			}
			if used > p.capacity[k] {
				return fmt.Errorf("renewable resource %d at %d: %d in use, there are %d", k+1, now, used, p.capacity[k])
			}
		}
	}
	return nil
}
