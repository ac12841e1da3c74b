package board

// What sentences call a state; the stored word is for the wire alone.

func (s PowerState) String() string {
	switch s {
	case PoweredDown:
		return "powered down"
	case Work:
		return "open for work"
	case ClosingUp:
		return "closing up"
	case Test:
		return "under test, power on"
	}
	return string(s)
}

func (s JobState) String() string {
	switch s {
	case JobOpen:
		return "not started"
	case JobRunning:
		return "being worked on"
	case JobHeld:
		return "on hold"
	case JobFinished:
		return "finished, with checks owed"
	case JobDeferred:
		return "left off"
	}
	return string(s)
}

func (s PackState) String() string {
	switch s {
	case PackUnread:
		return "not read"
	case PackInRobot:
		return "in a robot"
	case PackWaiting:
		return "waiting for a charger"
	case PackStorage:
		return "at storage volts"
	case PackSuspect:
		return "set aside"
	case PackQuarantined:
		return "set aside and watched"
	}
	return string(s)
}

func (s FightState) String() string {
	switch s {
	case FightPlanned:
		return "to come"
	case FightOn:
		return "on now"
	case FightDone:
		return "over"
	}
	return string(s)
}
