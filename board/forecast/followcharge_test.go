package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// A pack that a robot waits for is on a channel while something else is said of pack,
// channel or robot than when it was put there, on boards of before that was refused too:
// the plan that people are given then is one that the board takes.
func TestAPlanIsTakenWhateverIsSaidOfAPackThatIsOnCharge(t *testing.T) {
	was := func(b *bench, n board.Noun) { b.s = board.FromNouns(b.s.Rev, append(b.s.Nouns(), n), nil) }
	channel := func(change func(ch *board.Channel)) func(*bench, board.PackID) {
		return func(b *bench, _ board.PackID) {
			ch := b.s.Channels[b.one]
			change(&ch)
			was(b, ch)
		}
	}
	pack := func(change func(p *board.Pack)) func(*bench, board.PackID) {
		return func(b *bench, id board.PackID) {
			p := b.s.Packs[id]
			change(&p)
			was(b, p)
		}
	}
	for name, change := range map[string]func(b *bench, p board.PackID){
		"nothing":                       func(*bench, board.PackID) {},
		"the channel gives less":        channel(func(ch *board.Channel) { ch.AmpsMost = 0.5 }),
		"the channel takes fewer cells": channel(func(ch *board.Channel) { ch.CellsMost = 2 }),
		"the label says less":           pack(func(p *board.Pack) { p.ChargeAmpsMost = 0.1 }),
		"it holds less":                 pack(func(p *board.Pack) { p.CapacityAh = 0.4 }),
		"the robot is off the board":    func(b *bench, _ board.PackID) { b.captain(board.RobotRetire{Robot: b.sprat}) },
		"the circuit is off":            func(b *bench, _ board.PackID) { b.captain(board.CircuitOff{Circuit: b.circuit}) },
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			b.calledAt(b.sprat, noon.Add(120*time.Minute))
			p := b.pack("P1", b.sprat)
			b.read(p, 3.73, 25, nil)
			b.charge(p, b.one)
			change(b, p)
			b.job(board.JobFields{Robot: b.light("Tern", 2, b.bob), Name: "belt", Fixes: []board.Fix{fix(5, 9, board.SkillAny)}})
			b.follow()
			require.Nil(t, b.make().Replace)
		})
	}
}

// A person may put any plan there that the board takes; the forecast goes on from it.
func TestTheForecastGoesOnFromWhateverPlanAPersonPutThere(t *testing.T) {
	for name, odd := range map[string]func(b *bench, k *board.PlanCharge){
		"it begins in a million years": func(_ *bench, k *board.PlanCharge) { k.StartAt, k.EndAt = 1<<55, 1<<55 },
		"it began before time did":     func(_ *bench, k *board.PlanCharge) { k.StartAt, k.EndAt = -1<<55, 0 },
		"it never ends":                func(_ *bench, k *board.PlanCharge) { k.EndAt = 1<<63 - 1 },
		"hardly any current":           func(_ *bench, k *board.PlanCharge) { k.Amps = 1e-300 },
		"a robot without a call":       func(b *bench, k *board.PlanCharge) { k.Robot = b.light("Tern", 2, b.bob) },
		"a pack in the robot": func(b *bench, k *board.PlanCharge) {
			b.captain(board.PackMove{Pack: k.Pack, Robot: b.sprat, Found: true})
		},
		"a pack that fits no robot": func(b *bench, k *board.PlanCharge) { b.kind(k.Pack, func(f *board.PackFields) { f.Fits = nil }) },
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			b.calledAt(b.sprat, noon.Add(120*time.Minute))
			p := b.pack("P1", b.sprat)
			b.read(p, 3.73, 25, nil)
			k := board.PlanCharge{Pack: p, EndAt: noon.Add(time.Hour), ToldCharge: board.ToldCharge{Robot: b.sprat, Channel: b.one, Amps: 0.85, StartAt: noon}}
			odd(b, &k)
			b.captain(board.PlanReplace{Charges: []board.PlanCharge{k}})
			if replace := b.make().Replace; replace != nil {
				b.made("", *replace, board.Itself())
			}
			require.Nil(t, b.make().Replace)

			b.captain(board.PlanReplace{Charges: []board.PlanCharge{k}})
			b.captain(board.ChannelRetire{Channel: b.one})
			b.captain(board.ChannelRetire{Channel: b.two})
			b.make()
			b.captain(board.RobotRetire{Robot: b.sprat})
			b.make()
			for _, v := range b.make().Channels {
				require.Empty(t, v.Bars)
			}
		})
	}
}
