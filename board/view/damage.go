package view

import (
	"fmt"

	"mendline/board"
)

// DamageNow is a damage that stands on a robot, in words, with what it asks of people
// before the robot is signed; "" is nothing.
type DamageNow struct {
	Damage board.DamageID `json:"damage"`
	Grade  board.Grade    `json:"grade"`
	Says   string         `json:"says"`
	Asks   board.Asks     `json:"asks,omitzero"`
}

// Damages lists the damage that stands on a robot, by number.
func Damages(s board.State, robot board.RobotID) []DamageNow {
	var list []DamageNow
	for _, d := range s.StandingDamage(robot) {
		now := DamageNow{Damage: d.ID, Grade: d.Grade, Asks: s.DamageAsks(d)}
		now.Says = fmt.Sprintf("%d %s", d.Number, d.Part)
		if d.What != "" {
			now.Says += ", " + d.What
		}
		if d.Grade == board.GX {
			now.Says += ", can hurt people"
		}
		now.Says += ": " + damageSays(s, d, now.Asks)
		list = append(list, now)
	}
	return list
}

func damageSays(s board.State, d board.Damage, asks board.Asks) string {
	switch asks {
	case board.AsksJob:
		return "it has no job"
	case board.AsksMend:
		return "its job is not closed"
	case board.AsksLook:
		return "put right or off; someone who did not work on it looks"
	case board.AsksAccept:
		return "left as it is, and nobody has accepted that"
	}
	switch {
	case d.Acceptor != "":
		return "left as it is, accepted by " + s.People[d.Acceptor].Name + " at " + s.Clock(d.AcceptedAt)
	case d.Off.At != 0:
		return "off the robot: " + d.Off.What
	}
	return "left off with its job"
}
