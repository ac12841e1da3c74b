package forecast_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestNobodyIsToldOfAChannelThatChargesAnotherPack(t *testing.T) {
	for _, taken := range []string{"C1", "C2"} {
		t.Run("a pack for no robot is on "+taken, func(t *testing.T) {
			b := newBench(t)
			on := map[string]board.ChannelID{"C1": b.one, "C2": b.two}[taken]
			b.calledAt(b.sprat, noon.Add(120*time.Minute))
			other := b.pack("P1", b.light("Tern", 2, b.bob))
			b.read(other, 3.733, 25, nil)
			b.charge(other, on)
			p := b.pack("P2", b.sprat)
			b.read(p, 3.733, 25, nil)

			b.follow()

			told, ok := b.s.Follow().Charge(p)
			require.True(t, ok, "Sprat waits for it")
			require.NotEqual(t, on, told.Channel)
			require.Equal(t, b.channelOf(p), told.Channel, "people and the charging board are told the same")
			require.Less(t, told.StartAt, b.view(other).ReadyAt, "it need not wait for the other")
		})
	}
}

// channelOf is the channel on which the charge of a pack is drawn.
func (b *bench) channelOf(p board.PackID) board.ChannelID {
	b.t.Helper()
	for _, c := range b.make().Channels {
		for _, bar := range c.Bars {
			if bar.Pack == p {
				return c.Channel
			}
		}
	}
	return ""
}
