package charge

import (
	"fmt"
	"math"
)

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
func Chemistries() []Chemistry {
	return []Chemistry{LiPo, LiPoHV, LiIon, LiFe, NiMH, AGM}
}

// Limits of one cell in volts. A zero field means that the chemistry has no such
// limit here.
type Limits struct {
	// ChargeVolts is the highest voltage a charge may reach.
	ChargeVolts float64
	// StorageLowVolts to StorageHighVolts is the range to be stored at, at rest.
	StorageLowVolts, StorageHighVolts float64
	// SuspectBelowVolts: a cell that rests below it is suspect.
	SuspectBelowVolts float64
	// WarnSpreadVolts and BlockSpreadVolts are spreads of the cells at rest. They
	// count only where the highest cell is above SpreadAboveVolts.
	WarnSpreadVolts, BlockSpreadVolts, SpreadAboveVolts float64
}

// LimitsOf returns the limits of c, all zero for a chemistry without any.
// Sources: 4.20 V, storage and warning spread, a hobby vendor's pack page; 3.00 V,
// a university club's handling page; 4.35 V, 3.65 V for iron phosphate (the top of
// published cells), blocking spread and the rest: our decision. LiFe is stored by
// count, not by volts.
func LimitsOf(c Chemistry) Limits {
	lithium := Limits{
		ChargeVolts: 4.20, StorageLowVolts: 3.80, StorageHighVolts: 3.85,
		SuspectBelowVolts: 3.00, WarnSpreadVolts: 0.05, BlockSpreadVolts: 0.10,
	}
	switch c {
	case LiPo, LiIon:
		return lithium
	case LiPoHV:
		lithium.ChargeVolts = 4.35
		return lithium
	case LiFe:
		return Limits{
			ChargeVolts: 3.65, SuspectBelowVolts: 2.50,
			WarnSpreadVolts: 0.05, BlockSpreadVolts: 0.10, SpreadAboveVolts: 3.40,
		}
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

// PossibleCells returns the least and the most cells in series that a rest voltage
// of the whole pack allows, each cell between floorVolts and limitVolts; least is
// above most where none fit. Pack volts do not tell the count: 15.0 to 16.8 V are
// four cells or five. Count them at the balance lead.
func PossibleCells(packVolts, floorVolts, limitVolts float64) (least, most int) {
	const slack = 1e-9
	if !(packVolts > 0) || !(floorVolts > 0) || !(limitVolts >= floorVolts) || packVolts/floorVolts > 1e6 {
		return 1, 0
	}
	least = max(int(math.Ceil(packVolts/limitVolts-slack)), 1)
	return least, int(packVolts/floorVolts + slack)
}
