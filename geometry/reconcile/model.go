package reconcile

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/mat"

	"locksweep/geometry/adjust"
	"locksweep/geometry/setup"
)

// model turns unknowns into what the observations would be. Unknowns are what the file's figures are off by; of
// marks to be found they are the places.
type model struct {
	base     *setup.Setup // the file's figures, before [change]
	work     *setup.Setup // a copy that is written into
	made     setup.Change // what [change] makes of it
	unknowns []unknown
	tapes    [][2]setup.Place
	rods     []rodKey
	// observations: tapes, wheels, the centre, turns of the steering wheel, rods, marks; then the figures, in the order of their unknowns.
	observations []Observation
	checks       int // observations that are no figures
}

func newModel(s *setup.Setup) (*model, error) {
	m := &model{base: s, made: s.Made}
	if s.Before != nil {
		m.base = s.Before
	}
	m.work = m.base.Clone()
	m.work.RodsCutAnew()
	stands, err := newStand(s)
	if err != nil {
		return nil, err
	}
	if err := cmp.Or(m.observeTapes(s, stands), m.observeTurns(s, stands), m.observeRods()); err != nil {
		return nil, err
	}
	m.observeMarks()
	m.checks = len(m.observations)
	if err := m.choose(m.candidates()); err != nil {
		return nil, err
	}
	if len(m.unknowns) == 0 {
		return nil, ErrExact
	}
	for i := range m.unknowns {
		if u := &m.unknowns[i]; u.kind == Figure {
			m.observations = append(m.observations, Observation{Kind: Figure, Key: u.key, Angle: u.angle, Given: u.file, Before: u.file, Accuracy: u.accuracy})
		}
	}
	return m, nil
}

// measured is how many observations there are of what the file's figures also say.
func (m *model) measured() (n int) {
	for _, o := range m.observations {
		if o.read() {
			n++
		}
	}
	return n
}

// problem is the adjustment of the observations kept.
func (m *model) problem(kept []int) *adjust.Problem {
	p := &adjust.Problem{}
	for i := range m.unknowns {
		p.Scale = append(p.Scale, m.unknowns[i].scale())
	}
	for _, i := range kept {
		p.Observed = append(p.Observed, m.observations[i].Given)
		p.Sigma = append(p.Sigma, standard(m.observations[i].Accuracy))
	}
	p.Compute = func(x, computed []float64) bool {
		whole, ok := m.compute(x)
		for k, i := range kept {
			if ok {
				computed[k] = whole[i]
			}
		}
		return ok
	}
	return p
}

// compute returns what each observation would be with the unknowns x.
func (m *model) compute(x []float64) ([]float64, bool) {
	st, ok := m.stand(x)
	if !ok {
		return nil, false
	}
	out, ok := m.checked(st)
	for i := range m.unknowns {
		if m.unknowns[i].kind == Figure {
			out = append(out, m.unknowns[i].file+x[i])
		}
	}
	return out, ok
}

// checked returns what the observations that are no figures would be.
func (m *model) checked(st *stand) (out []float64, ok bool) {
	for _, t := range m.tapes {
		out = append(out, st.tape(t))
	}
	for i, t := range m.base.Checks.Turned {
		steer, ok := st.steer(t.Column + s1.Angle(st.centre+st.columns[i]))
		if !ok {
			return nil, false
		}
		for _, side := range setup.Sides {
			if t.Read[side] {
				out = append(out, steer[side])
			}
		}
	}
	if len(m.base.Checks.Turned) > 0 {
		out = append(out, st.centre)
	}
	for _, i := range m.turnedAway() {
		out = append(out, float64(m.base.Checks.Turned[i].Column)+st.columns[i])
	}
	for _, r := range m.rods {
		out = append(out, st.rods[r.rod])
	}
	for _, mark := range m.work.Checks.Marks {
		if mark.Given {
			out = append(out, mark.At.X, mark.At.Y, mark.At.Z)
		}
	}
	return out, true
}

// adjusted is the file's setup with the unknowns x.
func (m *model) adjusted(x []float64) *setup.Setup {
	st, _ := m.stand(x)
	m.fitRods(&st.rods)
	s := m.work.Clone()
	m.work.RodsCutAnew()
	return s
}

// fitRods makes the rods whose lengths the file gives as long as their balls are apart, mm, by the linkage's order.
func (m *model) fitRods(apart *[2]float64) {
	for _, r := range m.rods {
		for _, l := range r.lengths {
			*l = apart[r.rod]
		}
	}
}

// slopes returns the derivatives of figures of the vehicle by the unknowns at x, by central differences: a row for each figure. ok is
// false where they cannot be worked out.
func (m *model) slopes(x []float64, of func(*stand) []float64) (rows *mat.Dense, ok bool) {
	x = slices.Clone(x)
	for j := range m.unknowns {
		h, at := 1e-4*m.unknowns[j].scale(), x[j]
		var ends [2][]float64
		for k, by := range [2]float64{h, -h} {
			x[j] = at + by
			st, ok := m.stand(x)
			if !ok {
				return nil, false
			}
			ends[k] = of(st)
		}
		x[j] = at
		if rows == nil {
			rows = mat.NewDense(len(ends[0]), len(x), nil)
		}
		if len(ends[0]) != len(ends[1]) {
			return nil, false
		}
		for i := range ends[0] {
			rows.Set(i, j, (ends[0][i]-ends[1][i])/(2*h))
		}
	}
	return rows, rows != nil
}

// position is where a mark to be found is with the unknowns x, vehicle axes, mm, and which unknowns its co-ordinates are.
func (m *model) position(x []float64, mark int) (at r3.Vector, unknowns [3]int) {
	axis := 0
	for i := range m.unknowns {
		if u := &m.unknowns[i]; u.kind == MarkAt && u.index == mark {
			unknowns[axis] = i
			axis++
		}
	}
	return r3.Vector{X: x[unknowns[0]], Y: x[unknowns[1]], Z: x[unknowns[2]]}, unknowns
}
