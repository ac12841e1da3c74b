package charge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// records are the eight measured charges of a 5 Ah NMC811 cell of size 21700
// (PyBOP, examples/data): start by the last rest voltage and the measured curve,
// seconds at set current and at the limit voltage, Ah in, time constant of the taper;
// and the seconds of the model. Computed independently from the files, to 60 s.
var records = []struct {
	file             string
	z0, cc, cv, ah   float64
	tau              float64
	tempC, amps      float64
	modelCC, modelCV float64
}{
	{"cell21700_0c_0p1c.csv", 0.050, 7740, 4481, 4.434, 2701, 0, 5.0 / 3, 8277, 3491},
	{"cell21700_0c_1c.csv", 0.108, 7493, 4188, 4.291, 2490, 0, 5.0 / 3, 7658, 3491},
	{"cell21700_10c_0p5c.csv", 0.057, 8280, 3119, 4.528, 1731, 10, 5.0 / 3, 8627, 2616},
	{"cell21700_10c_2c.csv", 0.034, 8699, 3136, 4.729, 1728, 10, 5.0 / 3, 8870, 2615},
	{"cell21700_25c_0p1c.csv", 0.006, 9360, 2288, 4.893, 1168, 25, 5.0 / 3, 9526, 2066},
	{"cell21700_25c_1c.csv", 0.033, 9169, 2019, 4.737, 1013, 25, 5.0 / 3, 9231, 2066},
	{"cell21700_45c_0p5c.csv", 0.003, 6240, 1993, 4.981, 855, 45, 2.5, 5898, 2599},
	{"cell21700_45c_1c.csv", 0.010, 9900, 1410, 4.921, 697, 45, 5.0 / 3, 9624, 1870},
}

// milliOhm21700 is twice the resistance of a 10 s pulse, by °C.
var milliOhm21700 = map[float64]float64{0: 102, 10: 80, 25: 69.4, 45: 66}

// measured is what a record says of its charge.
type measured struct{ restVolts, amps, ccSec, cvSec, ah float64 }

func chargeIn(t *testing.T, file string) measured {
	t.Helper()
	s := readSheet(t, file)
	var m measured
	var start, limit, end, ah0 float64
	for k := range s.rows {
		switch s.text(t, k, "phase") {
		case "rest1":
			m.restVolts = s.number(t, k, "volts")
		case "charge":
			sec, amps, ah := s.number(t, k, "t_s"), s.number(t, k, "amps"), s.number(t, k, "ah")
			if start == 0 {
				start, ah0 = sec, ah
			}
			m.amps = max(m.amps, amps)
			if amps > 0.995*m.amps { // the limit is met between this row and the next
				limit = (sec + s.number(t, min(k+1, len(s.rows)-1), "t_s")) / 2
			}
			end, m.ah = sec, ah-ah0
		}
	}
	m.ccSec, m.cvSec = limit-start, end-limit
	return m
}

// taperTau is the time constant of a record's falling current, from 0.9 of the set
// one to the end, by least squares of its logarithm.
func taperTau(t *testing.T, file string, set float64) float64 {
	s := readSheet(t, file)
	var sec, logs []float64
	for k := range s.rows {
		amps := s.number(t, k, "amps")
		falling := len(sec) > 0 || k > 0 && s.number(t, k-1, "amps") > amps
		if s.text(t, k, "phase") == "charge" && amps < 0.9*set && amps > 0 && falling {
			sec, logs = append(sec, s.number(t, k, "t_s")), append(logs, math.Log(amps))
		}
	}
	n, mx, my := float64(len(sec)), meanOf(sec), meanOf(logs)
	xx, xy := -n*mx*mx, -n*mx*my
	for k := range sec {
		xx, xy = xx+sec[k]*sec[k], xy+sec[k]*logs[k]
	}
	return -xx / xy
}

func TestMeasuredChargesAreMetWithinTheirBounds(t *testing.T) {
	curve := curveFile(t, "ocv_cell21700_measured.csv", "volts")
	for _, c := range records {
		t.Run(c.file, func(t *testing.T) {
			m := chargeIn(t, c.file)
			require.InDelta(t, c.amps, m.amps, 0.01)
			require.InDelta(t, c.cc, m.ccSec, 60, "the record itself")
			require.InDelta(t, c.cv, m.cvSec, 60, "the record itself")
			require.InDelta(t, c.ah, m.ah, 0.03)
			require.InEpsilon(t, c.tau, taperTau(t, c.file, m.amps), 0.04, "the record itself")
			z0 := curve.SoC(m.restVolts)
			require.InDelta(t, c.z0, z0, 0.001)
			r := chargeOf(t, Job{
				Cells: 1, CapacityAh: 4.95, MilliOhm: milliOhm21700[c.tempC], Curve: curve, LimitVolts: 4.20,
				Amps: c.amps, EndAmps: 0.25, From: z0, To: 1,
			})
			require.InDelta(t, c.modelCC, r.CCSec, 60)
			require.InDelta(t, c.modelCV, r.CVSec, 60)
			require.InEpsilon(t, c.cc+c.cv, r.TotalSec(), 0.05)
			require.InEpsilon(t, c.cc, r.CCSec, 0.09)
			require.InEpsilon(t, c.cv, r.CVSec, 0.35)
		})
	}
}

// Twice the mean of the published 10 s pulses, 30 to 90 % of charge, to 4 %.
func TestTheModelsResistanceIsTwiceThePulses(t *testing.T) {
	s := readSheet(t, "cell21700_pulse_resistance.csv")
	mean := map[float64]float64{}
	for k := range s.rows {
		if s.number(t, k, "soc_nominal") > 0.25 {
			mean[s.number(t, k, "temp_c")] += s.number(t, k, "r_10s_mohm") / 7
		}
	}
	require.Len(t, mean, len(milliOhm21700))
	for temp, milliOhm := range milliOhm21700 {
		require.InEpsilon(t, milliOhm, 2*mean[temp], 0.04, "%g °C", temp)
	}
}

// What the taper of the record at 25 °C after 1C would need as resistance, from 71 mΩ at
// 90 % of charge to 145 at its end: computed independently, charge counted back from
// where it came to rest. One resistance cannot fit both phases.
func TestTheResistanceOfTheTaperClimbs(t *testing.T) {
	curve := curveFile(t, "ocv_cell21700_measured.csv", "volts")
	s := readSheet(t, "cell21700_25c_1c.csv")
	ah, volts, amps := s.column(t, "ah"), s.column(t, "volts"), s.column(t, "amps")
	rested, last := curve.SoC(volts[len(volts)-1]), 0
	for k := range s.rows {
		if s.text(t, k, "phase") == "charge" {
			last = k
		}
	}
	milliOhm := func(k int) float64 {
		return 1000 * (volts[k] - curve.Volts(rested-(ah[last]-ah[k])/4.95)) / amps[k]
	}
	at90 := last
	for at90 > 0 && rested-(ah[last]-ah[at90-1])/4.95 > 0.90 {
		at90--
	}
	require.InDelta(t, 71, milliOhm(at90), 1)
	require.InDelta(t, 145, milliOhm(last), 1)
}

// With the resistance of a 10 s pulse itself the time at the limit voltage comes out
// far too short: computed independently, "60 % short".
func TestAPulseFitsNoTaper(t *testing.T) {
	curve := curveFile(t, "ocv_cell21700_measured.csv", "volts")
	m := chargeIn(t, "cell21700_25c_1c.csv")
	r := chargeOf(t, Job{Cells: 1, CapacityAh: 4.95, MilliOhm: 69.4 / 2, Curve: curve, LimitVolts: 4.20, Amps: m.amps, EndAmps: 0.25, From: curve.SoC(m.restVolts), To: 1})
	require.InDelta(t, 0.4, r.CVSec/m.cvSec, 0.15)
}

// Time constants of the rest after the discharge, to 5 %: computed independently from
// the records. A cell is read at 2 and 8 minutes; what these foretell of the time to
// three quarters cooled is at most 9 % too early.
func TestAMeasuredCellCoolsByNewtonsLaw(t *testing.T) {
	for _, c := range []struct {
		file               string
		tau, foretold, was float64
	}{
		{"cell21700_25c_1c.csv", 465, 184, 176}, {"cell21700_10c_2c.csv", 611, 373, 408}, {"cell21700_0c_1c.csv", 465, 173, 178},
	} {
		s := readSheet(t, c.file)
		var all []TempReading
		for k := range s.rows {
			if s.text(t, k, "phase") == "rest1" {
				all = append(all, TempReading{Sec: s.number(t, k, "t_s"), TempC: s.number(t, k, "temp_c")})
			}
		}
		air := all[len(all)-1].TempC
		var warm []TempReading
		for _, r := range all {
			if r.Sec-all[0].Sec > 20 && r.TempC > air+1.5 && (len(warm) == 0 || r.Sec > warm[len(warm)-1].Sec) {
				warm = append(warm, r)
			}
		}
		fit, err := FitCooling(warm, air)
		require.NoError(t, err)
		require.InEpsilon(t, c.tau, fit.TauSec, 0.12, c.file)
		require.Less(t, fit.RmsC, 0.6, c.file)
		require.InDelta(t, c.was, c.foretold, 0.09*c.was, "the three computed")
		two := []TempReading{at(all, 120), at(all, 480)}
		pair, err := FitCooling(two, air)
		require.NoError(t, err)
		target := air + (all[0].TempC-air)/4
		left := CoolSec(two[1].TempC, target, air, pair.TauSec)
		truth := crossing(all, target) - two[1].Sec
		require.Less(t, truth, 1.2*left, "%s: shown a fifth longer it is not too early", c.file)
		require.InDelta(t, c.was, truth, 25, c.file)
		require.InDelta(t, c.foretold, left, 25, c.file)
	}
}

// Time constants of the rest after the discharge, to 3 %, of a bare cell in the chamber,
// the air fitted: 458 to 472 s after 1C at 0 and 25 °C, 508 s after 0.5C and 611 s after
// 2C (from 47.8 °C) at 10 °C; off by 0.04 to 0.25 °C in the whole records, by up to 0.33
// in the thinned ones. Computed independently.
func TestRestsOfTheRecordsHaveTheirTimeConstants(t *testing.T) {
	for _, c := range []struct {
		file       string
		startC     float64
		tau, mostC float64
	}{
		{"cell21700_0c_1c.csv", 14.6, 465, 0.09}, {"cell21700_25c_1c.csv", 33.6, 465, 0.09},
		{"cell21700_10c_0p5c.csv", 15.6, 508, 0.06}, {"cell21700_10c_2c.csv", 47.8, 611, 0.33},
	} {
		s := readSheet(t, c.file)
		var rest []TempReading
		for k := range s.rows {
			if s.text(t, k, "phase") == "rest1" {
				rest = append(rest, TempReading{Sec: s.number(t, k, "t_s"), TempC: s.number(t, k, "temp_c")})
			}
		}
		require.InDelta(t, c.startC, rest[0].TempC, 0.05, c.file)
		fit, err := FitCoolingAndAir(rest)
		require.NoError(t, err, c.file)
		require.InEpsilon(t, c.tau, fit.TauSec, 0.03, c.file)
		require.Less(t, fit.RmsC, c.mostC, c.file)
		require.InDelta(t, rest[len(rest)-1].TempC, fit.AmbientC, 0.7, "%s: the chamber's air", c.file)
	}
}

func at(all []TempReading, afterSec float64) TempReading {
	best := all[0]
	for _, r := range all {
		if math.Abs(r.Sec-all[0].Sec-afterSec) < math.Abs(best.Sec-all[0].Sec-afterSec) {
			best = r
		}
	}
	return best
}

func crossing(all []TempReading, tempC float64) float64 {
	for k := 1; k < len(all); k++ {
		if a, b := all[k-1], all[k]; a.TempC > tempC && b.TempC <= tempC {
			return a.Sec + (b.Sec-a.Sec)*(a.TempC-tempC)/(a.TempC-b.TempC)
		}
	}
	return math.Inf(1)
}

// Ah in over Ah out of whole cycles: 1.0013 to 1.0018 in six records at 0, 10, 45 °C;
// 0.990 in the two at 25 °C, which end less full than they began. Computed
// independently.
func TestAhInAndOutOfTheRecords(t *testing.T) {
	for _, c := range records {
		s := readSheet(t, c.file)
		out, in := 0.0, chargeIn(t, c.file).ah
		for k := range s.rows {
			if s.text(t, k, "phase") == "discharge" {
				out = -s.number(t, k, "ah")
			}
		}
		want, off := 1.00155, 0.0003
		if c.tempC == 25 {
			want, off = 0.990, 0.001
		}
		require.InDelta(t, want, in/out, off, c.file)
	}
}
