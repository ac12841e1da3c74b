package boardtest

// The walker at jobs, damage and what asks less.

import (
	"slices"

	"pgregory.net/rapid"

	. "mendline/board"
)

func (w *Walker) jobs() Command {
	id := w.aJob()
	if id == "" {
		fix := SwapBlade(w.Blade)
		fix.Lockout = rapid.Bool().Draw(w.RT, "lockout")
		fix.PackOut = fix.Lockout && rapid.Bool().Draw(w.RT, "pack out")
		if rapid.Bool().Draw(w.RT, "grind") {
			fix = DressBurrs()
			fix.Where = rapid.SampledFrom([]Where{OffRobot, AllRobot}).Draw(w.RT, "where")
		}
		return JobAdd{JobFields: JobFields{Robot: w.Moth, Name: "blade", Triage: rapid.SampledFrom([]Triage{Must, Could}).Draw(w.RT, "triage"), Fixes: []Fix{fix}},
			Reason: rapid.SampledFrom([]string{"", "nothing moves there"}).Draw(w.RT, "why none")}
	}
	less := w.state.Jobs[id].JobFields
	less.Fixes = slices.Clone(less.Fixes)
	less.Triage, less.Fixes[0].Lockout, less.Fixes[0].Touches = Could, false, nil
	why := rapid.SampledFrom([]string{"", "it is off"}).Draw(w.RT, "why")
	changed := w.state.Jobs[id].JobFields
	changed.Triage = rapid.SampledFrom([]Triage{Must, Should, Could}).Draw(w.RT, "other triage")
	changed.Fixes = append(slices.Clone(changed.Fixes), DressBurrs())
	return rapid.SampledFrom([]Command{
		JobChange{Job: id, JobFields: less, Reason: why}, JobChange{Job: id, JobFields: less, Reason: why},
		JobChange{Job: id, JobFields: changed}, JobFix{Job: id, Chosen: rapid.IntRange(0, 1).Draw(w.RT, "chosen")},
		JobStart{Job: id}, JobStart{Job: id}, JobStart{Job: id, Fix: 1}, JobStart{Job: id, Station: w.Grinder}, JobFinish{Job: id}, JobFinish{Job: id}, JobResume{Job: id}, JobHold{Job: id, Why: HoldPart}, JobJoin{Job: id}, JobJoin{Job: id}, JobLeave{Job: id},
		JobReinspect{Job: id}, JobReopen{Job: id}, JobDrop{Job: id, Reason: why}, JobDefer{Job: id, Acceptor: w.Ada, Reason: "no time"}, JobAssign{Job: id, People: []PersonID{w.Ben}},
		PlanReplace{Tasks: []PlanTask{{Job: id, Told: Told{People: []PersonID{w.Ben}, StartAt: 1_700_000_000_000}, EndAt: 1_700_000_600_000}}},
	}).Draw(w.RT, "job")
}

func (w *Walker) aJob() JobID {
	open := ordered(w.state.Jobs)
	if len(open) == 0 || (len(open) < 3 && rapid.IntRange(0, 3).Draw(w.RT, "new") == 0) {
		return ""
	}
	low := open[0]
	pick := rapid.IntRange(1, 3).Draw(w.RT, "number")
	for _, id := range open {
		if w.state.Jobs[id].Number == pick {
			low = id
		}
	}
	return low
}

// lead gives the robot another lead and driver, a minor or a guest among them.
func (w *Walker) lead() Command {
	f := w.state.Robots[w.Moth].RobotFields
	f.Lead = rapid.SampledFrom([]PersonID{w.Ada, w.Ben, w.Kit, w.Gus}).Draw(w.RT, "lead")
	f.Driver = rapid.SampledFrom([]PersonID{w.Ada, w.Ben, w.Kit, w.Gus}).Draw(w.RT, "driver")
	return RobotChange{Robot: w.Moth, RobotFields: f}
}

// lessGas takes the gas off the robot, with a reason or without.
func (w *Walker) lessGas() Command {
	f := w.state.Robots[w.Moth].RobotFields
	f.Energies = f.Energies[:min(3, len(f.Energies))]
	return RobotChange{Robot: w.Moth, RobotFields: f, Reason: rapid.SampledFrom([]string{"", "it has none"}).Draw(w.RT, "why")}
}

// otherLocks says what holds the robot's weapon, with a reason or without.
func (w *Walker) otherLocks() Command {
	f := w.state.Robots[w.Moth].RobotFields
	f.Locks = rapid.SampledFrom([][]Lock{nil, {LockStrap}, {LockPlain, LockProp}, {LockPin}, {LockNone}}).Draw(w.RT, "locks")
	return RobotChange{Robot: w.Moth, RobotFields: f, Reason: rapid.SampledFrom([]string{"", "it has another"}).Draw(w.RT, "why")}
}

// less takes an energy off the robot, or makes another place of where it stands, as its
// lead or event safety does.
func (w *Walker) less() Command {
	why := rapid.SampledFrom([]string{"", "as it is now"}).Draw(w.RT, "why")
	if rapid.Bool().Draw(w.RT, "place") {
		return PlaceTurn{Place: w.state.Powers[w.Moth].Place, Kind: rapid.SampledFrom([]PlaceKind{PlaceBench, PlaceStaging}).Draw(w.RT, "kind"), Reason: why}
	}
	return RobotEnergyOff{Robot: w.Moth, Energy: EnergyGas, Reason: why}
}

// grown says of someone that they are a minor or a guest, or no longer one.
func (w *Walker) grown() Command {
	who := w.state.People[rapid.SampledFrom([]PersonID{w.Kit, w.Gus, w.Nia}).Draw(w.RT, "of")]
	f := who.PersonFields
	f.Signer = false
	f.Minor, f.Guest = rapid.Bool().Draw(w.RT, "minor"), rapid.Bool().Draw(w.RT, "guest")
	return PersonChange{Person: who.ID, PersonFields: f, Reason: rapid.SampledFrom([]string{"", "the card says so"}).Draw(w.RT, "why")}
}

// damage reports one, or says something of one there is.
func (w *Walker) damage() Command {
	d := w.aDamage()
	if hurtful, ok := w.hurtful(); ok && rapid.Bool().Draw(w.RT, "make less of it") {
		if hurtful.Off.At == 0 {
			return DamageOff{Damage: hurtful.ID, What: "in the box"}
		}
		return DamageLook{Damage: hurtful.ID}
	}
	g := rapid.SampledFrom([]Grade{G0, G1, G2, G3, G4, GX}).Draw(w.RT, "grade")
	return rapid.SampledFrom([]Command{
		DamageReport{DamageFields: DamageFields{Robot: w.Moth, OnPart: w.Rail, Grade: g, Stuck: true}},
		DamageReport{DamageFields: DamageFields{Robot: w.Moth, Part: "blade", Grade: g}, Accept: g < G3}, DamageReport{DamageFields: DamageFields{Robot: w.Moth, Part: "hub", Grade: g, Touches: []System{SysWeapon}}, Accept: g < G3},
		DamageRegrade{Damage: d, Grade: g, Reason: "seen by daylight"}, DamageRegrade{Damage: d, Grade: g, Drop: true, Reason: "no damage"},
		DamageAccept{Damage: d}, DamageAccept{Damage: d, Person: w.Dee}, DamageLook{Damage: d}, DamageLook{Damage: d, Person: w.Dee},
		DamageOff{Damage: d, What: "in the box"}, DamageOff{Damage: d, Back: true},
		JobAdd{JobFields: JobFields{Robot: w.Moth, Name: "mend", Triage: Must, Fixes: []Fix{SwapBlade(w.Blade)}, Damages: []DamageID{d}}},
	}).Draw(w.RT, "damage")
}

// hurtful is the first damage that can hurt people.
func (w *Walker) hurtful() (Damage, bool) {
	for _, id := range ordered(w.state.Damages) {
		if d := w.state.Damages[id]; d.Grade == GX && !d.Dropped {
			return d, true
		}
	}
	return Damage{}, false
}

// aDamage and aFight are any there are, or none.
func (w *Walker) aDamage() DamageID {
	return rapid.SampledFrom(append(ordered(w.state.Damages), "")).Draw(w.RT, "damage")
}

// wording gives the closing-up sheet its lines in another order, sometimes with
// one of the team's own and sometimes one too few.
func (w *Walker) wording() Command {
	ids := rapid.Permutation([]string{"inside", "pack", "bolts", "tools", "covers", "lock", "link", "told"}).Draw(w.RT, "order")
	c := WordingSet{List: ListCloseUp}
	for _, id := range ids[rapid.IntRange(0, 1).Draw(w.RT, "out"):] {
		c.Lines = append(c.Lines, WordedLine{ID: id})
	}
	if rapid.Bool().Draw(w.RT, "own") {
		ask := rapid.SampledFrom([]string{"Belt guard on?", "Belt guard on?", "All clear?"}).Draw(w.RT, "ask")
		c.Lines = append(c.Lines, WordedLine{ID: "own-belt", Kind: LineDo, Ask: ask, Say: "GUARD ON"})
	}
	return c
}
