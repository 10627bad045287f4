package drill

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Figures is what the steering does with the holes at a place, each drilled where it should be. All but Inner,
// Outer, Beyond, Margin and Faults is judged between straight ahead and the lock wanted, or the lock where that
// comes before.
type Figures struct {
	// Inner is the inner wheel's steer at either lock, Outer the outer one's, into the turn.
	Inner, Outer [2]s1.Angle
	// Beyond is the column angle from where the inner wheel stands at the lock wanted to the lock; 0 where the lock
	// comes before.
	Beyond [2]s1.Angle
	// Margin is the lesser column angle from a metal stop to where the linkage gives out by itself: +Inf
	// where it does not, 0 where there is no stop.
	Margin s1.Angle
	// Faults is what is wrong with how the wheels are stopped either way; empty where a metal stop holds.
	Faults [2][]sweep.Code
	// Worst is the greatest departure, either way, of the inner wheel from the Ackermann wanted over the
	// range of steer, and WorstAt the mean steer there; +Inf where the wanted has no meaning or the lock
	// comes before the range.
	Worst, WorstAt s1.Angle
	Ratio          float64  // wheel per column at centre, mean of both; negative steers backwards
	Transmission   s1.Angle // least, at either end of either rod
	// Unlike is by how much both ways differ: the inner wheels at the same turn of the column, or in how far they turn.
	Unlike  s1.Angle
	Opposed bool // the wheels turn against each other

	ends  [2]s1.Angle // column angles between which it is judged
	stops [2][2]int   // pairs whose contact stops the wheels; twice the same piece where there is none
}

// Lock is the inner wheel's steer at the lesser of both locks.
func (f *Figures) Lock() s1.Angle { return min(f.Inner[sweep.ToLeft], f.Inner[sweep.ToRight]) }

// samples of a way to a lock, for what is worst on it.
const samples = 12

// steering notes how the wheels turn with the column centred.
func (f *Figures) steering(m *sweep.Model) {
	ratios := &m.Straight.Ratio
	f.Ratio = (ratios[setup.Left] + ratios[setup.Right]) / 2
	f.Opposed = ratios[setup.Left]*ratios[setup.Right] < 0
}

// figures judges a model.
func (a *Aims) figures(m *sweep.Model) (f Figures) {
	locks := a.locked(m, &f)
	for d := range locks {
		a.alongWay(m, &locks[d], f.ends[d], &f)
	}
	f.Unlike = a.unlike(m, &f)
	return f
}

// locked judges a model in all but Worst and Unlike, and returns its locks.
func (a *Aims) locked(m *sweep.Model, f *Figures) (locks [2]sweep.Lock) {
	f.steering(m)
	f.Transmission, f.Margin = s1.InfAngle(), s1.InfAngle()
	for _, d := range sweep.Directions {
		locks[d] = m.FirstLimit(d)
		lock := &locks[d]
		f.Inner[d], f.Outer[d] = turned(&lock.Pose)
		stopping := m.Stopping(lock)
		f.Margin = min(f.Margin, stopping.Margin)
		f.Faults[d] = a.faults(m, lock, &stopping)
		// Whether that is a stop that holds is a question of its own; but where the stop is yet to be cut, it is not asked.
		if first := lock.First(); first != nil && first.Kind == sweep.Contact && (!a.Cut || len(f.Faults[d]) == 0) {
			f.stops[d] = first.Pair
		}
		f.ends[d] = lock.Column
		if p, ok := m.AtInnerSteer(lock.Column, a.Lock); ok {
			f.ends[d], f.Beyond[d] = p.Column, (lock.Column - p.Column).Abs()
		}
		f.Transmission = min(f.Transmission, m.LeastLeverage(0, f.ends[d]).Angle)
	}
	return locks
}

// faults is what is wrong with how the wheels are stopped one way, but for low leverage against the stop, which lies
// beyond the lock wanted. A steering arm that stops nothing today is not to become the stop.
func (a *Aims) faults(m *sweep.Model, lock *sweep.Lock, s *sweep.Stopping) (codes []sweep.Code) {
	for _, code := range s.Faults() {
		if code != sweep.LowTransmission {
			codes = append(codes, code)
		}
	}
	first := lock.First()
	if len(codes) == 0 && first != nil && first.Kind == sweep.Contact && onArm(m, first.Pair) && !slices.Contains(a.stops, first.Pair) {
		codes = append(codes, sweep.TouchesFirst)
	}
	return codes
}

// onArm reports whether a steering arm itself is one of a pair.
func onArm(m *sweep.Model, pair [2]int) bool {
	return slices.ContainsFunc(pair[:], func(i int) bool {
		p := &m.Scene.Pieces[i]
		return p.Part == nil && p.Name == clearance.Arm
	})
}

// nothingNear is what comes nearest where nothing comes near.
var nothingNear = clearance.Near{Gap: math.Inf(1)}

// nearest returns what comes nearest in a model, of what comes nearer than near (mm), between the column angles that its
// figures are judged between; what stops it is left out.
func (f *Figures) nearest(m *sweep.Model, near float64) clearance.Near {
	least, found := m.Scene.Closest(f.ends[sweep.ToRight], f.ends[sweep.ToLeft], near, func(pair [2]int) bool {
		return slices.Contains(f.stops[:], pair)
	})
	if !found {
		return nothingNear
	}
	return least
}

// unlike compares both ways, as far as the lock wanted.
func (a *Aims) unlike(m *sweep.Model, f *Figures) s1.Angle {
	by := (min(f.Inner[sweep.ToLeft], a.Lock) - min(f.Inner[sweep.ToRight], a.Lock)).Abs()
	column := min(f.ends[sweep.ToLeft].Abs(), f.ends[sweep.ToRight].Abs())
	left, okLeft := m.Heading(column)
	right, okRight := m.Heading(-column)
	if okLeft && okRight {
		by = max(by, (m.InnerSteer(sweep.ToLeft, &left) - m.InnerSteer(sweep.ToRight, &right)).Abs())
	}
	return by
}

// turned returns the steer of the inner and the outer wheel into the turn; where the pose hardly turns,
// how far either wheel is from straight.
func turned(p *sweep.Pose) (inner, outer s1.Angle) {
	if t := &p.Turn; t.Known() {
		return t.InnerSteer, t.OuterSteer
	}
	left, right := p.Wheels[setup.Left].Steer.Abs(), p.Wheels[setup.Right].Steer.Abs()
	return max(left, right), min(left, right)
}

// alongWay notes what is worst on the way to a lock, as far as end.
func (a *Aims) alongWay(m *sweep.Model, lock *sweep.Lock, end s1.Angle, f *Figures) {
	mean := func(p *sweep.Pose) s1.Angle { return p.LinkageSteer.Abs() }
	first, found := m.AtMeanSteer(lock, a.From)
	if !found { // the lock comes before the range begins
		f.note(s1.InfAngle(), mean(&lock.Pose))
		return
	}
	if a.To > 0 {
		end = lock.Column
		if last, reached := m.AtMeanSteer(lock, a.To); reached {
			end = last.Column
		}
	}
	from := first.Column
	if end.Abs() < from.Abs() { // so little lock is wanted that the range begins where it ends
		from = end
	}
	var off [samples + 1]s1.Angle
	step := (end - from) / samples
	for i := range off {
		p, _ := m.Heading(from + s1.Angle(i)*step)
		off[i] = a.departure(&p)
		f.note(off[i], mean(&p))
	}
	for i := 1; i < samples; i++ {
		if here := off[i].Abs(); here >= max(off[i-1].Abs(), off[i+1].Abs()) && here > 0.8*f.Worst {
			a.between(m, off[i-1:i+2], from+s1.Angle(i)*step, step, f)
		}
	}
}

// note keeps the greatest departure.
func (f *Figures) note(off, steer s1.Angle) {
	if off = off.Abs(); math.IsNaN(float64(off)) {
		off = s1.Angle(math.Inf(1))
	}
	if off > f.Worst {
		f.Worst, f.WorstAt = off, steer
	}
}

// between looks for the worst between samples: at the vertex of the parabola through three departures a
// step apart, the middle one at a column angle, and once more about that vertex a tenth of the step apart.
func (a *Aims) between(m *sweep.Model, off []s1.Angle, column, step s1.Angle, f *Figures) {
	three := [3]s1.Angle{off[0], off[1], off[2]}
	for range 2 {
		bend := three[0] - 2*three[1] + three[2]
		if !(bend.Abs() > 0) {
			return
		}
		column += max(-1, min(1, (three[0]-three[2])/(2*bend))) * step
		step /= 10
		for i := range three {
			p, ok := m.Heading(column + s1.Angle(i-1)*step)
			if !ok {
				return
			}
			three[i] = a.departure(&p)
			f.note(three[i], p.LinkageSteer.Abs())
		}
	}
}

// departure is how far the inner wheel turns beyond the Ackermann wanted.
func (a *Aims) departure(p *sweep.Pose) s1.Angle {
	t := &p.Turn
	return t.Ahead - s1.Angle(a.Percent/100)*(t.Ahead-t.Error)
}
