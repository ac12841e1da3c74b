package fightclock_test

import (
	"fmt"
	"testing"
	"time"

	"mendline/board/fightclock"
)

func BenchmarkPredict(b *testing.B) {
	for _, ahead := range []int{1, 5, 20} {
		for _, share := range []float64{0, 0.08} {
			b.Run(fmt.Sprintf("ahead=%d/holdups=%g", ahead, share), func(b *testing.B) {
				in := day()
				in.Now = in.Now.Add(4 * time.Minute)
				in.Watched = true
				in.Prior.HoldUpShare = share
				in.Wanted[0].Fight = 9 + ahead
				b.ReportAllocs()
				for b.Loop() {
					if _, err := fightclock.Predict(in); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

func BenchmarkPredictAfter50Sightings6Wanted(b *testing.B) {
	in := day()
	in.Sightings = nil
	for i := range 50 {
		in.Sightings = append(in.Sightings, fightclock.Sighting{
			Arena: "main", Fight: i + 1, At: at("09:00").Add(time.Duration(i)*6*time.Minute + time.Duration(i*i%7)*20*time.Second),
		})
	}
	in.Wanted = nil
	for i := range 6 {
		in.Wanted = append(in.Wanted, fightclock.Wanted{Fight: 53 + 3*i, Lead: fightclock.Lead{Fights: 2}})
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := fightclock.Predict(in); err != nil {
			b.Fatal(err)
		}
	}
}
