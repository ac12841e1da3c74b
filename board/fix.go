package board

import "mendline/board/estimate"

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
func (f Fix) Times() estimate.TwoPoint {
	return estimate.TwoPoint{LikelySec: float64(f.LikelySec), BadSec: float64(f.BadSec)}
}

const fixMostSec = 12 * 3600

func (f Fix) valid(s State) *Refusal {
	r := first(
		checkName("fixes", f.Name),
		oneOf("fixes", f.Way, WaySwap, WayMend, WayPatch, WayCheck),
		checkRange("fixes", f.LikelySec, 1, fixMostSec, "seconds"),
		checkRange("fixes", f.BadSec, 1, fixMostSec, "seconds"),
		knownStation("fixes", f.Station),
		oneOf("fixes", f.Where, AtRobot, OffRobot, AllRobot),
		checkRange("fixes", len(f.Hands), 1, 4, "pairs of hands"),
		each(f.Hands, func(k Skill) *Refusal { return knownSkill("fixes", k) }),
		each(f.Touches, func(y System) *Refusal { return knownSystem("fixes", y) }),
		each(f.Stock, func(n Need) *Refusal { return n.valid(s) }),
		checkShort("fixes", f.Limits),
		checkRange("fixes", f.WorksPct, 0, 100, "%"),
	)
	switch {
	case r != nil:
		return r
	case f.BadSec < f.LikelySec:
		return badField("fixes", "%s: the bad case (%d s) is shorter than the likely time (%d s). Turn them round.", f.Name, f.BadSec, f.LikelySec)
	case f.Way == WayPatch && f.Limits == "":
		return badField("fixes", "%s is a patch: say what limits it leaves.", f.Name)
	case f.Way != WayPatch && f.WorksPct != 0:
		return badField("fixes", "%s is no patch: how much works after it is said of patches only.", f.Name)
	}
	return nil
}

func (n Need) valid(s State) *Refusal {
	if _, ok := s.Stocks[n.Stock]; !ok {
		return missing("spare", "fixes")
	}
	return checkRange("fixes", n.Count, 1, 99, "pieces")
}

func validFixes(s State, fixes []Fix) *Refusal {
	if len(fixes) == 0 || len(fixes) > 6 {
		return badField("fixes", "A job needs one to six ways to do it; this has %d.", len(fixes))
	}
	return each(fixes, func(f Fix) *Refusal { return f.valid(s) })
}
