package charge

import "fmt"

// Chemistry of a pack's cells.
type Chemistry string

// The chemistries.
const (
	LiPo   Chemistry = "lipo"    // lithium polymer, 4.20 V
	LiPoHV Chemistry = "lipo-hv" // lithium polymer, 4.35 V, only if the label says so
	LiIon  Chemistry = "li-ion"  // round lithium-ion cells, 4.20 V
	LiFe   Chemistry = "life"    // lithium iron phosphate
	NiMH   Chemistry = "nimh"
	AGM    Chemistry = "agm" // lead-acid, a cell being a sixth of a 12 V block
)

// Limits of one cell in volts. A zero field means that the chemistry has no such
// limit here.
type Limits struct {
	// ChargeVolts is the highest voltage a charge may reach.
	ChargeVolts float64
	// WarnSpreadVolts is the spread of the cells at rest to warn of. It counts only
	// where the highest cell is above SpreadAboveVolts.
	WarnSpreadVolts, SpreadAboveVolts float64
}

// LimitsOf returns the limits of c, all zero for a chemistry without any. 4.20 V, 4.35
// V only if the label says so, and the spread of 0.05 V are common practice, no source;
// 3.65 V for iron phosphate is the top of the cells in testdata/battery; that spread
// says nothing of iron phosphate up to 3.40 V is our decision.
func LimitsOf(c Chemistry) Limits {
	switch c {
	case LiPo, LiIon:
		return Limits{ChargeVolts: 4.20, WarnSpreadVolts: 0.05}
	case LiPoHV:
		return Limits{ChargeVolts: 4.35, WarnSpreadVolts: 0.05}
	case LiFe:
		return Limits{ChargeVolts: 3.65, WarnSpreadVolts: 0.05, SpreadAboveVolts: 3.40}
	}
	return Limits{}
}

// CurveOf returns the curve used for c when the pack's own is not known. It is an
// error for chemistries that are not charged to a voltage (NiMH), or whose charge
// takes hours (AGM): no curve is given for them.
//
// LiPo is lcoPouch, LiIon nmc21700, LiFe lfp26650 (curves.go). For LiPoHV no open
// curve was found: lcoPouch is carried on to 4.35 V with its topmost slope, and the
// whole called full there. Our guess.
func CurveOf(c Chemistry) (Curve, error) {
	switch c {
	case LiPo:
		return tableCurve(lcoPouch), nil
	case LiPoHV:
		return stretched(tableCurve(lcoPouch), LimitsOf(LiPoHV).ChargeVolts), nil
	case LiIon:
		return tableCurve(nmc21700), nil
	case LiFe:
		return tableCurve(lfp26650), nil
	case NiMH:
		return Curve{}, fmt.Errorf("nimh is not charged to a voltage: its charger ends on falling volts or rising temperature")
	case AGM:
		return Curve{}, fmt.Errorf("agm takes hours by its charger's own program: no charge between fights is computed")
	}
	return Curve{}, fmt.Errorf("chemistry %q: name one of lipo, lipo-hv, li-ion, life, nimh, agm", string(c))
}

// stretched carries c on to fullVolts and calls that full.
func stretched(c Curve, fullVolts float64) Curve {
	full := c.SoC(fullVolts)
	volts := make([]float64, 101)
	for k := range volts {
		volts[k] = c.Volts(float64(k) / 100 * full)
	}
	return tableCurve(volts)
}
