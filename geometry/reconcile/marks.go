package reconcile

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"gonum.org/v1/gonum/mat"

	"locksweep/geometry/adjust"
)

// trilaterate returns the two points at given distances from three others, mirror images in their plane; ok is false
// where the three lie in line. Where the distances do not meet, it is the point of the plane that they come nearest to meeting at.
//
// In axes with p[0] at the origin, p[1] at (d, 0) and p[2] at (i, j):
//
//	x = (r₁² - r₂² + d²)/2d,  y = (r₁² - r₃² + i² + j² - 2ix)/2j,  z = ±√(r₁² - x² - y²)
func trilaterate(p [3]r3.Vector, r [3]float64) (at [2]r3.Vector, ok bool) {
	along := p[1].Sub(p[0])
	d := along.Norm()
	ex := along.Normalize()
	i := ex.Dot(p[2].Sub(p[0]))
	across := p[2].Sub(p[0]).Sub(ex.Mul(i))
	j := across.Norm()
	if d < leastApart || j < leastApart {
		return at, false
	}
	ey := across.Normalize()
	x := (r[0]*r[0] - r[1]*r[1] + d*d) / (2 * d)
	y := (r[0]*r[0] - r[2]*r[2] + i*i + j*j - 2*i*x) / (2 * j)
	z := math.Sqrt(math.Max(r[0]*r[0]-x*x-y*y, 0))
	foot := p[0].Add(ex.Mul(x)).Add(ey.Mul(y))
	off := ex.Cross(ey).Mul(z)
	return [2]r3.Vector{foot.Add(off), foot.Sub(off)}, true
}

// leastApart is how far points must be apart, and off a line, for tapes from them to cross, mm.
const leastApart = 1.0

// ray is a tape to a mark from a point that is known.
type ray struct {
	from     r3.Vector
	distance float64
}

// rays are the tapes to a mark from points whose place is known, with the vehicle standing so; found tells of which marks it is.
func (m *model) rays(st *stand, mark int, found []bool) (list []ray) {
	name := m.base.Checks.Marks[mark].Name
	for i, t := range m.tapes {
		for end := range t {
			other := m.toFind(t[1-end].Name)
			if t[end].Name == name && (other < 0 || found[other]) {
				list = append(list, ray{st.at(t[1-end]), m.base.Checks.Taped[i].Distance})
			}
		}
	}
	return list
}

// startMarks puts each mark that is to be found where three of its tapes cross, on the side nearer the ground; where it has
// fewer, somewhere below.
func (m *model) startMarks(x []float64) {
	st, ok := m.stand(x)
	if !ok {
		return
	}
	marks := m.base.Checks.Marks
	found := make([]bool, len(marks))
	for range marks { // a mark may hang on another one
		for i := range marks {
			if rays := m.rays(st, i, found); !marks[i].Given && !found[i] && len(rays) > 0 {
				m.place(x, i, start(rays))
				m.stand(x)
				found[i] = true
			}
		}
	}
}

// place writes a mark's place into the unknowns.
func (m *model) place(x []float64, mark int, at r3.Vector) {
	_, unknowns := m.position(x, mark)
	x[unknowns[0]], x[unknowns[1]], x[unknowns[2]] = at.X, at.Y, at.Z
}

// start is where a mark may be, from its tapes.
func start(rays []ray) r3.Vector {
	a := rays[0]
	for _, b := range rays[1:] {
		for _, c := range rays[1:] {
			if at, ok := trilaterate([3]r3.Vector{a.from, b.from, c.from}, [3]float64{a.distance, b.distance, c.distance}); ok {
				return nearer(at[0], at[1])
			}
		}
	}
	return a.from.Sub(r3.Vector{Z: a.distance})
}

// nearer is which of two places is the nearer to the ground, where most marks are.
func nearer(a, b r3.Vector) r3.Vector {
	if math.Abs(b.Z) < math.Abs(a.Z) {
		return b
	}
	return a
}

// mirrored returns the image of a mark's place in the plane that its tapes begin in, or come nearest to lying in. ok is false
// where they begin in a line or the mark lies in the plane.
func (m *model) mirrored(x []float64, mark int) (image r3.Vector, ok bool) {
	st, ok := m.stand(x)
	if !ok {
		return image, false
	}
	rays := m.rays(st, mark, slices.Repeat([]bool{true}, len(m.base.Checks.Marks)))
	if len(rays) < 3 {
		return image, false
	}
	var centre r3.Vector
	for _, r := range rays {
		centre = centre.Add(r.from.Mul(1 / float64(len(rays))))
	}
	spread := mat.NewDense(len(rays), 3, nil)
	for i, r := range rays {
		d := r.from.Sub(centre)
		spread.SetRow(i, []float64{d.X, d.Y, d.Z})
	}
	var svd mat.SVD
	if !svd.Factorize(spread, mat.SVDThin) || svd.Values(nil)[1] < leastApart {
		return image, false
	}
	var v mat.Dense
	svd.VTo(&v)
	normal := r3.Vector{X: v.At(0, 2), Y: v.At(1, 2), Z: v.At(2, 2)}
	at, _ := m.position(x, mark)
	off := normal.Dot(at.Sub(centre))
	return at.Sub(normal.Mul(2 * off)), math.Abs(off) > leastApart
}

// otherSide adjusts again with a mark begun at its mirror image: see mirrored. It is nil where the mark comes back to the same place.
func (m *model) otherSide(p *adjust.Problem, x []float64, mark int) *adjust.Fit {
	image, ok := m.mirrored(x, mark)
	if !ok {
		return nil
	}
	from := slices.Clone(x)
	m.place(from, mark, image)
	fit, err := adjust.Solve(p, from)
	if err != nil {
		return nil
	}
	a, _ := m.position(x, mark)
	b, _ := m.position(fit.X, mark)
	if a.Sub(b).Norm() < leastApart {
		return nil
	}
	return fit
}

// ambiguous is how much worse in its sum of squares one of two adjustments may be for both to count as possible: as
// much as an observation that does not stand out adds.
const ambiguous = critical * critical

// chooseSides brings each mark to the side that its tapes speak for, or where they speak for neither to that nearer the
// ground.
func (m *model) chooseSides(p *adjust.Problem, fit *adjust.Fit) *adjust.Fit {
	for i, mark := range m.base.Checks.Marks {
		if mark.Given {
			continue
		}
		other := m.otherSide(p, fit.X, i)
		if other == nil {
			continue
		}
		a, _ := m.position(fit.X, i)
		b, _ := m.position(other.X, i)
		if other.Sum < fit.Sum-ambiguous || other.Sum < fit.Sum+ambiguous && nearer(a, b) == b {
			fit = other
		}
	}
	return fit
}

// marks says where the marks are that were to be found, after the last adjustment.
func (r *Result) marks(p *adjust.Problem) {
	m, fit := r.model, r.fit
	for i, mark := range m.base.Checks.Marks {
		if mark.Given {
			continue
		}
		at, unknowns := m.position(fit.X, i)
		f := Found{Mark: i, At: at}
		for k, u := range unknowns {
			f.PlusMinus[k] = ninetyFive * fit.Deviation(u)
			f.Open = f.Open || fit.Undone[u] > 0.01
		}
		if other := m.otherSide(p, fit.X, i); !f.Open && other != nil && other.Sum < fit.Sum+ambiguous {
			image, _ := m.position(other.X, i)
			f.Mirror = &image
		}
		r.Marks = append(r.Marks, f)
	}
}
