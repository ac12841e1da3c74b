package board

// numbered lists the rules that are asked after every command, whichever it was
// and whoever gave it, in the order of safety reference §5.1. Each is a function
// over the state before and after, kept beside its noun.
//
// Kept elsewhere: rule 4 (verifying apart from isolating, by an authorised
// person), rule 12 (who signs) and the rest of rule 11 are asked where a sheet is
// answered, in sheet.go and strip.go, as is the second tag of rule 3; GX damage of
// rule 11 where a job is valid, in job.go; rule 18 in BoardStart, which makes all
// unknown, and in ruleMoves; rule 19 in fresh, in command.go; rules 23 to 25 bind
// the screens and the forecast, which can give no command.
var numbered = []func(*turn) *Refusal{
	rule1,
	rule2,
	ruleMoves,
	rule3,
	rule5,
	rule6,
	rule6Kept,
	rule7,
	rule8,
	rule9,
	rule10,
	rule11,
	rule13,
	rule14,
	rule15,
	rule16,
	rule17,
	rule20,
	rule21,
	rule22,
	rule24,
	ruleJobMoves,
	ruleStop,
}

func (t *turn) rules() *Refusal {
	for _, rule := range numbered {
		if r := rule(t); r != nil {
			return r
		}
	}
	return nil
}
