package reconcile

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/mat"

	"locksweep/geometry/adjust"
	"locksweep/geometry/linkage"
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

// unknown is what may be off. That it is not is its own observation; a mark to be found has none.
type unknown struct {
	kind     Kind // Figure, Centre, Column, MarkAt
	key      string
	angle    bool
	file     float64 // as given; mm or radians
	accuracy float64 // half-width; 0 of a mark to be found
	figures  []*float64
	values   []float64 // of figures, in the file
	mark     int
	turn     int     // whose column it is
	steers   float64 // how far the wheels' angles move with it off by its accuracy, radians
}

// rodKey is a rod whose length the file gives: a tape between its balls.
type rodKey struct {
	lengths []*float64 // in work
	rod     int        // of the linkage
}

// scale is the size of a change that matters, from which steps of differences follow: 10 mm, a tenth of a radian.
func (u *unknown) scale() float64 {
	if u.angle {
		return 0.1
	}
	return 10
}

// inexact is an accuracy, or where the file calls a reading exact a thousandth of a millimetre or degree: least squares need some.
func inexact(accuracy float64, angle bool) float64 {
	least := 0.001
	if angle {
		least *= math.Pi / 180
	}
	return math.Max(accuracy, least)
}

// standard is the standard uncertainty of a figure that lies anywhere within its half-width, one place as likely as
// another (GUM 4.3.7: memory).
func standard(halfWidth float64) float64 { return halfWidth / math.Sqrt(3) }

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
	if err := m.observeTapes(s, stands); err != nil {
		return nil, err
	}
	if err := m.observeTurns(s, stands); err != nil {
		return nil, err
	}
	if err := m.observeRods(); err != nil {
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

func (m *model) observeTapes(s *setup.Setup, stands *stand) error {
	for i, t := range s.Checks.Taped {
		from, _ := s.Place(t.From)
		to, _ := s.Place(t.To)
		for _, p := range [2]setup.Place{from, to} {
			if _, ok := p.At(s); !ok {
				return &PlaceError{p.Name}
			}
		}
		m.tapes = append(m.tapes, [2]setup.Place{from, to})
		o := Observation{Kind: Tape, Key: fmt.Sprintf("taped[%d].distance", i), Index: i, Given: t.Distance, Before: stands.tape(m.tapes[i]), Accuracy: inexact(m.base.Accuracy.Tape, false)}
		if t.Accuracy > 0 {
			o.Accuracy = inexact(t.Accuracy, false)
		}
		if m.toFind(t.From) >= 0 || m.toFind(t.To) >= 0 {
			o.Before = math.NaN()
		}
		m.observations = append(m.observations, o)
	}
	return nil
}

// observeTurns lists the wheels' angles that were read, and with them that the steering wheel was at 0 when it was called so and
// how far it was turned then.
func (m *model) observeTurns(s *setup.Setup, stands *stand) error {
	exact := inexact(float64(m.base.Accuracy.Turned), true)
	for i, t := range s.Checks.Turned {
		steer, ok := stands.steer(t.Column)
		if !ok { // with rods as long as their balls are apart it may get there: then it is a rod that is wrong
			fitted, assembles := m.stand(nil)
			if assembles {
				_, ok = fitted.steer(t.Column)
			}
			if steer = [2]float64{math.NaN(), math.NaN()}; !ok {
				return &ReachError{t.Column}
			}
		}
		for _, side := range setup.Sides {
			if t.Read[side] {
				m.observations = append(m.observations, Observation{
					Kind: Turn, Key: fmt.Sprintf("turned[%d].%v", i, side), Index: i, Side: side, Angle: true,
					Given: float64(t.Steer[side]), Before: steer[side], Accuracy: exact,
				})
			}
		}
	}
	if len(s.Checks.Turned) > 0 {
		m.observations = append(m.observations, Observation{Kind: Centre, Angle: true, Accuracy: exact})
	}
	for _, i := range m.turnedAway() {
		column := float64(s.Checks.Turned[i].Column)
		m.observations = append(m.observations, Observation{
			Kind: Column, Key: fmt.Sprintf("turned[%d].column", i), Index: i, Angle: true, Given: column, Before: column, Accuracy: exact,
		})
	}
	return nil
}

// turnedAway lists the readings with the steering wheel turned; what it stands at when it is not is its centre.
func (m *model) turnedAway() (list []int) {
	for i, t := range m.base.Checks.Turned {
		if t.Column != 0 {
			list = append(list, i)
		}
	}
	return list
}

// observeRods lists the rods whose length the file gives.
func (m *model) observeRods() error {
	mechanism, err := linkage.New(m.work)
	if err != nil {
		return err
	}
	for _, r := range m.base.Readings() {
		if r.Class != setup.OfRod {
			continue
		}
		k := rodKey{rod: mechanism.RodKeyed(r.Key), lengths: m.figures(r.Key)}
		m.rods = append(m.rods, k)
		m.observations = append(m.observations, Observation{Kind: Rod, Key: r.Key, Given: *r.Figures[0], Before: mechanism.Rods[k.rod].Derived, Accuracy: inexact(r.Accuracy, false)})
	}
	return nil
}

// figures are those of a measure, in work.
func (m *model) figures(key string) []*float64 {
	list := m.work.Measures()
	return list[slices.IndexFunc(list, func(one setup.Measure) bool { return one.Key == key })].Figures
}

// firstRod is the first of the observations that is a rod, where there is one.
func (m *model) firstRod() int {
	return slices.IndexFunc(m.observations, func(o Observation) bool { return o.Kind == Rod })
}

func (m *model) observeMarks() {
	for i, mark := range m.base.Checks.Marks {
		if !mark.Given {
			continue
		}
		for axis, at := range [3]float64{mark.At.X, mark.At.Y, mark.At.Z} {
			m.observations = append(m.observations, Observation{
				Kind: MarkAt, Key: fmt.Sprintf("mark.%s.at[%d]", setup.QuoteKey(mark.Name), axis), Index: i, Given: at, Before: at, Accuracy: m.markAccuracy(i),
			})
		}
	}
}

func (m *model) markAccuracy(i int) float64 {
	if a := m.base.Checks.Marks[i].Accuracy; a > 0 {
		return inexact(a, false)
	}
	return inexact(m.base.Accuracy.Place, false)
}

// toFind returns the mark of a name where its place is to be found, else -1.
func (m *model) toFind(name string) int {
	for i, mark := range m.base.Checks.Marks {
		if mark.Name == name && !mark.Given {
			return i
		}
	}
	return -1
}

// candidates lists all that may be off: every length and angle of the file, the steering wheel's centre and turns, the marks.
func (m *model) candidates() (list []unknown) {
	for _, r := range m.work.Readings() {
		if r.Accuracy == 0 || r.Class == setup.OfRod || r.Quantity != setup.OfLength && r.Quantity != setup.OfAngle {
			continue
		}
		u := unknown{kind: Figure, key: r.Key, angle: r.Quantity == setup.OfAngle, file: *r.Figures[0], accuracy: r.Accuracy, figures: r.Figures}
		for _, f := range r.Figures {
			u.values = append(u.values, *f)
		}
		list = append(list, u)
	}
	if len(m.base.Checks.Turned) > 0 {
		list = append(list, unknown{kind: Centre, angle: true, accuracy: inexact(float64(m.base.Accuracy.Turned), true)})
	}
	for _, i := range m.turnedAway() {
		list = append(list, unknown{kind: Column, angle: true, accuracy: inexact(float64(m.base.Accuracy.Turned), true), turn: i})
	}
	for i := range m.work.Checks.Marks {
		mark := &m.work.Checks.Marks[i]
		for _, f := range [3]*float64{&mark.At.X, &mark.At.Y, &mark.At.Z} {
			u := unknown{kind: MarkAt, file: *f, figures: []*float64{f}, values: []float64{*f}, mark: i}
			if mark.Given {
				u.accuracy = m.markAccuracy(i)
			}
			list = append(list, u)
		}
	}
	return list
}

// What a figure off by its accuracy must do at least to count: a hundredth of a millimetre at a tape, a hundredth of a degree at
// a wheel.
const (
	leastLength = 0.01
	leastAngle  = 0.01 * math.Pi / 180
)

// choose keeps the candidates that an observation, one that might be made, or the wheels' angles hang on.
func (m *model) choose(candidates []unknown) error {
	first, ok := m.stand(nil)
	if !ok {
		return adjust.ErrStart
	}
	columns, pairs := first.probes(), m.pairs(first, true)
	seen := func(st *stand) (all []float64) {
		checked, _ := m.checked(st)
		for _, t := range pairs {
			checked = append(checked, st.tape(t))
		}
		return append(checked, st.wheels(columns)...)
	}
	before := seen(first)
	wheels := m.checks + len(pairs)
	for _, u := range candidates {
		if u.kind != Figure {
			m.unknowns = append(m.unknowns, u)
			continue
		}
		u.set(u.accuracy)
		var after []float64
		if st, ok := m.stand(nil); ok {
			after = seen(st)
		}
		u.set(0)
		if len(after) != len(before) {
			continue // it brings the linkage to its end: nothing follows of it here
		}
		counts := false
		for i := range after {
			least, by := leastLength, math.Abs(after[i]-before[i])
			if i >= wheels || i < m.checks && m.observations[i].Angle {
				least = leastAngle
			}
			if i >= wheels && by > least {
				u.steers = math.Max(u.steers, by)
			}
			counts = counts || by > least
		}
		if counts {
			m.unknowns = append(m.unknowns, u)
		}
	}
	return nil
}

// set puts a figure off by so much.
func (u *unknown) set(by float64) {
	for i, f := range u.figures {
		*f = u.values[i] + by
	}
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

// fitRods makes the rods of given length as long as their balls are apart.
func (m *model) fitRods(apart *[2]float64) {
	for _, r := range m.rods {
		for _, l := range r.lengths {
			*l = apart[r.rod]
		}
	}
}

// slopes are how figures of the vehicle change with each unknown about x, by central differences: a row for each figure. ok is
// false where they cannot be worked out.
func (m *model) slopes(x []float64, of func(*stand) []float64) (rows *mat.Dense, ok bool) {
	x = append([]float64(nil), x...)
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

// position is where a mark to be found is with the unknowns x.
func (m *model) position(x []float64, mark int) (at r3.Vector, unknowns [3]int) {
	axis := 0
	for i := range m.unknowns {
		if u := &m.unknowns[i]; u.kind == MarkAt && u.mark == mark {
			unknowns[axis] = i
			axis++
		}
	}
	return r3.Vector{X: x[unknowns[0]], Y: x[unknowns[1]], Z: x[unknowns[2]]}, unknowns
}
