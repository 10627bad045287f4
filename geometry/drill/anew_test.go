package drill

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
	"locksweep/geometry/sweep"
)

// anew is what a steering does, found without anything of this package: by poses close to one another, angles and distances read off each.
type anew struct {
	lock, leverage, off s1.Angle
	ratio, gap          float64 // gap in mm, of a rod to what stands on the frame, to tyres and to the other rod
	faults              []sweep.Code
}

// poses is at how many places on a way a steering is looked at.
const poses = 120

// judgedAnew looks at a setup up to a lock wanted. The error is that of a sweep.
func judgedAnew(s *setup.Setup, wanted, from s1.Angle, percent float64) (a anew, err error) {
	m, err := sweep.New(s)
	if err != nil {
		return a, err
	}
	a.lock, a.leverage, a.gap = s1.InfAngle(), s1.InfAngle(), math.Inf(1)
	for _, d := range sweep.Directions {
		lock := m.Lock(d)
		inside, way := setup.Left, s1.Angle(d.Sign())
		if way < 0 {
			inside = setup.Right
		}
		if d.Sign()*float64(lock.Pose.Wheels[inside].Steer) < 0 { // it steers backwards, and the other wheel is inside
			inside, way = inside.Other(), -way
		}
		inner := func(p *sweep.Pose) s1.Angle { return way * p.Wheels[inside].Steer }
		a.lock = min(a.lock, inner(&lock.Pose))
		end := columnAnew(m, lock.Column, func(p *sweep.Pose) bool { return inner(p) >= wanted })
		begin := columnAnew(m, lock.Column, func(p *sweep.Pose) bool { return p.LinkageSteer.Abs() >= from })
		for i := range poses + 1 {
			p, _ := m.Pose(end * s1.Angle(i) / poses)
			for rod := range m.Linkage.Rods {
				a.leverage = min(a.leverage, p.Transmission[rod][0], p.Transmission[rod][1])
			}
			a.gap = min(a.gap, gapAnew(m, &p))
			p, _ = m.Pose(begin + (end-begin)*s1.Angle(i)/poses)
			ideal := p.Turn.Ahead - p.Turn.Error // ahead of the outer wheel
			a.off = max(a.off, (p.Turn.Ahead - s1.Angle(percent/100)*ideal).Abs())
		}
		stopping := m.Stopping(&lock)
		for _, code := range stopping.Faults() {
			if code != sweep.LowTransmission { // against the stop, which lies beyond the lock wanted
				a.faults = append(a.faults, code)
			}
		}
	}
	const h = 1e-3 * s1.Degree
	p, _ := m.Pose(h)
	q, _ := m.Pose(-h)
	for side := range setup.Sides {
		a.ratio += float64((p.Wheels[side].Steer-q.Wheels[side].Steer)/(2*h)) / 2
	}
	return a, nil
}

// columnAnew halves to where a way first is somewhere; its end where it never is.
func columnAnew(m *sweep.Model, end s1.Angle, there func(*sweep.Pose) bool) s1.Angle {
	if p, _ := m.Pose(end); !there(&p) {
		return end
	}
	low, high := s1.Angle(0), end
	for range 50 {
		mid := (low + high) / 2
		if p, _ := m.Pose(mid); there(&p) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// gapAnew is the least distance at a pose of the rods to parts of the frame, to tyres and to one another, mm.
func gapAnew(m *sweep.Model, p *sweep.Pose) float64 {
	least := math.Inf(1)
	pieces := m.Scene.Pieces
	for i := range pieces {
		for j := range pieces {
			rod, other := &pieces[i], &pieces[j]
			// Rods on one pin, or on two hardly apart, are held together there.
			both := rod.Body.IsRod() && other.Body.IsRod() && i < j && m.Setup.DropArm.Pins[0].Sub(m.Setup.DropArm.Pins[1]).Norm() > 2*m.Setup.Corners[0].Rod.Diameter
			if !rod.Body.IsRod() || !both && !(other.Part != nil && other.Part.On == setup.OnFrame) && other.Name != clearance.Tyre {
				continue
			}
			for a := range rod.Solids {
				for b := range other.Solids {
					gap, _, _ := solid.Distance(&rod.Solids[a], &other.Solids[b], m.Scene.Motion(rod.Body, &p.Pose), m.Scene.Motion(other.Body, &p.Pose))
					least = min(least, gap)
				}
			}
		}
	}
	return least
}

// wandered is a place with its holes drilled off it, somewhere within the slip: those of both arms alike, or each its own way; those of
// the drop arm likewise, as mirror images, each its own way, or one for both rods.
func wandered(r *Result, sp Spot, ways *rand.Rand) Spot {
	off := func() (x, y float64) {
		sin, cos := math.Sincos(ways.Float64() * 2 * math.Pi)
		by := r.Options.Slip
		if ways.IntN(3) == 0 {
			by *= ways.Float64()
		}
		return by * cos, by * sin
	}
	if r.On == Arm || r.On == Both {
		x, y := off()
		for _, side := range setup.Sides {
			if side == setup.Right && r.Options.Each {
				x, y = off()
			}
			// Two directions square to the kingpin, forward and outboard as near as can be.
			k := setup.FromCorner(side, r.Setup.Kingpin(side).Dir)
			forward := r3.Vector{X: 1}.Sub(k.Mul(k.X)).Normalize()
			outboard := k.Cross(forward)
			if outboard.Y < 0 {
				outboard = outboard.Mul(-1)
			}
			sp.Pickups[side] = sp.Pickups[side].Add(forward.Mul(x)).Add(outboard.Mul(y))
		}
	}
	if r.On == DropArm || r.On == Both {
		x, y := off()
		one := sp.Pins[setup.Left] == sp.Pins[setup.Right] // which off its place is one still
		for _, side := range setup.Sides {
			if side == setup.Right && r.Options.Each && !one {
				x, y = off()
			}
			mirror := side.Sign()
			if r.Options.Each || one {
				mirror = 1
			}
			sp.Pins[side] = sp.Pins[side].Add(r3.Vector{X: x, Y: mirror * y})
		}
	}
	return sp
}

// keepsAnew drills a place off it, any way, and holds what comes of it against what was promised and against what was asked for. stands is the
// setup in which the stop stands as it is to be.
func keepsAnew(t *testing.T, r *Result, stands *setup.Setup, best *Listed, times int, seed uint64) {
	t.Helper()
	ways := rand.New(rand.NewPCG(seed, 7))
	const angle, length = 0.02 * s1.Degree, 0.03 // what a bend of the figures allows
	for range times {
		sp := wandered(r, best.Spot, ways)
		got, err := judgedAnew(sp.Fit(stands), r.Aims.Lock, r.Aims.From, r.Aims.Percent)
		if err != nil {
			t.Errorf("seed %d: drilled at %v: %v", seed, sp, err)
			continue
		}
		w, a := &best.Within, &r.Aims
		if got.lock < w.Lock-angle || got.leverage < w.Transmission-angle || got.gap < min(w.Clearance, nearFactor*stands.Limits.Clearance)-length || len(got.faults) > 0 {
			t.Errorf("seed %d: drilled at %v instead of %v: lock %v, leverage %v, gap %.3f, %v; promised %v, %v, %.3f", seed, sp, best.Spot,
				got.lock, got.leverage, got.gap, got.faults, w.Lock, w.Transmission, w.Clearance)
		}
		if got.off > w.Worst+5*angle && !math.IsInf(float64(w.Worst), 0) {
			t.Errorf("seed %d: drilled at %v: %v off, promised %v at most", seed, sp, got.off, w.Worst)
		}
		if got.gap < a.Clearance-0.01-length {
			t.Errorf("seed %d: drilled at %v: gap %.3f, asked for %.3f", seed, sp, got.gap, a.Clearance)
		}
		if len(r.Misses) == 0 && got.lock < a.Lock-0.01*s1.Degree-angle {
			t.Errorf("seed %d: drilled at %v: lock %v, asked for %v and not said to be missed", seed, sp, got.lock, a.Lock)
		}
		if len(best.Marks) == 0 && got.leverage < a.Leverage-0.01*s1.Degree-angle {
			t.Errorf("seed %d: drilled at %v: leverage %v, wanted %v and not marked", seed, sp, got.leverage, a.Leverage)
		}
	}
}
