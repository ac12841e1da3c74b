package board

// RobotLoadIn begins a robot's load-in inspection. It says nothing of its power
// and lasts whatever state the robot is in.
type RobotLoadIn struct {
	Robot RobotID `json:"robot"`
}

func (c RobotLoadIn) do(t *turn) *Refusal {
	_, robot, bad := t.power(c.Robot)
	if bad != nil {
		return bad
	}
	if sheet, ok := t.s().Sheet(robot.ID, ListLoadIn); ok && sheet.State == SheetOpen {
		return refuse(CodeNothingToDo, "The load-in inspection of %s is open already. Answer it.", robot.Name)
	}
	t.openSheet(robot, ListLoadIn)
	return nil
}

// loadedIn refuses where the event asks for a load-in inspection and the robot's
// is not done.
func (t *turn) loadedIn(r Robot) *Refusal {
	if !t.s().Event().LoadIn {
		return nil
	}
	return t.sheetDone(r, ListLoadIn)
}
