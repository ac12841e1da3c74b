package forecast_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/board/boardtest"
	"mendline/board/forecast"
)

func TestNothingForetoldSendsAnyoneToAPackThatMayVent(t *testing.T) {
	hot, cells := 61.0, []float64{2.9, 2.9, 2.9, 2.9}
	for name, c := range map[string]board.PackRead{
		"hot": {TempC: &hot}, "smokes": {Look: board.LookSmokes}, "swollen": {Look: board.LookSwollen}, "low cells": {CellVolts: cells},
	} {
		for where, put := range map[string]func(p *pit, id board.PackID, r board.RobotID){
			"in a robot": func(p *pit, id board.PackID, r board.RobotID) {
				p.captain(board.PackMove{Pack: id, Robot: r, Found: true})
			},
			"somewhere": func(p *pit, id board.PackID, _ board.RobotID) {},
			"at the shelf": func(p *pit, id board.PackID, _ board.RobotID) {
				p.captain(board.PackMove{Pack: id, Place: p.place("shelf", board.PlaceStore)})
			},
			"at a watch place": func(p *pit, id board.PackID, _ board.RobotID) {
				p.captain(board.PackMove{Pack: id, Place: p.place("tray", board.PlaceWatch)})
			},
		} {
			t.Run(name+", "+where, func(t *testing.T) {
				p, r := opened(t)
				p.work(r, "Swap the rail", board.Must, fix(10, 20, board.SkillMechanical))
				p.calledAt(r, p.in(60))
				c.Pack = p.pack("Q7", r)
				put(p, c.Pack, r)
				p.captain(c)
				f := p.make()
				said := 0
				for _, a := range f.Alarms {
					require.Empty(t, boardtest.Deed(p.s, a.What, a.Act))
					if strings.HasPrefix(a.Slug, "A-pack-") {
						said++
					}
				}
				require.Equal(t, where != "at a watch place", said == 1)
				for _, todo := range f.Todos {
					require.Empty(t, boardtest.Deed(p.s, todo.Title, todo.Why))
				}
				for _, call := range f.Calls {
					require.Empty(t, boardtest.Deed(p.s, call.Cause.Text))
				}
			})
		}
	}
}

func TestAPackThatGrowsHotOnAChargerIsAnAlarmAtOnce(t *testing.T) {
	b := newBench(t)
	id := b.pack("Q7", b.sprat)
	b.read(id, 3.7, 21, nil)
	b.charge(id, b.one)
	hot := func(read board.PackRead) (found []forecast.Alarm) {
		read.Pack = id
		b.by(b.ann, read)
		for _, a := range b.make().Alarms {
			if strings.Contains(a.Slug, "hot-") {
				found = append(found, a)
			}
		}
		return found
	}
	warm := func(c float64) board.PackRead { return board.PackRead{TempC: &c} }
	require.Empty(t, hot(warm(49.5)))
	list := hot(warm(50))
	require.Len(t, list, 1)
	require.Equal(t, forecast.ClassA, list[0].Class)
	require.Contains(t, list[0].Act, "get clear")
	require.Len(t, hot(board.PackRead{MilliOhm: 20}), 1, "a reading without a temperature ends it not")
	require.Empty(t, hot(warm(44)))
}
