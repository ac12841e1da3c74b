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
