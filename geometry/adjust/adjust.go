// Package adjust answers which values of unknowns agree best with observations of known accuracy (least squares), how sure
// they are then, and which observation most probably is wrong. It knows nothing of steering: an observation is a
// number, its standard deviation, and a function of the unknowns.
//
// Unknowns are in whatever units their Problem has; residuals are observed less computed.
package adjust

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Problem is a set of observations of unknowns.
type Problem struct {
	Observed []float64
	Sigma    []float64 // standard deviation of each observation, > 0
	Scale    []float64 // size of a change of each unknown that matters, > 0: steps of differences follow from it
	// Compute fills in what the observations would be with the unknowns x; it reports whether they can be worked out there.
	// It may be called from several goroutines.
	Compute func(x, computed []float64) bool
}

// Fit is the adjustment of a Problem, n unknowns and m observations.
type Fit struct {
	X         []float64 // the unknowns
	Computed  []float64 // the observations from them
	Residuals []float64 // observed less computed
	// Sum is the sum of the squares of residuals in units of their standard deviations.
	Sum    float64
	Slopes *mat.Dense // m×n: computed per unknown, each in units of the observation's standard deviation
	Undone []float64  // per unknown: 0 where the observations fix it, up to 1 where they say nothing of it
	// Cofactors are n×n, the variances and covariances of the unknowns; where Undone is above 0, of the part that is fixed.
	Cofactors *mat.Dense
}

// Errors of an adjustment.
var (
	ErrStart = errors.New("the observations cannot be worked out from the first values")
	ErrStuck = errors.New("the adjustment does not settle")
)

const (
	mostSteps = 2000
	settled   = 1e-9  // a step below this, in units of the unknowns' scales, is none
	rounding  = 1e-13 // of a sum of squares, as a share of it
	flat      = 1e-11 // a gain below this share of the sum is none
	mostFlat  = 5     // after so many steps in turn without a gain only unknowns move that the observations hardly fix
)

// Solve adjusts from a start: Gauss and Newton's steps, damped after Levenberg and Marquardt where a full step does not
// gain (Nocedal and Wright, Numerical Optimization, chapter 10: memory). The linear algebra is gonum's.
func Solve(p *Problem, start []float64) (*Fit, error) {
	f := &Fit{X: slices.Clone(start)}
	if !f.evaluate(p) {
		return nil, ErrStart
	}
	damping, idle := 1e-3, 0
	for range mostSteps {
		if err := f.slopes(p); err != nil {
			return nil, err
		}
		moved, before := 0.0, f.Sum
		for ; damping < 1e16; damping *= 4 {
			step := f.step(p, damping)
			trial := &Fit{X: floats.AddTo(make([]float64, len(step)), f.X, step), Slopes: f.Slopes}
			// Near the end gains are smaller than what rounding leaves of the sum: the step tells when it is reached.
			if trial.evaluate(p) && trial.Sum <= f.Sum*(1+rounding) {
				moved = longest(step, p.Scale)
				*f = *trial
				break
			}
		}
		damping = math.Max(damping/16, 1e-15)
		if idle++; before-f.Sum > flat*before {
			idle = 0
		}
		if moved < settled || idle == mostFlat {
			return f, f.close(p)
		}
	}
	return nil, ErrStuck
}

// longest is the greatest change of a step, in units of each unknown's scale.
func longest(step, scale []float64) (most float64) {
	for i, s := range step {
		most = math.Max(most, math.Abs(s)/scale[i])
	}
	return most
}

// evaluate works out residuals at X, and reports whether there are any: that all can be computed there and none is without bound.
func (f *Fit) evaluate(p *Problem) bool {
	f.Computed = make([]float64, len(p.Observed))
	if !p.Compute(f.X, f.Computed) {
		return false
	}
	f.Residuals, f.Sum = make([]float64, len(p.Observed)), 0
	for i, o := range p.Observed {
		f.Residuals[i] = o - f.Computed[i]
		f.Sum += f.Residuals[i] / p.Sigma[i] * f.Residuals[i] / p.Sigma[i]
	}
	return !math.IsNaN(f.Sum) && !math.IsInf(f.Sum, 0)
}

// difference is the step of central differences as a share of an unknown's scale: truncation and rounding then are
// about alike for figures good to 1e-13.
const difference = 1e-4

// slopes fills in Slopes at X by central differences; one-sided where the far side cannot be worked out.
func (f *Fit) slopes(p *Problem) error {
	m, n := len(p.Observed), len(f.X)
	f.Slopes = mat.NewDense(m, n, nil)
	x := slices.Clone(f.X)
	up, down := make([]float64, m), make([]float64, m)
	for j := range n {
		h := difference * p.Scale[j]
		x[j] = f.X[j] + h
		hasUp, high := p.Compute(x, up), x[j]
		x[j] = f.X[j] - h
		hasDown, low := p.Compute(x, down), x[j]
		x[j] = f.X[j]
		switch {
		case !hasUp && !hasDown:
			return ErrStuck
		case !hasUp:
			copy(up, f.Computed)
			high = f.X[j]
		case !hasDown:
			copy(down, f.Computed)
			low = f.X[j]
		}
		for i := range m {
			f.Slopes.Set(i, j, (up[i]-down[i])/(high-low)/p.Sigma[i])
		}
	}
	return nil
}

// step is the damped step: least squares of the slopes with a row for each unknown that holds it back by its scale.
func (f *Fit) step(p *Problem, damping float64) []float64 {
	m, n := f.Slopes.Dims()
	rows, right := mat.NewDense(m+n, n, nil), mat.NewVecDense(m+n, nil)
	rows.Slice(0, m, 0, n).(*mat.Dense).Copy(f.Slopes)
	for i := range m {
		right.SetVec(i, f.Residuals[i]/p.Sigma[i])
	}
	for j := range n {
		size := mat.Norm(f.Slopes.ColView(j), 2)
		rows.Set(m+j, j, math.Sqrt(damping)*math.Max(size, 1e-9/p.Scale[j]))
	}
	var qr mat.QR
	qr.Factorize(rows)
	var step mat.VecDense
	// An error tells of ill condition; the damped rows keep the step finite in any case.
	_ = qr.SolveVecTo(&step, false, right)
	return mat.Col(nil, 0, &step)
}

// rankSlack is the least singular value, as a share of the greatest, of what the observations fix.
const rankSlack = 1e-8

// close fills in Slopes at X, Undone and Cofactors. Singular values show what the observations say nothing of.
func (f *Fit) close(p *Problem) error {
	if err := f.slopes(p); err != nil {
		return err
	}
	m, n := f.Slopes.Dims()
	// Columns in units of the unknowns' scale, so that one rank serves millimetres and degrees.
	scaled := mat.NewDense(max(m, n), n, nil)
	scaled.Slice(0, m, 0, n).(*mat.Dense).Apply(func(_, j int, v float64) float64 { return v * p.Scale[j] }, f.Slopes)
	var svd mat.SVD
	if !svd.Factorize(scaled, mat.SVDThin) {
		return ErrStuck
	}
	var v mat.Dense
	svd.VTo(&v)
	values := svd.Values(nil)
	f.Undone, f.Cofactors = make([]float64, n), mat.NewDense(n, n, nil)
	for k, value := range values {
		for i := range n {
			if value <= rankSlack*values[0] {
				f.Undone[i] += v.At(i, k) * v.At(i, k)
				continue
			}
			for j := range n {
				by := v.At(i, k) * v.At(j, k) / (value * value) * p.Scale[i] * p.Scale[j]
				f.Cofactors.Set(i, j, f.Cofactors.At(i, j)+by)
			}
		}
	}
	return nil
}
