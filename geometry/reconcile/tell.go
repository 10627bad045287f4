package reconcile

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/mat"

	"locksweep/geometry/setup"
)

// A slip of the tape or of the pencil: errors of this size should not pass unseen.
const (
	SlipLength = 6.0 // mm
	SlipAngle  = 3 * s1.Degree
)

// seen is how many standard deviations of its estimate an error must be for it to stand out in four cases of five: the
// critical value and the normal quantile of 0.8 (Baarda's δ₀ = 4.13, memory; derived 3.29 + 0.84).
const seen = 4.13

// shows is the least redundancy with which a slip of an observation stands out.
func shows(angle bool, accuracy float64) float64 {
	least := seen * standard(accuracy) / slip(angle)
	return least * least
}

// Check is something that may be measured beside what the file has: a tape between two places, or, with Turn, both wheels at
// a turn of the steering wheel.
type Check struct {
	From, To string
	Turn     bool
	Column   s1.Angle
	Distance float64 // that the file gives the tape, mm
	Tells    []int   // of Result.Untold, what would show then
}

const (
	mostAdvice = 3
	// leastTape is the shortest distance worth a tape, mm: below it callipers say more.
	leastTape = 120.0
)

// option is a check with how its readings change with the unknowns, a row for each reading.
type option struct {
	Check
	slopes   []*mat.VecDense
	variance float64
}

// telling returns the tapes, at most so many, that together tell most of the figures that the wheels' angles hang on: each adds
// most to the sum of their redundancies, with those before it taken. The unknowns are at x with cofactors q.
func (m *model) telling(x []float64, q *mat.Dense, most int) (list []option) {
	var figures []int
	for i := range m.unknowns {
		if m.unknowns[i].steers > 0 {
			figures = append(figures, i)
		}
	}
	options := m.options(x, false)
	for len(list) < most {
		best, gain, _ := m.mostTelling(options, figures, q, func(*mat.Dense) []int { return figures })
		if !(gain > 0) {
			break
		}
		q = options[best].taken(q)
		list = append(list, options[best])
		options = slices.Delete(options, best, best+1)
	}
	return list
}

// mostTelling returns the option that tells most things, of those that tell as many the one by which figures gain most, what it tells and
// what they gain; gain is 0 where none tells anything. The unknowns have cofactors q, and tells lists what is told with others.
func (m *model) mostTelling(options []option, figures []int, q *mat.Dense, tells func(after *mat.Dense) []int) (best int, gain float64, told []int) {
	for i := range options {
		after := options[i].taken(q)
		shown, g := tells(after), m.gain(figures, q, after)
		if len(shown) > len(told) || len(shown) == len(told) && len(told) > 0 && g > gain*(1+alike) {
			best, gain, told = i, g, shown
		}
	}
	return best, gain, told
}

// gain is what figures gain in redundancy, in all, from one set of cofactors to another.
func (m *model) gain(figures []int, before, after *mat.Dense) (sum float64) {
	for _, i := range figures {
		sigma := standard(m.unknowns[i].accuracy)
		sum += (before.At(i, i) - after.At(i, i)) / (sigma * sigma)
	}
	return sum
}

// taken is the cofactors q of the unknowns once the option's readings are taken too: q - q·g·gᵀ·q/(σ² + gᵀ·q·g) for each.
func (o *option) taken(q *mat.Dense) *mat.Dense {
	after := mat.DenseCopyOf(q)
	for _, g := range o.slopes {
		var qg mat.VecDense
		qg.MulVec(after, g)
		after.RankOne(after, -1/(o.variance+mat.Dot(g, &qg)), &qg, &qg)
	}
	return after
}

// options lists what may be measured about the unknowns x: tapes between named points of the steering; with wheels also a rod
// whose length the file does not give, and both wheels straight ahead and turned either way.
func (m *model) options(x []float64, wheels bool) (list []option) {
	st, ok := m.stand(x)
	if !ok {
		return nil
	}
	var reads []func(st *stand) []float64
	offer := func(c Check, accuracy float64, read func(st *stand) []float64) {
		sigma := standard(inexact(accuracy, c.Turn))
		list, reads = append(list, option{Check: c, variance: sigma * sigma}), append(reads, read)
	}
	for _, t := range m.pairs(st, wheels) {
		offer(Check{From: t[0].Name, To: t[1].Name, Distance: st.tape(t)}, m.base.Accuracy.Tape, func(st *stand) []float64 { return []float64{st.tape(t)} })
	}
	if wheels {
		for _, column := range st.probes() {
			column = s1.Angle(math.Round(column.Degrees()/5)*5) * s1.Degree
			offer(Check{Turn: true, Column: column}, float64(m.base.Accuracy.Turned), func(st *stand) []float64 {
				steer, _ := st.steer(column)
				return steer[:]
			})
		}
	}
	if len(list) == 0 { // no two places are far enough apart for a tape
		return nil
	}
	rows, ok := m.slopes(x, func(st *stand) (all []float64) {
		for _, read := range reads {
			all = append(all, read(st)...)
		}
		return all
	})
	if !ok {
		return nil
	}
	row := 0
	for i := range list {
		for range reads[i](st) {
			list[i].slopes = append(list[i].slopes, mat.VecDenseCopyOf(rows.RowView(row)))
			row++
		}
	}
	return list
}

// pairs lists the tapes worth taking that the file does not have: from body to body, no shorter than leastTape. Rods have their own
// place on paper; with rods those that the file does not give are listed too.
func (m *model) pairs(st *stand, rods bool) (list [][2]setup.Place) {
	var places []setup.Place
	for _, p := range st.setup.Places() {
		switch name := strings.TrimPrefix(strings.TrimPrefix(p.Name, "left "), "right "); name {
		case "kingpin", "pickup", "pin", "foot", "drag link pickup": // a tape does not get to the middle of a tyre
			places = append(places, p)
		}
	}
	for i, to := range places {
		for _, from := range places[:i] {
			t := [2]setup.Place{from, to}
			switch isRod := m.isRod(st, t); {
			case sameBody(from, to), isRod && !rods, isRod && len(m.rods) > 0, st.tape(t) < leastTape, m.taken(from.Name, to.Name):
			default:
				list = append(list, t)
			}
		}
	}
	return list
}

// sameBody reports whether the distance of two places is one of the file's own figures: both on one spindle or its
// kingpin, both on the column or the rack.
func sameBody(a, b setup.Place) bool {
	column := func(p setup.Place) bool { return p.On == setup.OnColumn || p.On == setup.OnRack || p.Name == "foot" }
	corner := func(p setup.Place) bool {
		return p.On == setup.OnSpindle || strings.HasSuffix(p.Name, " kingpin")
	}
	return column(a) && column(b) || corner(a) && corner(b) && a.Side == b.Side
}

// isRod reports whether a tape is the length of a rod.
func (m *model) isRod(st *stand, t [2]setup.Place) bool {
	for i := range st.mechanism.Rods {
		r := &st.mechanism.Rods[i]
		from, to := r.In.Axis.Point.Add(r.In.Arm), r.Out.Axis.Point.Add(r.Out.Arm)
		a, _ := t[0].At(st.setup)
		b, _ := t[1].At(st.setup)
		if near(a, from) && near(b, to) || near(a, to) && near(b, from) {
			return true
		}
	}
	return false
}

func near(a, b r3.Vector) bool { return a.Sub(b).Norm() < 1e-6 }

// taken reports whether the file has a tape between two points.
func (m *model) taken(a, b string) bool {
	return slices.ContainsFunc(m.base.Checks.Taped, func(t setup.Taped) bool {
		return t.From == a && t.To == b || t.From == b && t.To == a
	})
}

// tell finds the figures of which an error could pass unseen, and what would show it.
func (r *Result) tell() {
	m := r.model
	steers := map[int]float64{} // by observation
	var unseen []int            // unknowns
	at := m.checks
	for i := range m.unknowns {
		u := &m.unknowns[i]
		if u.kind != Figure {
			continue
		}
		if o := &m.observations[at]; u.steers > 0 && !o.Suspect && o.Redundancy < shows(o.Angle, o.Accuracy) {
			r.Untold = append(r.Untold, at)
			unseen = append(unseen, i)
			steers[at] = u.steers / u.accuracy * slip(u.angle)
		}
		at++
	}
	r.advise(slices.Clone(r.Untold), unseen)
	slices.SortStableFunc(r.Untold, func(a, b int) int { return cmp.Compare(steers[b], steers[a]) })
}

// advise lists what would show errors of figures, observations by their unknowns.
func (r *Result) advise(observations, unknowns []int) {
	m := r.model
	q, options := r.fit.Cofactors, m.options(r.fit.X, true)
	for len(r.Advice) < mostAdvice {
		best, _, tells := m.mostTelling(options, unknowns, q, func(after *mat.Dense) (shown []int) {
			for k, j := range unknowns {
				u := &m.unknowns[j]
				sigma := standard(u.accuracy)
				if 1-after.At(j, j)/(sigma*sigma) >= shows(u.angle, u.accuracy) {
					shown = append(shown, observations[k])
				}
			}
			return shown
		})
		if len(tells) == 0 {
			return
		}
		c := options[best].Check
		c.Tells = tells
		r.Advice = append(r.Advice, c)
		q = options[best].taken(q)
		for _, o := range tells {
			k := slices.Index(observations, o)
			observations, unknowns = slices.Delete(observations, k, k+1), slices.Delete(unknowns, k, k+1)
		}
		options = slices.Delete(options, best, best+1)
	}
}

// slip is the size of a slip, mm or radians.
func slip(angle bool) float64 {
	if angle {
		return float64(SlipAngle)
	}
	return SlipLength
}
