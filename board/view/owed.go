package view

import (
	"fmt"

	"mendline/board"
)

// Owed lists what waits for someone's word before a robot is signed, and what an earlier
// program let be: leads who answer for nothing, charges that nobody has said they stay
// with, packs for any robot. The captain puts it right (owed/event; none when there is
// none).
type Owed struct {
	List []Owing `json:"list"`
}

// Owing is one such thing, and who does what about it: a damage, a pack, or a robot.
type Owing struct {
	What   string         `json:"what"`
	Act    string         `json:"act"`
	Damage board.DamageID `json:"damage,omitzero"`
	Pack   board.PackID   `json:"pack,omitzero"`
	Robot  board.RobotID  `json:"robot,omitzero"`
}

func owedOf(s board.State) Owed {
	var list []Owing
	for _, r := range robotsOf(s) {
		if lead := s.People[r.Lead]; lead.ID != "" && !lead.Answers() {
			list = append(list, Owing{
				What: fmt.Sprintf("%s leads %s and is a minor, a guest or off the roster.", lead.Name, r.Name),
				Act:  "Choose another lead on the robot's form. Until then the captain does what its lead would.", Robot: r.ID,
			})
		}
		for _, d := range Damages(s, r.ID) {
			if act := damageActs[d.Asks]; act != "" {
				list = append(list, Owing{What: r.Name + ", damage " + d.Says + ".", Act: act, Damage: d.Damage})
			}
		}
	}
	for _, p := range board.Sorted(s.Packs, func(p board.Pack) string { return p.Name }) {
		if p.State == board.PackCharging && p.AttendAt == 0 {
			list = append(list, Owing{
				What: fmt.Sprintf("Pack %s is on charger %s, and nobody has said that they stay with it.", p.Name, s.Channels[p.Channel].Name),
				Act:  "One of the crew, no minor or guest, says so on their own phone or with their PIN.", Pack: p.ID,
			})
		}
		fits := p.Use == board.UseMain || p.Use == board.UseWeapon
		aside := p.State == board.PackSuspect || p.State == board.PackQuarantined || p.State == board.PackGone
		if len(p.Fits) == 0 && fits && !p.Retired && !aside {
			list = append(list, Owing{
				What: fmt.Sprintf("Pack %s is listed for no robot.", p.Name),
				Act:  "Say on its form which robots it is for. Until then it goes into none.", Pack: p.ID,
			})
		}
	}
	return Owed{List: list}
}

// damageActs says what is done about what a damage asks of people without more work.
var damageActs = map[board.Asks]string{
	board.AsksAccept: "Its lead, the captain, event safety or a signer accepts it by name, or someone makes a job of it.",
	board.AsksJob:    "Someone makes a job of it, or its lead, the captain or event safety grades it down with a reason.",
	board.AsksLook:   "Someone with authority, or a signer, who did no work on it looks at it.",
}
