package board

import (
	"slices"

	"mendline/board/estimate"
)

// Way is how a fix puts something right.
type Way string

// The ways. A patch is temporary: it states the limits it leaves and opens its
// own follow-up job.
const (
	WaySwap  Way = "swap"
	WayMend  Way = "mend"
	WayPatch Way = "patch"
	WayCheck Way = "check"
)

// Where says where the hands of a fix are: in the robot, off it, or whether the
// fix takes the whole robot, as a live test does.
type Where string

// The places of hands.
const (
	AtRobot  Where = "in"
	OffRobot Where = "off"
	AllRobot Where = "whole"
)

// System is a part of a robot that a job touches and a line covers.
type System string

// The systems.
const (
	SysLock      System = "lock"
	SysLink      System = "link"
	SysLight     System = "light"
	SysRadio     System = "radio"
	SysWeapon    System = "weapon"
	SysDrive     System = "drive"
	SysPack      System = "pack"
	SysStructure System = "structure"
	SysMass      System = "mass"
)

func knownSystem(field string, y System) *Refusal {
	return oneOf(field, y, SysLock, SysLink, SysLight, SysRadio, SysWeapon, SysDrive, SysPack, SysStructure, SysMass)
}

// Need is how many pieces of a spare a fix takes.
type Need struct {
	Stock StockID `json:"stock"`
	Count int     `json:"count"`
}

// Fix is one way to do a job.
type Fix struct {
	Name string `json:"name"`
	Way  Way    `json:"way"`
	// LikelySec is the median, BadSec the 90th percentile: half, and nine in ten,
	// of such jobs are done by then.
	LikelySec int `json:"likelySec"`
	BadSec    int `json:"badSec"`
	// Hands lists a skill for each pair of hands; SkillAny is anyone.
	Hands   []Skill     `json:"hands"`
	Station StationKind `json:"station"`
	Where   Where       `json:"where"`
	Stock   []Need      `json:"stock,omitempty"`
	Touches []System    `json:"touches,omitempty"`
	// Lockout and PackOut: the robot must be locked out, and its packs out of it,
	// for as long as the work lasts.
	Lockout bool `json:"lockout,omitzero"`
	PackOut bool `json:"packOut,omitzero"`
	// Limits says what a patch leaves weak.
	Limits string `json:"limits,omitzero"`
	// WorksPct is how much of the damaged thing works after a patch, 1 to 100 %; 0
	// is not said.
	WorksPct int `json:"worksPct,omitzero"`
}

// Times are the fix's two times.
func (fix Fix) Times() estimate.TwoPoint {
	return estimate.TwoPoint{LikelySec: float64(fix.LikelySec), BadSec: float64(fix.BadSec)}
}

const fixMostSec = 12 * 3600

func (fix Fix) valid(s State) *Refusal {
	bad := first(
		checkName("fixes", fix.Name),
		oneOf("fixes", fix.Way, WaySwap, WayMend, WayPatch, WayCheck),
		checkRange("fixes", fix.LikelySec, 1, fixMostSec, "seconds"),
		checkRange("fixes", fix.BadSec, 1, fixMostSec, "seconds"),
		knownStation("fixes", fix.Station),
		oneOf("fixes", fix.Where, AtRobot, OffRobot, AllRobot),
		checkRange("fixes", len(fix.Hands), 1, 4, "pairs of hands"),
		each(fix.Hands, func(k Skill) *Refusal { return knownSkill("fixes", k) }),
		each(fix.Touches, func(y System) *Refusal { return knownSystem("fixes", y) }),
		each(fix.Stock, func(need Need) *Refusal { return need.valid(s) }),
		checkShort("fixes", fix.Limits),
		checkRange("fixes", fix.WorksPct, 0, 100, "%"),
	)
	switch {
	case bad != nil:
		return bad
	case fix.BadSec < fix.LikelySec:
		return badField("fixes", "%s: the bad case (%d s) is shorter than the likely time (%d s). Turn them round.", fix.Name, fix.BadSec, fix.LikelySec)
	case fix.Way == WayPatch && fix.Limits == "":
		return badField("fixes", "%s is a patch: say what limits it leaves.", fix.Name)
	case fix.Way != WayPatch && fix.WorksPct != 0:
		return badField("fixes", "%s is no patch: how much works after it is said of patches only.", fix.Name)
	}
	return nil
}

func (need Need) valid(s State) *Refusal {
	if _, ok := s.Stocks[need.Stock]; !ok {
		return missing("spare", "fixes")
	}
	return checkRange("fixes", need.Count, 1, 99, "pieces")
}

func validFixes(s State, fixes []Fix) *Refusal {
	if len(fixes) == 0 || len(fixes) > 6 {
		return badField("fixes", "A job needs one to six ways to do it; this has %d.", len(fixes))
	}
	return each(fixes, func(fix Fix) *Refusal { return fix.valid(s) })
}

func sameFix(a, b Fix) bool {
	return a.Name == b.Name && a.Way == b.Way && a.LikelySec == b.LikelySec && a.BadSec == b.BadSec &&
		a.Station == b.Station && a.Where == b.Where && a.Lockout == b.Lockout && a.PackOut == b.PackOut && a.Limits == b.Limits && a.WorksPct == b.WorksPct &&
		slices.Equal(a.Hands, b.Hands) && slices.Equal(a.Stock, b.Stock) && slices.Equal(a.Touches, b.Touches)
}
