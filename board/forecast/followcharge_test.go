package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// A pack that a robot waits for is on a channel while the captain corrects what is said
// of pack, channel or robot: the plan that people are given then is one that the board
// takes.
func TestAPlanIsTakenWhateverIsSaidOfAPackThatIsOnCharge(t *testing.T) {
	for name, change := range map[string]func(b *bench, p board.PackID){
		"nothing": func(*bench, board.PackID) {},
		"the channel gives less": func(b *bench, _ board.PackID) {
			f := b.s.Channels[b.one].ChannelFields
			f.MaxAmps = 0.5
			b.captain(board.ChannelChange{Channel: b.one, ChannelFields: f})
		},
		"the channel takes fewer cells": func(b *bench, _ board.PackID) {
			f := b.s.Channels[b.one].ChannelFields
			f.CellsMost = 2
			b.captain(board.ChannelChange{Channel: b.one, ChannelFields: f})
		},
		"the label says less":          func(b *bench, p board.PackID) { b.kind(p, func(f *board.PackFields) { f.MaxChargeAmps = 0.1 }) },
		"it holds less":                func(b *bench, p board.PackID) { b.kind(p, func(f *board.PackFields) { f.CapacityAh = 0.4 }) },
		"the channel is off the board": func(b *bench, _ board.PackID) { b.captain(board.ChannelRetire{Channel: b.one}) },
		"the pack is off the board":    func(b *bench, p board.PackID) { b.captain(board.PackRetire{Pack: p}) },
		"the robot is off the board":   func(b *bench, _ board.PackID) { b.captain(board.RobotRetire{Robot: b.sprat}) },
		"the circuit is off":           func(b *bench, _ board.PackID) { b.captain(board.CircuitOff{Circuit: b.circuit}) },
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
