package boardtest

import (
	"fmt"
	"strings"

	"github.com/go-json-experiment/json"

	. "mendline/board"
	"mendline/board/charge"
)

// ofFix are the words of a story's job that make its one fix.
var ofFix = map[string]bool{"likely": true, "bad": true, "hands": true, "where": true}

// usual is what a command of a story says where its line does not.
func (t *Teller) usual(l StoryLine) (map[string]any, error) {
	switch l.Do {
	case "event.set":
		return fieldsOf(t.State().Event().EventFields)
	case "person.add":
		return fieldsOf(PersonFields{Role: RoleCrew, Authorised: []EnergyKind{EnergyWeapon, EnergyDrive}})
	case "robot.add":
		return fieldsOf(usualRobot(Size(l.Of("size"))))
	case "pack.add":
		return fieldsOf(PackFields{Chemistry: charge.LiPo, Cells: 4, Parallel: 1, CapacityAh: 0.85, ChargeAmpsMost: 4, Use: UseMain})
	case "job.add":
		fix, err := usualFix(l)
		if err != nil {
			return nil, err
		}
		return fieldsOf(JobFields{Triage: Must, Fixes: []Fix{fix}})
	}
	return map[string]any{}, nil
}

// usualRobot has the overheads of its size: 30 and 20 minutes, 9 and 5. Common
// practice, no source.
func usualRobot(size Size) RobotFields {
	f := RobotFields{
		Size: Light, Hands: 1, BeforeSec: 9 * 60, AfterSec: 5 * 60, Weight: 1,
		Class: Class{Name: "beetleweight", Limit: 3, Unit: Pound, RuleSet: "house rules"},
		Energies: []Energy{
			{Kind: EnergyWeapon, Isolator: "removable link", Reach: Outside},
			{Kind: EnergyDrive, Isolator: "removable link", Reach: Outside},
		},
	}
	if size == Heavy {
		f.Size, f.Hands, f.BeforeSec, f.AfterSec = Heavy, 3, 30*60, 20*60
		f.Class.Name, f.Class.Limit = "heavyweight", 250
	}
	return f
}

// usualFix is a swap at the bench, in the robot, under lockout with the packs out.
func usualFix(l StoryLine) (Fix, error) {
	likely, err := amount(l.Of("likely"))
	if err != nil {
		return Fix{}, fmt.Errorf("likely: %w", err)
	}
	bad, err := amount(l.Of("bad"))
	if err != nil {
		return Fix{}, fmt.Errorf("bad: %w", err)
	}
	fix := Fix{
		Name: "swap it", Way: WaySwap, LikelySec: int(likely), BadSec: int(bad),
		Station: StationBench, Where: AtRobot, Lockout: true, PackOut: true,
	}
	if where := Where(l.Of("where")); where != "" {
		fix.Where, fix.Lockout, fix.PackOut = where, where != OffRobot, where != OffRobot
	}
	for _, hand := range strings.Split(l.Of("hands"), ",") {
		fix.Hands = append(fix.Hands, Skill(hand))
	}
	return fix, nil
}

func fieldsOf(v any) (map[string]any, error) {
	b, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	fields := map[string]any{}
	return fields, json.Unmarshal(b, &fields)
}
