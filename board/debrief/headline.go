package debrief

import "fmt"

// headline says what a section's day cost, and whether another construction would have
// cost less to mend.
func (r Record) headline(s Section, compared []Compared) string {
	b := s.Bill
	said := fmt.Sprintf("day cost %s at list price, %s paid, and %d min of work, with %s",
		r.money(b.ListCents), r.money(b.PaidCents), minutesUp(b.WorkSec), plural(b.Damages, "damage"))
	if s.Robot == "" {
		said = "The " + said + "."
		for _, c := range compared {
			said += fmt.Sprintf(" %s: %s.", c.Name, c.cheaper())
		}
		return said
	}
	said = "On " + s.Name + " the " + said
	for _, c := range compared {
		said += "; " + c.cheaper()
	}
	return said + "."
}

// cheaper says which of the two constructions costs less to mend, where the record is
// enough for a verdict.
func (a *Comparison) cheaper() string {
	word, p := "more", a.OtherDearer
	if a.OtherCheaper > p {
		word, p = "less", a.OtherCheaper
	}
	switch {
	case !a.Decided:
		return fmt.Sprintf("too few damaging fights to say whether %s would have cost less to mend than %s", a.Other.Name, a.Built.Name)
	case p == 0:
		return fmt.Sprintf("%s would have cost as much to mend as %s", a.Other.Name, a.Built.Name)
	}
	return fmt.Sprintf("in %s of 100 replays %s would have cost %s to mend than %s", of100(p), a.Other.Name, word, a.Built.Name)
}

// minutesUp are whole minutes, as all screens say how long work takes.
func minutesUp(sec int) int { return (sec + 59) / 60 }

// money is an amount in the event's currency: "87.50 crowns".
func (r Record) money(cents int) string { return Money(float64(cents), r.State.Event().Currency) }

// chanceGood is from which chance on, of 10, a call was as good as promised.
const chanceGood = 8

// calledSaid says how many calls were met, where the chance was good and where it was not.
func calledSaid(calls []Called) string {
	var good, rest, goodMet, restMet int
	for _, c := range calls {
		n, met := &rest, &restMet
		if c.Of10 >= chanceGood {
			n, met = &good, &goodMet
		}
		*n++
		if c.Met {
			*met++
		}
	}
	if len(calls) == 0 {
		return "No chance was given before a call that has come."
	}
	said := fmt.Sprintf("%s with a chance given before: %d met.", plural(len(calls), "call"), goodMet+restMet)
	switch {
	case rest == 0:
		return said + fmt.Sprintf(" Each time it was %d of 10 or better.", chanceGood)
	case good == 0:
		return said + fmt.Sprintf(" It was never %d of 10 or better.", chanceGood)
	}
	return said + fmt.Sprintf(" Where it was %d of 10 or better, %d of %d were met; where it was less, %d of %d.", chanceGood, goodMet, good, restMet, rest)
}
