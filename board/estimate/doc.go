// Package estimate turns what people can say about a piece of work, "likely 20
// minutes, bad case 50", into a distribution, and corrects it by what really
// happened. It knows nothing of robots, jobs or clocks: numbers in, numbers out.
//
// # Problem
//
// A crew gives two figures for a job. How long will it take, how long will it
// still take after so many minutes, what becomes of several jobs in a row, and what
// should the next estimate of that kind of job be once some are done and some broken
// off?
//
// # Notation and units
//
// Durations are seconds (…Sec). "Likely" is the median m, "bad case" the 90th
// percentile q: one job in ten takes longer. Φ is the normal distribution
// function, φ its density, z90 = Φ⁻¹(0.9) = 1.2815516. A duration T is lognormal:
//
//	ln T ~ Normal(μ, σ²),  μ = ln m,  σ = ln(q/m)/z90, kept in [0.05, 1.5]
//
// Mu is the logarithm of seconds; Sigma has no unit. After a seconds of work
// with survival S = 1 − Φ((ln a − μ)/σ), the quantile p of the whole duration is
// exp(μ + σ Φ⁻¹(1 − (1−p)S)): a job past its bad case has more left than one at
// its median.
//
// Learning works on y = ln(actual/likely), so that jobs of different length can
// share one record.
//
// # Files
//
//	normal.go, beta.go, student.go   the special functions
//	lognormal.go, running.go         one job, before and during the work
//	inarow.go                        jobs in a row
//	learn.go, learnopen.go           what the record of a kind of job teaches
//	censored.go                      jobs that were not finished
//	calibration.go                   were the chances we showed any good?
//
// # References
//
// Abramowitz, Stegun, Handbook of Mathematical Functions, 1964, 26.2.23 (normal
// quantile, starting value). NIST Digital Library of Mathematical Functions, 8.17
// (incomplete beta). Fenton, IRE Trans. Comm. Systems 8, 1960, 57–67 (sum of
// lognormals). Gelman et al., Bayesian Data Analysis, ch. 2–3 (normal-gamma).
// Dempster, Laird, Rubin, JRSS B 39, 1977, 1–38 (EM). Brier, Monthly Weather Review
// 78, 1950, 1–3. The page numbers of this list are from memory.
package estimate
