package adjust

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Deviation returns the standard deviation of an unknown that follows from those of the observations. Where Undone is above 0 it is
// that of the part that the observations fix.
func (f *Fit) Deviation(unknown int) float64 {
	return math.Sqrt(math.Max(f.Cofactors.At(unknown, unknown), 0))
}

// Freedom returns how many more observations there are than unknowns that they fix: the sum of the redundancies.
func (f *Fit) Freedom() float64 {
	free := 0.0
	for i := range f.Residuals {
		free += f.Redundancy(i)
	}
	return free
}

// Redundancy returns the share, 0 to 1, of an error of an observation that shows in its residual; the rest goes into the unknowns
// (Baarda, A Testing Procedure for Use in Geodetic Networks, 1968: memory).
func (f *Fit) Redundancy(observation int) float64 {
	return math.Max(f.cofactor(observation, observation), 0)
}

// cofactor of the residuals of two observations, each in units of its standard deviation.
func (f *Fit) cofactor(a, b int) float64 {
	rowA, rowB := f.Slopes.RowView(a), f.Slopes.RowView(b)
	q := -mat.Inner(rowA, f.Cofactors, rowB)
	if a == b {
		q++
	}
	return q
}

// leastRedundancy is the redundancy from which on an observation counts as checked by others: below it rounding, and that the model is no
// straight line, add more to a residual than an error would.
const leastRedundancy = 1e-4

// Normalised returns an observation's residual in units of the residual's own standard deviation; known is
// false where no other observation says anything of it.
func (f *Fit) Normalised(p *Problem, observation int) (w float64, known bool) {
	r := f.Redundancy(observation)
	if r < leastRedundancy {
		return 0, false
	}
	return f.Residuals[observation] / p.Sigma[observation] / math.Sqrt(r), true
}

// Alike returns how much the normalised residuals of two observations go together, -1 to 1: near either end an error of the one
// cannot be told from an error of the other.
func (f *Fit) Alike(a, b int) float64 {
	ra, rb := f.Redundancy(a), f.Redundancy(b)
	if ra < leastRedundancy || rb < leastRedundancy {
		return 0
	}
	return f.cofactor(a, b) / math.Sqrt(ra*rb)
}

// Together is Normalised for two observations that are wrong by the same number of their standard deviations, the second the other way where
// sign is -1. It returns that number too; known is false where no other observation says anything of it.
func (f *Fit) Together(p *Problem, a, b int, sign float64) (w, deviations float64, known bool) {
	r := f.cofactor(a, a) + f.cofactor(b, b) + 2*sign*f.cofactor(a, b)
	if r < leastRedundancy {
		return 0, 0, false
	}
	v := f.Residuals[a]/p.Sigma[a] + sign*f.Residuals[b]/p.Sigma[b]
	return v / math.Sqrt(r), v / r, true
}

// Error returns the error of an observation that explains its residual best, in the observation's own unit; observed less true.
func (f *Fit) Error(observation int) float64 {
	return f.Residuals[observation] / f.Redundancy(observation)
}
