package debrief

import (
	"fmt"
	"math"
	"strings"
)

// say puts the comparison into sentences, money in this currency.
func (a *Comparison) say(currency string) {
	a.Assumes = fmt.Sprintf("Assumes that %s of the recorded damage reaches %s as well. Force takes another way through another frame: nobody has seen these hits on it.", share(a.Moves), a.Other.Name)
	a.Gap = fmt.Sprintf("From %d fights, %d of them damaging, %d members hit; %d replays. Times of %s.", a.Fights, a.Damaging, a.Members, a.Replays, a.known())
	if a.Damaging < DamagingLeast {
		a.Verdict = fmt.Sprintf("No verdict: the record has %s, and it takes %d.", plural(a.Damaging, "damaging fight"), DamagingLeast)
		return
	}
	a.Decided = true
	a.Verdict = fmt.Sprintf("%s of this day %s.", inReplays(math.Max(a.OtherSlower, 1-a.OtherSlower)), a.slowerWords()) + " " +
		fmt.Sprintf("%s it misses more calls than %s; in %s it misses as many.", inReplays(a.OtherMisses), a.Built.Name, of100(a.SameMisses)) + " " +
		fmt.Sprintf("%s it costs more to mend.", inReplays(a.OtherDearer))
	a.Condition = a.Turn.words(a.Other.Name, a.Built.Name, currency)
}

func (a *Comparison) slowerWords() string {
	word := "slower"
	if a.OtherSlower < 0.5 {
		word = "quicker"
	}
	return fmt.Sprintf("%s is %s to put right than %s", a.Other.Name, word, a.Built.Name)
}

func (a *Comparison) known() string {
	var parts []string
	for _, o := range []Outcome{a.Built, a.Other} {
		word := "the team's own"
		if o.Guessed {
			word = "guessed"
		}
		parts = append(parts, o.Name+" are "+word)
	}
	return strings.Join(parts, ", of ")
}

func share(moves float64) string {
	return fmt.Sprintf("%.0f %%", 100*moves)
}

func inReplays(p float64) string { return "In " + of100(p) + " of 100 replays" }

// of100 says a share in whole replays of 100; a share that is not 0 or 1 is not
// rounded to it.
func of100(p float64) string {
	switch n := math.Round(100 * p); {
	case p == 0:
		return "0"
	case n < 1:
		return "under 1"
	case n > 99 && p < 1:
		return "over 99"
	default:
		return fmt.Sprintf("%.0f", n)
	}
}

func (t Turn) words(other, built, currency string) string {
	var list []string
	if t.Price != nil {
		list = append(list, fmt.Sprintf("money is equal when %s costs %s and not %s", t.Step, Money(*t.Price, currency), Money(t.Paid, currency)))
	}
	if t.Loss != nil {
		list = append(list, fmt.Sprintf("minutes are equal when %s loses %.2f members a fight and not %.2f", other, *t.Loss, t.Lost))
	}
	if t.MoneyLoss != nil {
		list = append(list, fmt.Sprintf("money is equal at %.2f", *t.MoneyLoss))
	}
	if len(list) == 0 {
		return fmt.Sprintf("Up to twice the recorded damage, nothing turns the answer between %s and %s.", other, built)
	}
	text := strings.Join(list, "; ") + "."
	return "The answer turns: " + text
}

// Money is cents in whole units with two places, "87.50 crowns", or without a currency "87.50".
func Money(cents float64, currency string) string {
	return strings.TrimSpace(fmt.Sprintf("%.2f %s", cents/100, currency))
}

// plural is "1 job", "2 jobs".
func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
