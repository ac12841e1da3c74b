package charge

import "testing"

func BenchmarkOneCharge(b *testing.B) {
	for _, name := range []string{"W2", "W7"} {
		j := workedJob(b, name)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := j.Charge(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A day of thirty packs on twelve channels of six chargers, on one circuit: four
// starts an hour, each channel used two or three times.
func dayOfCharges(tb testing.TB) ([]Seat, Supply) {
	var seats []Seat
	for k := range 30 {
		j := workedJob(tb, []string{"W2", "W4", "W6", "W7"}[k%4])
		seats = append(seats, Seat{Job: j, Charger: k % 12 / 2, StartSec: float64(k/12)*3*3600 + float64(k%12)*300})
	}
	return seats, Supply{Watts: 1586.8, ChargerWatts: []float64{1000, 1000, 1000, 400, 400, 400}, Sharing: FairShare}
}

func BenchmarkDayOfThirtyPacksOnTwelveChannels(b *testing.B) {
	seats, s := dayOfCharges(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Together(seats, s); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(len(seats)), "µs/pack")
}
