package charge

import "math"

// Result is what a charge comes to.
type Result struct {
	// CCSec, CPSec and CVSec are the seconds under set current, under limited power
	// and at the limit voltage.
	CCSec, CPSec, CVSec float64
	// SoCAtCV is the state of charge at which the limit voltage is reached; where
	// the charge ends before (CVSec is 0), that at its end.
	SoCAtCV float64
	// EndSoC is the state of charge at the end. It may pass 1 where the curve's own
	// full rests below the limit voltage.
	EndSoC float64
	// WattHoursIn and AhIn are what the charger puts into the pack.
	WattHoursIn, AhIn float64
	// ByCurrent tells that EndAmps ended the charge, not To.
	ByCurrent bool
}

// TotalSec returns the seconds from start to end.
func (r Result) TotalSec() float64 { return r.CCSec + r.CPSec + r.CVSec }

// Point is a moment of a charge, volts and watts of the whole pack.
type Point struct {
	Sec, Amps, PackVolts, Watts, SoC, WattHoursIn float64
	Phase                                         Phase
}

// Charge returns what j comes to: exact for the model of the package, by its
// closed forms. A pack that needs nothing takes 0 s. It returns the Fault of a job
// that has one.
func (j Job) Charge() (Result, error) {
	if f := j.Fault(); f != nil {
		return Result{}, f
	}
	var r Result
	j.walk(1, func(ph Phase, p piece, sec, _, _ float64) { r.add(j, ph, p, sec) })
	j.close(&r)
	return r, nil
}

// Trace returns the same charge as points in order of time: at the start, at the
// points of the curve, where a phase ends, and between them where current falls.
// A phase's first point has the time of the last one's end.
func (j Job) Trace() ([]Point, Result, error) {
	if f := j.Fault(); f != nil {
		return nil, Result{}, f
	}
	const between = 8
	var r Result
	var points []Point
	j.walk(between, func(ph Phase, p piece, sec, amps0, amps1 float64) {
		if len(points) == 0 || points[len(points)-1].Phase != ph {
			points = append(points, j.point(ph, r.TotalSec(), p.z0, p.e0, amps0, r.WattHoursIn))
		}
		r.add(j, ph, p, sec)
		points = append(points, j.point(ph, r.TotalSec(), p.z1, p.e1, amps1, r.WattHoursIn))
	})
	j.close(&r)
	return points, r, nil
}

func (j Job) point(ph Phase, sec, z, e, amps, wattHours float64) Point {
	volts := float64(j.Cells) * (e + amps*j.ohm())
	if ph == CV {
		volts = float64(j.Cells) * j.LimitVolts
	}
	return Point{Sec: sec, Amps: amps, PackVolts: volts, Watts: volts * amps, SoC: z, WattHoursIn: wattHours, Phase: ph}
}

func (r *Result) add(j Job, ph Phase, p piece, sec float64) {
	switch ph {
	case CC:
		r.CCSec += sec
	case CP:
		r.CPSec += sec
	case CV:
		r.CVSec += sec
	}
	r.WattHoursIn += j.wattHours(ph, p, sec)
}

// close fills in what follows from the ends of the phases.
func (j Job) close(r *Result) {
	_, zCV, zEnd := j.ends()
	r.SoCAtCV, r.EndSoC = zCV, zEnd
	r.AhIn = j.CapacityAh * (zEnd - j.From)
	r.ByCurrent = j.To == 1 || zEnd < j.To
}

// ends returns the states of charge at which CC, CP and CV end, each at least the
// one before. Both limits on current fall as rest voltage rises, and the limit
// voltage is met once, so the phases come in this order and each at most once.
func (j Job) ends() (zCC, zCP, zEnd float64) {
	eCP, eCV := j.LimitVolts, j.LimitVolts-j.Amps*j.ohm()
	if j.Watts > 0 {
		watts := j.Watts / float64(j.Cells)
		eCP = watts/j.Amps - j.Amps*j.ohm()
	}
	eEnd := j.LimitVolts - j.EndAmps*j.ohm()
	if eCP < eCV {
		eCV = j.LimitVolts - j.Watts/float64(j.Cells)/j.LimitVolts*j.ohm()
	}
	stop := j.To
	if j.To == 1 {
		stop = math.Inf(1)
	}
	upTo := func(e, least float64) float64 { return min(max(j.Curve.SoC(e), least), stop) }
	zCC = upTo(min(eCP, eCV), j.From)
	zCP = upTo(eCV, zCC)
	return zCC, zCP, upTo(eEnd, zCP)
}

// walk visits the charge piece by piece, each in parts equal in charge; with one
// phase after the other.
func (j Job) walk(parts int, visit func(ph Phase, p piece, sec, amps0, amps1 float64)) {
	zCC, zCP, zEnd := j.ends()
	j.walkPhase(CC, j.From, zCC, 1, visit)
	j.walkPhase(CP, zCC, zCP, parts, visit)
	j.walkPhase(CV, zCP, zEnd, parts, visit)
}

func (j Job) walkPhase(ph Phase, from, to float64, parts int, visit func(ph Phase, p piece, sec, amps0, amps1 float64)) {
	c := j.Curve
	last := len(c.volts) - 1
	for k, z := c.pieceOf(from), from; z < to; k++ {
		end := to
		if k < last {
			end = min(to, c.at(k+1))
		}
		slope, step := c.slopeOf(k), (end-z)/float64(parts)
		for range parts {
			next := z + step
			p := piece{z0: z, z1: next, e0: c.volts[k] + (z-c.at(k))*slope, e1: c.volts[k] + (next-c.at(k))*slope}
			sec, amps0, amps1 := j.sec(ph, p)
			visit(ph, p, sec, amps0, amps1)
			z = next
		}
		z = end
	}
}
