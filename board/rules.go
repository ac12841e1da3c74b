package board

// rule is one numbered rule of safety reference §5.1, or a part of it; 0 is one
// that has no number there. It is asked after every command, whichever it was and
// whoever gave it, over the state before and after.
type rule struct {
	number int
	ask    func(*turn) *Refusal
}

// numbered lists the rules in their order. Each is kept beside its noun. Where a
// command asks the same before, it does so for a better sentence:
//
//	 1 power.go; dueByNow in settle.go makes a new day's robots unknown
//	 2 power.go; RobotTestEnd, RobotPlace, FightEnd make unknown
//	 3 power.go (the table of moves), strip.go (states rest on their sheets);
//	   sheetanswer.go and tag.go ask for the order of lines and for one tag while a
//	   first-in line is open; recheck.go for gas and capacitors at work
//	 4 strip.go; also sheetanswer.go, where a line is answered
//	 5 tag.go
//	 6 override.go
//	 7 power.go; tag.go makes unknown where a tag comes late
//	 8 to 10 jobwork.go; settle.go closes a job when it owes nothing
//	11 fresh.go (answers overtaken by work) and strip.go (jobs, damage, packs);
//	   mass, setup and lines by the sheets; GX damage in job.go
//	12 strip.go
//	13 pack.go
//	14 charging.go
//	15 hotwork.go, with the venue's permit
//	16 and 17 energise.go
//	18 settle.go, and BoardStart there, which makes all unknown; paper.go keeps
//	   what was answered on paper as record
//	19 command.go
//	20 event.go
//	21 and 22 undo.go; 22 is also the screen's, against a key that repeats
//	23 the screens' and the forecast's: words that say who and when
//	24 alarm.go; also the screens', which may hide none
//	25 settle.go; the forecast and the planner can give no command
var numbered = []rule{
	{1, rule1},
	{2, rule2},
	{3, ruleMoves},
	{3, rule3},
	{4, rule4},
	{5, rule5},
	{6, rule6},
	{6, rule6Kept},
	{7, rule7},
	{8, rule8},
	{9, rule9},
	{10, rule10},
	{11, rule11},
	{12, rule12},
	{13, rule13},
	{14, rule14},
	{15, rule15},
	{16, rule16},
	{17, rule17},
	{18, rule18},
	{19, rule19},
	{20, rule20},
	{21, rule21},
	{22, rule22},
	{24, rule24},
	{25, rule25},
	{0, ruleJobMoves},
	{0, ruleStop},
}

func (t *turn) rules() *Refusal {
	for _, rule := range numbered {
		if bad := rule.ask(t); bad != nil {
			return bad
		}
	}
	return nil
}
