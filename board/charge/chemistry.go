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

// Chemistries lists them all.
func Chemistries() []Chemistry { return []Chemistry{LiPo, LiPoHV, LiIon, LiFe, NiMH, AGM} }

// Limits of one cell in volts. A zero field means that the chemistry has no such
// limit.
type Limits struct {
	// ChargeVolts is the highest voltage a charge may reach.
	ChargeVolts float64
	// NominalVolts is what a cell gives on average over a discharge.
	NominalVolts float64
	// A cell that rests below RestLeastVolts is suspect; above RestMostVolts the
	// figure cannot be true.
	RestLeastVolts, RestMostVolts float64
	// WarnSpreadVolts is the spread of the cells at rest to warn of, BlockSpreadVolts
	// the one that makes a pack suspect. They count only where the highest cell is
	// above SpreadAboveVolts.
	WarnSpreadVolts, BlockSpreadVolts, SpreadAboveVolts float64
}

// LimitsOf returns the limits of c, all zero for a chemistry that it does not know.
// 4.20 V, 4.35 V only if the label says so, 3.00 V at rest, the spread of 0.05 V and
// the nominal volts are common practice, no source; 3.65 V for iron phosphate is the
// top of the cells in testdata/battery; the rest is our decision, also that spread says
// nothing of iron phosphate up to 3.40 V.
func LimitsOf(c Chemistry) Limits {
	switch c {
	case LiPo:
		return Limits{ChargeVolts: 4.20, NominalVolts: 3.7, RestLeastVolts: 3.00, RestMostVolts: 4.30, WarnSpreadVolts: 0.05, BlockSpreadVolts: 0.10}
	case LiIon:
		return Limits{ChargeVolts: 4.20, NominalVolts: 3.6, RestLeastVolts: 3.00, RestMostVolts: 4.30, WarnSpreadVolts: 0.05, BlockSpreadVolts: 0.10}
	case LiPoHV:
		return Limits{ChargeVolts: 4.35, NominalVolts: 3.8, RestLeastVolts: 3.00, RestMostVolts: 4.40, WarnSpreadVolts: 0.05, BlockSpreadVolts: 0.10}
	case LiFe:
		return Limits{
			ChargeVolts: 3.65, NominalVolts: 3.2, RestLeastVolts: 2.50, RestMostVolts: 3.80,
			WarnSpreadVolts: 0.05, BlockSpreadVolts: 0.10, SpreadAboveVolts: 3.40,
		}
	case NiMH:
		return Limits{NominalVolts: 1.2, RestLeastVolts: 0.80, RestMostVolts: 1.70, BlockSpreadVolts: 0.10}
	case AGM:
		return Limits{NominalVolts: 2.0, RestLeastVolts: 1.75, RestMostVolts: 2.60, BlockSpreadVolts: 0.10}
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
