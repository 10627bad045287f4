package grind

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Reason is why grinding takes the wheels no further.
type Reason int

const (
	ByLimit        Reason = iota // a limit that no grinding takes away
	ByTransmission               // the transmission angle falls under what is wanted
	ByWall                       // too little metal would be left about bore or keep outline
	ByMetal                      // the cut would take the metal that the part hangs on
	ByHalfTurn                   // the steering wheel is followed no further than half a turn
)

// Most is how far grinding alone takes the wheels in one direction, and what stops them there.
type Most struct {
	Column s1.Angle // signed
	Steer  s1.Angle // of the wheel inside the turn, into the turn
	Reason Reason
	Limit  *sweep.Limit // ByLimit
	Rod    int          // ByTransmission: of the linkage
	End    linkage.End  // ByTransmission
	Cut    *Cut         // ByWall, ByMetal: the cut that cannot be made
}

// way is the steering turned in one direction.
type way struct {
	model *sweep.Model
	lock  sweep.Lock       // as the setup is
	into  float64          // +1 where the wheels turn left
	inner setup.Side       // the wheel inside the turn
	end   s1.Angle         // signed: the linkage's own end, or half a turn
	most  Most             // ByLimit, ByTransmission or ByHalfTurn
	weak  Most             // ByTransmission, where an angle falls too low before the end
	cut   func(i int) bool // tells which pieces may be ground
}

// newWay looks one direction over. cut tells which pieces of the scene may be ground.
func newWay(m *sweep.Model, d sweep.Direction, cut func(piece int) bool) *way {
	w := &way{model: m, lock: m.Lock(d), into: d.Sign(), end: s1.Angle(d.Sign() * math.Pi), cut: cut}
	if m.Straight.Ratio[setup.Left] < 0 {
		w.into = -w.into
	}
	if w.into < 0 {
		w.inner = setup.Right
	}
	chain := w.lock.Chain
	if n := len(chain); n > 0 && chain[n-1].Kind.Ends() {
		w.end = chain[n-1].Column
	}
	w.most = Most{Column: w.end, Reason: ByHalfTurn}
	if i := slices.IndexFunc(chain, w.stays); i >= 0 {
		w.most = Most{Column: chain[i].Column, Reason: ByLimit, Limit: &chain[i]}
	}
	w.most.Steer = w.steer(w.most.Column)
	if weak, found := w.weakest(w.end); found {
		if w.weak = weak; weak.Column.Abs() < w.most.Column.Abs() {
			w.most = weak
		}
	}
	return w
}

// stays tells whether a limit is there whatever is ground.
func (w *way) stays(l sweep.Limit) bool {
	return l.Kind != sweep.Contact || !w.cut(l.Pair[0]) && !w.cut(l.Pair[1])
}

// steer returns the steer angle of the wheel inside the turn at a column angle, positive into the turn;
// NaN where the linkage does not get there.
func (w *way) steer(column s1.Angle) s1.Angle {
	p, ok := w.model.Pose(column)
	if !ok {
		return s1.Angle(math.NaN())
	}
	return s1.Angle(w.into) * p.Wheels[w.inner].Steer
}

// columnAt returns the column angle at which the wheel inside the turn stands at a steer angle; ok is false
// where it never does. Up to its own dead or over-centre point a wheel only turns further.
func (w *way) columnAt(steer s1.Angle) (column s1.Angle, ok bool) {
	if w.steer(0) >= steer {
		return 0, true
	}
	low, high := s1.Angle(0), w.end
	if end := w.steer(high); !(end >= steer) && !math.IsNaN(float64(end)) {
		return 0, false
	}
	for range 60 {
		mid := (low + high) / 2
		if got := w.steer(mid); got >= steer || math.IsNaN(float64(got)) {
			high = mid
		} else {
			low = mid
		}
	}
	return high, w.steer(high) >= steer-1e-9
}

// transmissionStep is how finely a fall of the transmission angle under what is wanted is looked for.
const transmissionStep = 0.5 * s1.Degree

// weakest returns where the transmission angle falls under what is wanted, on the way to a column angle.
func (w *way) weakest(end s1.Angle) (most Most, found bool) {
	wanted := w.model.Setup.Limits.Transmission
	low := func(column s1.Angle) (rod int, end linkage.End, is bool) {
		p, ok := w.model.Pose(column)
		if !ok {
			return rod, end, false
		}
		for k := range p.Transmission {
			for _, e := range linkage.Ends {
				if t := p.Transmission[k][e]; t < wanted && (!is || t < p.Transmission[rod][end]) {
					rod, end, is = k, e, true
				}
			}
		}
		return rod, end, is
	}
	n := max(int(math.Ceil(float64(end.Abs()/transmissionStep))), 1)
	for i := range n + 1 {
		at, good := end*s1.Angle(i)/s1.Angle(n), end*s1.Angle(max(i-1, 0))/s1.Angle(n)
		if _, _, is := low(at); !is {
			continue
		}
		for range 40 {
			if mid := (good + at) / 2; mid == good || mid == at {
				break
			} else if _, _, is := low(mid); is {
				at = mid
			} else {
				good = mid
			}
		}
		most = Most{Column: good, Steer: w.steer(good), Reason: ByTransmission}
		most.Rod, most.End, _ = low(at)
		return most, true
	}
	return most, false
}
