// Package partmap answers what must come off a machine to reach a part of it, and
// what that costs.
//
// A map has parts and joints. A part comes off after any one of some sets of
// other parts, and taking it off undoes every joint it is in. Both have a cost.
// The way to some parts is the cheapest set of others to take off so that all of
// them lie bare; what two parts share on the way is taken off once. With the
// choice among sets the problem holds the set-cover problem, so the search is a
// branch and bound with a budget of steps: exact on any map a robot has, and said
// to be inexact where the budget ended it.
package partmap
