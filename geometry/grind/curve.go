package grind

import (
	"errors"
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/region"
	"locksweep/geometry/sweep"
)

// Step is the lock that a depth of cut gives at best: the steer angle of the wheel inside the turn at
// which metal touches again or something else stops it, by direction.
type Step struct {
	Depth float64 // mm
	Lock  [2]s1.Angle
}

// Lesser returns the lock that both directions reach.
func (s Step) Lesser() s1.Angle { return min(s.Lock[0], s.Lock[1]) }

const (
	stepDepthMM = 0.5  // between two rows of the curve, mm
	mostSteps   = 60   // rows
	samples     = 20   // poses between the first touch of metal to be ground and the end
	curveChord  = 0.01 // mm: finer than the depths that the curve tells
)

// curve follows the lock as metal comes off, until grinding brings nothing more.
func (j *job) curve(p *Plan) (steps []Step, err error) {
	var paths [2][]Step // Lock holds the one direction
	deepest := 0.0
	for _, d := range sweep.Directions {
		if paths[d], err = j.path(p.ways[d], d); err != nil {
			return nil, err
		}
		deepest = math.Max(deepest, paths[d][len(paths[d])-1].Depth)
	}
	rows := min(int(math.Ceil(deepest/stepDepthMM-1e-9))+2, mostSteps)
	if deepest == 0 {
		rows = 1
	}
	for _, depth := range depths(rows, paths) {
		s := Step{Depth: depth}
		for _, d := range sweep.Directions {
			s.Lock[d] = along(paths[d], d, s.Depth)
		}
		steps = append(steps, s)
	}
	return steps, nil
}

// depths returns the depths of rows, with those between them at which a path ends: there something else takes
// over, and the curve has a kink.
func depths(rows int, paths [2][]Step) (all []float64) {
	for i := range rows {
		all = append(all, stepDepthMM*float64(i))
	}
	for _, path := range paths {
		end := path[len(path)-1].Depth
		i, _ := slices.BinarySearch(all, end)
		if i > 0 && i < len(all) && end-all[i-1] > curveChord && all[i]-end > curveChord {
			all = slices.Insert(all, i, end)
		}
	}
	return all
}

// along reads a path at a depth.
func along(path []Step, d sweep.Direction, depth float64) s1.Angle {
	for i := len(path) - 1; i >= 0; i-- {
		a := path[i]
		if a.Depth > depth {
			continue
		}
		if i == len(path)-1 {
			return a.Lock[d]
		}
		b := path[i+1]
		return a.Lock[d] + (b.Lock[d]-a.Lock[d])*s1.Angle((depth-a.Depth)/(b.Depth-a.Depth))
	}
	return path[0].Lock[d]
}

// path returns depth and lock at poses from the present lock to the furthest that grinding gives, in one
// direction. Metal is taken off in the order in which it is met, so that each pose adds to the last.
func (j *job) path(w *way, d sweep.Direction) (path []Step, err error) {
	first := Step{}
	first.Lock[d] = w.steer(w.lock.Column)
	path = []Step{first}
	start := w.lock.Column
	if l := w.lock.First(); l == nil || w.stays(*l) {
		return path, nil
	}
	cuts := map[*plate]*Cut{}
	var plates []*plate
	for _, p := range j.plates {
		plates = append(plates, p.coarse())
	}
	for i := 1; i <= samples; i++ {
		at := func(i int) s1.Angle { return start + (w.most.Column-start)*s1.Angle(i)/samples }
		s := Step{Depth: path[len(path)-1].Depth}
		s.Lock[d] = w.steer(at(i))
		for _, plate := range plates {
			depth, err := plate.deepen(cuts, w.touched(plate), at(i-1), at(i), curveChord)
			var gone *GoneError
			if errors.As(err, &gone) {
				return path, nil
			}
			if err != nil {
				return nil, err
			}
			s.Depth = math.Max(s.Depth, depth)
		}
		path = append(path, s)
	}
	return path, nil
}

// coarse returns the plate with no more points than the curve needs.
func (p *plate) coarse() *plate {
	few := *p
	flat := *p.flat
	flat.Outline = thinned(flat.Outline, curveChord/4)
	few.flat = &flat
	if few.metal = region.Of(flat.Outline); few.metal.Empty() { // thin metal may cross itself then
		return p
	}
	return &few
}

// touched returns the obstacles that a plate touches on the way.
func (w *way) touched(p *plate) (others []int) {
	for _, o := range p.others {
		pair := [2]int{min(p.piece, o), max(p.piece, o)}
		if slices.ContainsFunc(w.lock.Chain, func(l sweep.Limit) bool { return l.Kind == sweep.Contact && l.Pair == pair }) {
			others = append(others, o)
		}
	}
	return others
}

// deepen takes off what a plate's obstacles sweep, without clearance, on a further stretch of the way, and
// returns how deep its cut is then.
func (p *plate) deepen(cuts map[*plate]*Cut, others []int, from, to s1.Angle, chord float64) (depth float64, err error) {
	left, touched := p.metal, false
	if c := cuts[p]; c != nil {
		left = region.Of(c.After)
	}
	for _, o := range others {
		areas, err := p.swept(o, from, to, 0, chord)
		if err != nil {
			return 0, err
		}
		for _, a := range areas {
			touched = true
			if left, err = left.Minus(a); err != nil {
				return 0, err
			}
		}
	}
	if !touched {
		return 0, nil
	}
	c := p.whole()
	if err := p.keep(c, left); err != nil {
		return 0, err
	}
	removed, err := p.metal.Minus(region.Of(c.After))
	if err != nil {
		return 0, err
	}
	c.bites(removed)
	cuts[p] = c
	return c.Depth, nil
}
