package demo

import (
	"fmt"
	"slices"

	"mendline/board"
)

const (
	second = board.Moment(1000)
	minute = 60 * second
	// startMin is how long before now the day begins, stepLong how long a command
	// takes a person.
	startMin = 290
	stepLong = 4 * second
)

// day is the script being written: a board that grows with it says what each
// sheet asks next.
type day struct {
	now, at   board.Moment
	offsetMin int
	load      board.TeamLoad
	state     board.State
	steps     []Step
	err       error
}

func (d *day) nextID() board.CommandID { return commandID(d.at, len(d.steps)+1) }

// ago moves on to so many minutes before now.
func (d *day) ago(min float64) {
	at := d.now - board.Moment(min*float64(minute))
	if at < d.at {
		d.fail("at %v minutes before now: the step before is later", min)
	}
	d.at = max(d.at, at)
}

func (d *day) fail(text string, args ...any) {
	if d.err == nil {
		d.err = fmt.Errorf("write demo day: "+text, args...)
	}
}

// do lets a person give a command now; its id names what it makes.
func (d *day) do(who string, c board.Command) board.CommandID {
	person := d.person(who)
	return d.give(Step{By: board.Actor{Person: person.ID, Role: person.Role}, Command: c})
}

// doLate is do for a command that waited on a phone since so many minutes
// before now.
func (d *day) doLate(who string, didAgo float64, c board.Command) board.CommandID {
	person := d.person(who)
	return d.give(Step{By: board.Actor{Person: person.ID, Role: person.Role}, Did: d.now - board.Moment(didAgo*float64(minute)), Command: c})
}

func (d *day) give(p Step) board.CommandID {
	if d.err != nil {
		return p.ID
	}
	p.ID, p.At = d.nextID(), d.at
	change, refusal := board.Apply(d.state, p.Command, p.Ask(d.state), p.By, p.At)
	switch {
	case refusal != nil:
		d.fail("step %d, %s, %v before now, is refused: %s", len(d.steps)+1, board.Name(p.Command), d.now.Sub(d.at), refusal.Sentence)
		return p.ID
	case p.At > d.now:
		d.fail("step %d, %s, is later than now", len(d.steps)+1, board.Name(p.Command))
	}
	d.state = d.state.With(change)
	d.steps = append(d.steps, p)
	d.at += stepLong
	return p.ID
}

// find is the noun that is named so; a name that is not there ends the script.
func find[N any](d *day, what, name string, all []N, of func(N) string) N {
	i := slices.IndexFunc(all, func(n N) bool { return of(n) == name })
	if i < 0 {
		d.fail("there is no %s %q", what, name)
		var none N
		return none
	}
	return all[i]
}

func (d *day) person(name string) board.Person {
	return find(d, "person", name, d.load.People, func(n board.Person) string { return n.Name })
}

func (d *day) robot(name string) board.RobotID {
	return find(d, "robot", name, d.load.Robots, func(n board.Robot) string { return n.Name }).ID
}

func (d *day) place(name string) board.PlaceID {
	return find(d, "place", name, d.load.Places, func(n board.Place) string { return n.Name }).ID
}

func (d *day) pack(name string) board.PackID {
	return find(d, "pack", name, d.load.Packs, func(n board.Pack) string { return n.Name }).ID
}

func (d *day) fight(arena string, number int) board.FightID {
	name := fmt.Sprintf("%s %d", arena, number)
	return find(d, "fight", name, d.load.Fights, func(n board.Fight) string { return fmt.Sprintf("%s %d", n.Arena, n.Number) }).ID
}

func (d *day) template(name string, size board.Size) board.TemplateID {
	return find(d, "kind of job", name+" "+string(size), d.load.Templates, func(n board.Template) string { return n.Name + " " + string(n.Size) }).ID
}

// walk is who takes a robot through its sheets, and what they answer.
type walk struct {
	robot string
	// by answers, second verifies where the robot wants two, signer signs.
	by, second, signer string
	// to is where packs go that come out, pack the one that goes in.
	to, pack  string
	told      string
	massGrams float64
	// failsafe is SaidDone or SaidOwed.
	failsafe board.Said
}

// answer answers the open line of the robot's sheet of a list, and tells whether
// there was one.
func (d *day) answer(w walk, list board.SheetList) bool {
	sheet, _ := d.state.Sheet(d.robot(w.robot), list)
	l, open := sheet.OpenLine()
	if sheet.State != board.SheetOpen || !open || d.err != nil {
		return false
	}
	c := board.SheetAnswer{Sheet: sheet.ID, Line: l.ID, Said: board.SaidDone}
	who := w.by
	switch l.Kind {
	case board.LinePlace:
		c.Place = d.place(w.to)
	case board.LinePack:
		c.Pack = d.pack(w.pack)
	case board.LineTold:
		c.Told = d.person(w.told).ID
	case board.LineProof:
		c.Said = w.failsafe
	case board.LineNumber:
		read := 0.0
		if l.Most > 0 {
			read = w.massGrams
		}
		c.Number = &read
	case board.LineSign:
		who = w.signer
	}
	if l.Part == "verify" && w.second != "" {
		who = w.second
	}
	d.at = max(d.at, d.state.RestsAt(sheet.Robot, l))
	d.do(who, c)
	return true
}

func (d *day) answerAll(w walk, list board.SheetList) {
	for d.answer(w, list) {
	}
}

func (d *day) makeSafe(w walk) { d.answerAll(w, board.ListMakeSafe) }

// goIn puts w.by's tag on, answers what must be answered first, and inspects.
func (d *day) goIn(w walk) {
	d.tagOn(w.by, w.robot)
	d.answerAll(w, board.ListFirstIn)
	d.answerAll(w, board.ListInspect)
}

// recheck has someone at work look at the gas again and say that it reads nothing.
func (d *day) recheck(who, robot string) {
	zero := 0.0
	for _, r := range d.state.Rechecks(d.robot(robot)) {
		d.do(who, board.SheetAnswer{Sheet: r.Sheet, Line: r.Line.ID, Said: board.SaidDone, Number: &zero})
	}
}

// closeUp answers what is left of the inspection and closes the robot up, as far
// as the ready sheet.
func (d *day) closeUp(w walk) {
	d.answerAll(w, board.ListInspect)
	lead := find(d, "robot", w.robot, d.load.Robots, func(n board.Robot) string { return n.Name }).Lead
	d.do(d.name(lead), board.RobotCloseUp{Robot: d.robot(w.robot)})
	d.answerAll(w, board.ListCloseUp)
}

func (d *day) sign(w walk) { d.answerAll(w, board.ListReady) }

// ready takes a robot that nobody is on from unknown to ready.
func (d *day) ready(w walk) {
	d.makeSafe(w)
	d.closeUp(w)
	d.sign(w)
}

func (d *day) name(id board.PersonID) string { return d.state.People[id].Name }

func (d *day) tagOn(who, robot string) { d.do(who, board.TagOn{Robot: d.robot(robot)}) }

func (d *day) tagOff(who, robot string) {
	for id, tag := range d.state.Tags {
		if tag.Robot == d.robot(robot) && tag.Person == d.person(who).ID {
			d.do(who, board.TagOff{Tag: id})
			return
		}
	}
	d.fail("%s has no tag on %s", who, robot)
}

func (d *day) handsOff(who, robot string) {
	for id, hands := range d.state.Hands {
		if hands.Robot == d.robot(robot) && hands.Person == d.person(who).ID {
			d.do(who, board.HandsOff{Hands: id})
			return
		}
	}
	d.fail("%s's hands are not near %s", who, robot)
}

// live declares a robot live in its arena and says that its fight is on.
func (d *day) live(who, robot, arena string, number int) {
	d.do(who, board.RobotLive{Robot: d.robot(robot), Place: d.place(arena)})
	d.do("Juno", board.FightNow{Arena: arena, Number: number})
}

// back enters how a robot's fight ended, and that it is on its bench.
func (d *day) back(who, robot, arena string, number int, result board.Result, bench string) {
	d.do(who, board.FightEnd{Fight: d.fight(arena, number), Result: result})
	d.do(who, board.RobotPlace{Robot: d.robot(robot), Place: d.place(bench)})
}

func (d *day) seen(who, arena string, number int) {
	d.do(who, board.FightNow{Arena: arena, Number: number})
}

// read enters a pack's cells, each at the same volts.
func (d *day) read(who, pack string, volts, tempC float64, charged bool) {
	p := find(d, "pack", pack, d.load.Packs, func(n board.Pack) string { return n.Name })
	d.do(who, board.PackRead{Pack: p.ID, CellVolts: slices.Repeat([]float64{volts}, p.Cells), TempC: &tempC, Charged: charged})
}

func (d *day) movePack(who, pack, to string) {
	d.do(who, board.PackMove{Pack: d.pack(pack), Place: d.place(to)})
}

// charge puts a pack on a channel, with who does it as its attendant.
func (d *day) charge(who, pack, channel string, amps float64) {
	p := find(d, "pack", pack, d.load.Packs, func(n board.Pack) string { return n.Name })
	ch := find(d, "channel", channel, d.load.Channels, func(n board.Channel) string { return n.Name })
	d.do(who, board.PackCharge{Pack: p.ID, Channel: ch.ID, Attendant: d.person(who).ID, Cells: p.Cells, Amps: amps, Contained: true})
}

// damage reports a damage, on the part of the map that has its name.
func (d *day) damage(who string, f board.DamageFields) board.DamageID {
	for _, part := range d.load.Parts {
		if part.Robot == f.Robot && part.Name == f.Part {
			f.OnPart = part.ID
		}
	}
	return board.DamageID(board.NewID(d.do(who, board.DamageReport{DamageFields: f}), board.KindDamage, ""))
}

func (d *day) setup(robot, name string) board.SetupID {
	return find(d, "setup", robot+" "+name, d.load.Setups, func(n board.Setup) string { return d.state.Robots[n.Robot].Name + " " + n.Name }).ID
}

// job adds a job of a kind the team knows.
func (d *day) job(who, robot, kind string, f board.JobFields) board.JobID {
	size := find(d, "robot", robot, d.load.Robots, func(n board.Robot) string { return n.Name }).Size
	f.Robot, f.Template = d.robot(robot), d.template(kind, size)
	return board.JobID(board.NewID(d.do(who, board.JobAdd{JobFields: f}), board.KindJob, ""))
}

func (d *day) briefed(who string) { d.do("Ottoline", board.PersonBrief{Person: d.person(who).ID}) }

func (d *day) start(who string, j board.JobID)  { d.do(who, board.JobStart{Job: j}) }
func (d *day) finish(who string, j board.JobID) { d.do(who, board.JobFinish{Job: j}) }

func (d *day) assign(j board.JobID, who ...string) {
	c := board.JobAssign{Job: j}
	for _, name := range who {
		c.People = append(c.People, d.person(name).ID)
	}
	d.do("Ottoline", c)
}
