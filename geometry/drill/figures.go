package drill

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Figures is what the steering does with the holes drilled just where a place has them. All but Inner, Outer, Beyond, Margin and Faults is
// judged between straight ahead and the lock wanted, or the lock where that comes first.
type Figures struct {
	// Inner is the inner wheel's steer at either lock, Outer the outer one's, into the turn.
	Inner, Outer [2]s1.Angle
	// Beyond is how far the column turns on from where the inner wheel stands at the lock wanted to the lock, unsigned; 0 where the lock comes
	// first.
	Beyond [2]s1.Angle
	// Margin is the lesser column angle from a metal stop to where the linkage gives out by itself: +Inf
	// where it does not, 0 where there is no stop.
	Margin s1.Angle
	// Faults is what is wrong with how the wheels are stopped either way; empty where a metal stop holds.
	Faults [2][]sweep.Code
	// Worst is the greatest departure of the inner wheel from the Ackermann wanted over the range of steer, unsigned, and WorstAt the mean steer
	// there, unsigned. Worst is +Inf where that departure has no meaning or the lock comes before the range.
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

// samples is into how many parts the range of steer is cut to find where the departure is greatest.
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

// locked fills in the figures of a model but for Worst and Unlike, and returns its locks.
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
		// A contact is what stops the wheels even where it is no stop that holds; with the stop yet to be cut, only where it is one.
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

// faults lists what is wrong with how the wheels are stopped in a direction. Low leverage at the stop is left out, since that lies beyond the
// lock wanted; that a steering arm becomes the stop which is none today is a fault too.
func (a *Aims) faults(m *sweep.Model, lock *sweep.Lock, s *sweep.Stopping) []sweep.Code {
	codes := slices.DeleteFunc(s.Faults(), func(code sweep.Code) bool { return code == sweep.LowTransmission })
	if first := lock.First(); len(codes) == 0 && first != nil && first.Kind == sweep.Contact && onArm(m, first.Pair) && !slices.Contains(a.stops, first.Pair) {
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

// nearest returns what comes nearest in a model between the column angles that its figures are judged between, without what stops the
// wheels; nothingNear where nothing comes nearer than near, mm.
func (f *Figures) nearest(m *sweep.Model, near float64) clearance.Near {
	least, found := m.Scene.Closest(f.ends[sweep.ToRight], f.ends[sweep.ToLeft], near, func(pair [2]int) bool {
		return slices.Contains(f.stops[:], pair)
	})
	if !found {
		return nothingNear
	}
	return least
}

// unlike returns Figures.Unlike.
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

// turned returns the steer of the inner and the outer wheel into the turn; at a pose that hardly turns, the greater and the lesser steer of
// either wheel, unsigned.
func turned(p *sweep.Pose) (inner, outer s1.Angle) {
	if t := &p.Turn; t.Known() {
		return t.InnerSteer, t.OuterSteer
	}
	left, right := p.Wheels[setup.Left].Steer.Abs(), p.Wheels[setup.Right].Steer.Abs()
	return max(left, right), min(left, right)
}

// alongWay notes the greatest departure on the way to a lock, over the range of steer, which ends at the column angle end unless a.To is
// given.
func (a *Aims) alongWay(m *sweep.Model, lock *sweep.Lock, end s1.Angle, f *Figures) {
	first, found := m.AtMeanSteer(lock, a.From)
	if !found { // the lock comes before the range begins
		f.note(s1.InfAngle(), &lock.Pose)
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
		f.note(off[i], &p)
	}
	for i := 1; i < samples; i++ {
		if here := off[i].Abs(); here >= max(off[i-1].Abs(), off[i+1].Abs()) && here > 0.8*f.Worst {
			a.between(m, [3]s1.Angle(off[i-1:i+2]), from+s1.Angle(i)*step, step, f)
		}
	}
}

// note keeps a departure at a pose if it is the greatest so far.
func (f *Figures) note(off s1.Angle, p *sweep.Pose) {
	if off = off.Abs(); math.IsNaN(float64(off)) {
		off = s1.InfAngle()
	}
	if off > f.Worst {
		f.Worst, f.WorstAt = off, p.LinkageSteer.Abs()
	}
}

// between looks for a greater departure between three samples, the middle one at a column angle and the others a step before and after it: at
// the vertex of the parabola through them, which may open either way, and once more with three about that vertex a tenth of the step apart.
func (a *Aims) between(m *sweep.Model, three [3]s1.Angle, column, step s1.Angle, f *Figures) {
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
			f.note(three[i], &p)
		}
	}
}

// departure returns how much further the inner wheel turns at a pose than the Ackermann wanted has it, negative where it turns less; NaN where
// the pose hardly turns.
func (a *Aims) departure(p *sweep.Pose) s1.Angle {
	t := &p.Turn
	return t.Ahead - s1.Angle(a.Percent/100)*(t.Ahead-t.Error)
}
