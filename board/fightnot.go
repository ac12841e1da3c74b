package board

import (
	"slices"
	"strings"
)

// Overtaken is what a fight took of its robot's past: no answer from before At holds, and
// none from before Was held until then.
type Overtaken struct {
	At  Moment `json:"at,omitzero"`
	Was Moment `json:"was,omitzero"`
}

// overtakes is a fight, and its robot's power, once the robot is taken to have been in it.
func (f Fight) overtakes(power Power, now Moment) (Fight, Power) {
	if f.Over.At == 0 || f.Over.At != power.FoughtAt {
		f.Over.Was = power.FoughtAt
	}
	f.Over.At, power.FoughtAt = now, now
	return f, power
}

// FightNotFought says that a fight is still to come which was said to be on, or over. What
// was inspected and answered before counts again, and it wore no module, where none was
// changed since. It stands in the review.
type FightNotFought struct {
	Fight  FightID `json:"fight"`
	Reason string  `json:"reason"`
}

func (c FightNotFought) Guards(State) []Key { return []Key{KeyOf(KindFight, c.Fight)} }

func (c FightNotFought) do(t *turn) *Refusal {
	f, bad := t.fight(c.Fight)
	if bad != nil {
		return bad
	}
	robot := t.s().Robots[f.Robot]
	switch {
	case f.State != FightOn && f.State != FightDone:
		return refuse(CodeNothingToDo, "That fight is %s: nobody has said that it was fought.", f.State)
	case !t.overrules(robot) || t.by.Person == "":
		return refuse(CodeForbidden, "That a fight was not fought after all is for %s to say, with a reason.", t.s().answersFor(robot))
	}
	if bad := checkReason("reason", c.Reason); bad != nil {
		return bad
	}
	if f.Result.fought() && t.s().Fits[f.Robot].At <= f.EndAt {
		t.wear(f.Robot, -1)
	}
	over := f.Over
	f.Loosened = append(slices.Clip(f.Loosened), Loosened{
		What: "it was not fought, and what was answered before counts again", Reason: strings.TrimSpace(c.Reason), By: t.by.Person, At: t.now,
	})
	f.State, f.Result, f.OnAt, f.EndAt, f.LiveAt, f.Setup, f.LeftAt, f.BenchAt, f.Over, f.Pauses = FightPlanned, "", 0, 0, 0, "", 0, 0, Overtaken{}, nil
	t.put(f)
	power := t.s().Powers[f.Robot]
	if over.At != 0 && power.FoughtAt == over.At {
		t.countsAgain(power, over.Was)
	}
	if power = t.s().Powers[f.Robot]; power.State == Ready {
		t.becomeUnknown(power, "signed over a fight that was not fought", false)
	}
	return nil
}

// countsAgain lets what was answered on a robot since a moment count again, and asks once
// more what its inspection lacks, and the failsafe that the fight had shown. Its power
// stays as it is.
func (t *turn) countsAgain(power Power, since Moment) {
	power.FoughtAt = since
	t.put(power)
	if sheet, ok := t.s().Sheet(power.Robot, ListInspect); ok && sheet.State == SheetOpen {
		t.openSheet(t.s().Robots[power.Robot], ListInspect)
	}
	sheet, _ := t.s().Sheet(power.Robot, ListReady)
	if a, ok := sheet.Answered("failsafe"); ok && a.Said == SaidDone && sheet.State == SheetOpen {
		t.openSheet(t.s().Robots[power.Robot], ListReady)
	}
}

// rule21Fought lets a robot's past fight be none only by an undo, or by a word of
// authority with a reason on that fight.
func rule21Fought(t *turn) *Refusal {
	if t.undoing || t.by.Role == RoleSystem {
		return nil
	}
	for id, is := range inOrder(t.s().Powers) {
		if was, had := t.before.Powers[id]; !had || is.FoughtAt >= was.FoughtAt || t.notFought(id) {
			continue
		}
		return breaks(21, "That %s has fought stands in the record. %s says with a reason which fight was not fought.", t.s().Robots[id].Name, upper(t.s().answersFor(t.s().Robots[id])))
	}
	return nil
}

// notFought tells whether someone who may says in this turn, with a reason, that a fight of
// a robot was not fought.
func (t *turn) notFought(robot RobotID) bool {
	for id, f := range t.s().Fights {
		if n := len(f.Loosened); f.Robot == robot && n > len(t.before.Fights[id].Loosened) {
			return t.overrules(t.s().Robots[robot]) && checkReason("reason", f.Loosened[n-1].Reason) == nil
		}
	}
	return false
}
