package trial

import (
	"math"
	"math/big"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Sample is what a group of values comes to. SD is that of a sample, with n - 1; it is 0 below two values.
type Sample struct {
	N        int
	Mean, SD float64
}

// Summarise returns n, mean and SD of values. The sums are exact fractions, so that values far from zero and
// close together lose nothing (NIST/SEMATECH e-Handbook, 7.3.1).
func Summarise(values []*big.Rat) Sample {
	s := Sample{N: len(values)}
	if s.N == 0 {
		return s
	}
	sum, n := new(big.Rat), new(big.Rat).SetInt64(int64(s.N))
	for _, x := range values {
		sum.Add(sum, x)
	}
	mean := sum.Quo(sum, n)
	s.Mean, _ = mean.Float64()
	if s.N > 1 {
		s.SD = math.Sqrt(squares(values, mean) / float64(s.N-1))
	}
	return s
}

// squares returns the sum of the squared distances from the mean.
func squares(values []*big.Rat, mean *big.Rat) float64 {
	sum := new(big.Rat)
	for _, x := range values {
		off := new(big.Rat).Sub(x, mean)
		sum.Add(sum, off.Mul(off, off))
	}
	out, _ := sum.Float64()
	return out
}

// A Comparison is the difference of two means, first less second, and how well it is known. Where nothing
// varies the test is not defined: Known is false and only Difference counts.
type Comparison struct {
	Difference, SE float64
	T, DF          float64
	P              float64 // two-sided
	Low, High      float64 // interval of the difference at the level asked
	Known          bool
}

// Welch compares two samples without taking their spreads for equal: SE = sqrt(a + b), a = s1^2/n1, b =
// s2^2/n2, df = (a + b)^2 / (a^2/(n1-1) + b^2/(n2-1)), not rounded (NIST/SEMATECH e-Handbook, 7.3.1). level is
// that of the interval, such as 0.95. Each side needs two values.
func Welch(first, second Sample, level float64) Comparison {
	a, b := first.SD*first.SD/float64(first.N), second.SD*second.SD/float64(second.N)
	if a+b == 0 {
		return Comparison{Difference: first.Mean - second.Mean}
	}
	share := a / (a + b) // of two shares no square runs out of range
	rest := 1 - share
	df := 1 / (share*share/float64(first.N-1) + rest*rest/float64(second.N-1))
	return test(first.Mean-second.Mean, math.Hypot(first.SD/math.Sqrt(float64(first.N)), second.SD/math.Sqrt(float64(second.N))), df, level)
}

// Pooled compares two samples as if their spreads were equal, for contrast, and returns the SD of both
// together: sp^2 = ((n1-1) s1^2 + (n2-1) s2^2) / (n1 + n2 - 2) (NIST/SEMATECH e-Handbook, 7.3.1).
func Pooled(first, second Sample, level float64) (Comparison, float64) {
	df := float64(first.N + second.N - 2)
	sd := math.Sqrt((float64(first.N-1)*first.SD*first.SD + float64(second.N-1)*second.SD*second.SD) / df)
	if sd == 0 {
		return Comparison{Difference: first.Mean - second.Mean}, 0
	}
	return test(first.Mean-second.Mean, sd*math.Sqrt(1/float64(first.N)+1/float64(second.N)), df, level), sd
}

// Paired tests the mean of differences, one of each pair, against none: t = mean / (SD / sqrt(n)), df = n - 1.
func Paired(differences Sample, level float64) Comparison {
	if differences.SD == 0 {
		return Comparison{Difference: differences.Mean}
	}
	return test(differences.Mean, differences.SD/math.Sqrt(float64(differences.N)), float64(differences.N-1), level)
}

// MeanInterval returns the interval of a sample's mean: mean +- t x SD / sqrt(n). It needs two values.
func MeanInterval(s Sample, level float64) (low, high float64) {
	half := CriticalT(float64(s.N-1), level) * s.SD / math.Sqrt(float64(s.N))
	return s.Mean - half, s.Mean + half
}

func test(difference, se, df, level float64) Comparison {
	t := difference / se
	half := CriticalT(df, level) * se
	return Comparison{
		Difference: difference, SE: se, T: t, DF: df, P: 2 * upperTail(math.Abs(t), df),
		Low: difference - half, High: difference + half, Known: true,
	}
}

// CriticalT returns the t that the middle share level of Student's distribution lies within, for any df above
// zero.
func CriticalT(df, level float64) float64 {
	return -distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 - level) / 2)
}

// upperTail returns the share of Student's distribution above t: of a tail, not 1 less the rest, so that a
// tiny one keeps its digits.
func upperTail(t, df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.CDF(-t)
}
