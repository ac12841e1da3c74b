package forecast

import (
	"math"
	"slices"

	"mendline/board"
	"mendline/board/charge"
)

// PackHealth is what the readings of a pack say of its age (packhealth/<packID>):
// points with what each may be off by. It foretells no date.
type PackHealth struct {
	Pack board.PackID `json:"pack"`
	Wear charge.Wear  `json:"wear,omitzero"`
	// Capacity is in Ah by the charges that tell it, RatedAh is the label's.
	RatedAh  float64       `json:"ratedAh"`
	Capacity []HealthPoint `json:"capacity"`
	// Ohms are one cell's, in mΩ at 25 °C, by the team's own instrument.
	Ohms   []HealthPoint `json:"ohms"`
	Spread []HealthPoint `json:"spread"`
	// Share is what went back of the rated Ah after each fight, 0 to 1.
	Share []HealthPoint `json:"share"`
	// ChargeOhm and CoolMin are learned beside what was believed before.
	ChargeOhm LearnedFigure `json:"chargeOhm"`
	CoolMin   LearnedFigure `json:"coolMin"`
}

// HealthPoint is a figure of one reading and what it may be off by, either way.
type HealthPoint struct {
	At        board.Moment `json:"at"`
	Value     float64      `json:"value"`
	PlusMinus float64      `json:"plusMinus,omitzero"`
}

// LearnedFigure is a figure from N logged cases beside the one that held before; Value is 0
// while N is.
type LearnedFigure struct {
	N      int     `json:"n"`
	Value  float64 `json:"value,omitzero"`
	Before float64 `json:"before,omitzero"`
}

// FightEnergy is what a robot takes out of its pack in a fight, in watt hours
// (fightenergy/<robotID>), beside what is guessed for its weight.
type FightEnergy struct {
	Robot  board.RobotID `json:"robot"`
	N      int           `json:"n"`
	Wh     float64       `json:"wh,omitzero"`
	LowWh  float64       `json:"lowWh,omitzero"`
	HighWh float64       `json:"highWh,omitzero"`
	// GuessLowWh to GuessHighWh: common practice, no source.
	GuessLowWh  float64 `json:"guessLowWh"`
	GuessHighWh float64 `json:"guessHighWh"`
}

func (c packing) health() []PackHealth {
	var list []PackHealth
	for _, p := range packsByName(c.s) {
		h := PackHealth{Pack: p.ID, RatedAh: p.CapacityAh, Capacity: []HealthPoint{}, Ohms: []HealthPoint{}, Spread: []HealthPoint{}, Share: []HealthPoint{}}
		var before board.Reading
		for _, r := range c.s.PackLogs[p.ID].Readings {
			h.add(p, r, before)
			if len(r.CellVolts) == p.Cells {
				before = r
			}
		}
		h.Wear = h.wear()
		if mohm, n := c.learnedMilliOhm(p); n > 0 {
			h.ChargeOhm = LearnedFigure{N: n, Value: round(mohm, 10)}
		}
		h.ChargeOhm.Before = round(guessMilliOhmAh/p.CapacityAh, 10)
		if tau, n := c.learnedTau(p); n > 0 {
			h.CoolMin = LearnedFigure{N: n, Value: round(tau/60, 10)}
		}
		list = append(list, h)
	}
	return list
}

// round is x to so many parts of one: 100 is two decimals.
func round(x, parts float64) float64 { return math.Round(x*parts) / parts }

// add takes in what one reading tells; before is the last one of its cells.
func (h *PackHealth) add(p board.Pack, r, before board.Reading) {
	if r.MilliOhm > 0 && r.TempC != nil && len(r.CellVolts) > 0 {
		if m, err := charge.ResistanceAt25(r.MilliOhm, *r.TempC, socOf(p.Chemistry, r)); err == nil {
			h.Ohms = append(h.Ohms, HealthPoint{r.At, round(m.Value, 100), round(m.PlusMinus, 100)})
		}
	}
	if len(r.CellVolts) > 1 {
		h.Spread = append(h.Spread, HealthPoint{At: r.At, Value: round(charge.SpreadOf(p.Chemistry, r.CellVolts).Volts, 1000)})
	}
	if r.ReturnedAh > 0 && r.Fought != "" {
		h.Share = append(h.Share, HealthPoint{At: r.At, Value: round(r.ReturnedAh/p.CapacityAh, 100)})
	}
	if r.Charged && r.ReturnedAh > 0 && len(before.CellVolts) > 0 {
		if m, err := charge.CapacityFromCharge(p.Chemistry, r.ReturnedAh, socOf(p.Chemistry, before), 1); err == nil {
			h.Capacity = append(h.Capacity, HealthPoint{r.At, round(m.Value, 1000), round(m.PlusMinus, 1000)})
		}
	}
}

// socOf is the state of charge by r's cells, 0 where they do not tell.
func socOf(chem charge.Chemistry, r board.Reading) float64 {
	soc, err := charge.SoCAtRest(chem, mean(r.CellVolts))
	if err != nil || soc.CountAh {
		return 0
	}
	return soc.Likely
}

// wear grades by the last capacity and by how the resistance grew since the first.
func (h PackHealth) wear() charge.Wear {
	share, times := 0.0, 0.0
	if n := len(h.Capacity); n > 0 {
		share = h.Capacity[n-1].Value / h.RatedAh
	}
	if n := len(h.Ohms); n > 1 {
		times = h.Ohms[n-1].Value / h.Ohms[0].Value
	}
	if share == 0 && times == 0 {
		return ""
	}
	return charge.WearOf(share, times)
}

// fightEnergies is what each robot's fights took, by what went back in afterwards.
func (c packing) fightEnergies(robots []outlook) []FightEnergy {
	wh := map[board.RobotID][]float64{}
	for _, p := range packsByName(c.s) {
		for _, r := range c.s.PackLogs[p.ID].Readings {
			if r.ReturnedAh > 0 && r.Fought != "" && p.Use == board.UseMain {
				wh[r.Fought] = append(wh[r.Fought], r.ReturnedAh*float64(p.Cells)*charge.LimitsOf(p.Chemistry).NominalVolts)
			}
		}
	}
	var list []FightEnergy
	for _, o := range robots {
		e := FightEnergy{Robot: o.robot.ID, N: len(wh[o.robot.ID])}
		e.GuessLowWh, e.GuessHighWh = guessedWh(o.robot.Class)
		if e.N > 0 {
			all := slices.Sorted(slices.Values(wh[o.robot.ID]))
			e.Wh, e.LowWh, e.HighWh = round(medianOf(all), 10), round(all[0], 10), round(all[e.N-1], 10)
		}
		list = append(list, e)
	}
	return list
}

// guessedWh is what a fight takes by the class's limit: common practice, no source,
// very wide.
func guessedWh(class board.Class) (low, high float64) {
	const perPound = 453.59237
	grams := class.Limit * map[board.MassUnit]float64{board.Gram: 1, board.Kilogram: 1000, board.Pound: perPound}[class.Unit]
	for _, g := range []struct{ grams, low, high float64 }{
		{150, 0.5, 1.5}, {3 * perPound, 5, 12}, {12 * perPound, 12, 30}, {30 * perPound, 30, 80}, {60 * perPound, 60, 150}, {120 * perPound, 100, 250},
	} {
		if grams <= 1.2*g.grams {
			return g.low, g.high
		}
	}
	return 200, 450
}
