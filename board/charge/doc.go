// Package charge is a small textbook of charging: what a rest voltage says, how
// long a charge takes, when a pack is cool, what a circuit can carry, how a pack
// ages. It knows no board, no robot and no clock: numbers in, numbers out.
//
// It plans; it decides nothing. The maker's figures, the event's rules and the
// safety officer come first, and no charge is ever left alone. No function says
// that a pack is charged, cool or fit: only a reading does.
//
// # Problem
//
// A pack of n cells in series, of capacity Q, has lost charge. A channel gives at
// most a set current and a set power; a charger of several channels, and the
// circuit it is on, give no more than their total. How long until the current
// has fallen to its end value at the limit voltage?
//
// # Notation and units
//
// Every name carries its unit: …Sec, …Amps, …Volts, …Ah, …Watts, …C (°C). Volts
// and resistance are per cell unless a name says pack; current and charge are the
// pack's, which in series are the cell's. State of charge z runs from 0 to 1, and
// is charge held over the charge the pack holds now, not the label's. Charging
// current is positive.
//
//	V = E(z) + i·R        terminal voltage; E from a Curve, R effective over minutes
//	dz/dt = i/(3600 Q)
//	i = min( I ; (V_lim − E)/R ; (−E + √(E² + 4 R P/n))/2R )
//
// the three being constant current (CC), constant voltage (CV) and constant power
// (CP). The charge ends when V = V_lim and i ≤ I_end. A curve is a table joined by
// straight lines, so within one piece each phase has a closed form, with E₁ the
// slope of the piece:
//
//	CC  t = 3600 Q Δz/I
//	CV  t = τ ln(i₀/i₁),  τ = 3600 R Q/E₁
//	CP  t = (3600 Q/E₁) [ (P/2n)(1/i₁² − 1/i₀²) + R ln(i₀/i₁) ]
//
// Job.Charge adds these up piece by piece: exact for the model, and quick. Times
// depend only on I/Q, R·Q, P/(nQ) and E.
//
// # What is proved
//
// Time to a given charge rises with resistance, and falls with current, power and
// starting charge. Time to a given end current does not always rise with
// resistance: a worn pack stops with less in it. With a straight E, time is
// constant + (3600 R Q/E₁)(ln(I/I_end) − 1): it rises only where I > e·I_end.
//
// # Files
//
//	chemistry.go, curve.go, curves.go, parse.go   cells and their curves
//	rest.go                     state of charge from rest voltage
//	job.go, charge.go, piece.go one charge, in closed form
//	learn.go                    what a logged charge teaches
//	cool.go, coolfit.go, coolwhen.go   cool-down
//	mains.go                    circuits
//	health.go                   ageing
//
// # References
//
// The formulas are derived from the model above. Its form, a voltage source with
// series resistance: M. Einhorn et al., A Modelica Library for Simulation of Electric
// Energy Storages, 8th International Modelica Conference, 2011. The curves' sources
// stand in curves.go. Newton's law of cooling and least squares: textbook results, from
// memory. What is our own decision or a guess says so where it stands.
package charge
