package board

// Foretold is a chance that was given before a call, and whether the call was met. One
// is kept for each fight, at one lead, so that many looks at one call do not count
// as many calls.
type Foretold struct {
	Fight FightID `json:"fight"`
	V     Rev     `json:"v"`
	Robot RobotID `json:"robot"`
	// Ready is the chance in tenths, 0 to 10, as it was shown at At for the call at
	// CallAt.
	Ready  int    `json:"ready"`
	At     Moment `json:"at"`
	CallAt Moment `json:"callAt"`
	// Judged is when the call came; Met whether the robot was signed for then.
	Judged Moment `json:"judged,omitzero"`
	Met    bool   `json:"met,omitzero"`
}

// Key is foretold/<fightID>.
func (foretold Foretold) Key() Key         { return KeyOf(KindForetold, foretold.Fight) }
func (foretold Foretold) Rev() Rev         { return foretold.V }
func (foretold Foretold) stamp(r Rev) Noun { foretold.V = r; return foretold }

// valid asks nothing of the fight: one that is taken back must not be held by what
// was said of it.
func (foretold Foretold) valid(State) *Refusal {
	return checkRange("ready", foretold.Ready, 0, 10, "of 10")
}

// ChanceSay keeps the chance that is shown before a call. The desk gives it, once
// for a fight.
type ChanceSay struct {
	Fight  FightID `json:"fight"`
	Ready  int     `json:"ready"`
	CallAt Moment  `json:"callAt"`
}

func (c ChanceSay) do(t *turn) *Refusal {
	f, bad := t.fight(c.Fight)
	if bad != nil {
		return bad
	}
	if _, ok := t.s().Foretolds[c.Fight]; ok {
		return refuse(CodeState, "The chance before that call is kept already.")
	}
	t.put(Foretold{Fight: f.ID, Robot: f.Robot, Ready: c.Ready, At: t.now, CallAt: c.CallAt})
	return nil
}

// ChanceJudge says whether a call was met for which a chance was kept. The desk
// gives it when the call has come.
type ChanceJudge struct {
	Fight FightID `json:"fight"`
	Met   bool    `json:"met"`
}

func (c ChanceJudge) do(t *turn) *Refusal {
	foretold, ok := t.s().Foretolds[c.Fight]
	if !ok || foretold.Judged != 0 {
		return refuse(CodeState, "No chance for that fight is waiting for its call.")
	}
	foretold.Judged, foretold.Met = t.now, c.Met
	t.put(foretold)
	return nil
}
