package page

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// The frames of a page stand half a degree of column apart, and coarser only where that would make more than mostFrames.
const (
	frameStep  = 0.5 * s1.Degree
	mostFrames = 600
)

// pastLock is how far the drawing goes on past a lock at least, where the linkage gets there.
const pastLock = 10 * s1.Degree

// mostLimits is how many limits each way are told and can be gone to; the machine-readable output holds all.
const mostLimits = 6

// timeline returns the column angles of the frames, from furthest left to furthest right: whole steps, straight ahead, and
// every limit of every setup, met exactly.
func timeline(results []*sweep.Result) []s1.Angle {
	far := [2]s1.Angle{}
	var exact []s1.Angle
	for _, r := range results {
		for _, d := range sweep.Directions {
			reach := reachOf(r, d)
			far[d] = max(far[d], reach)
			for _, l := range limitsOf(r, d) {
				if l.Column.Abs() <= reach {
					exact = append(exact, l.Column)
				}
			}
			exact = append(exact, r.Locks[d].Column)
		}
	}
	step := frameStep
	for (far[0]+far[1])/step > mostFrames {
		step *= 2
	}
	columns := append(exact, 0)
	for k := -math.Floor(float64(far[sweep.ToRight] / step)); k <= float64(far[sweep.ToLeft]/step); k++ {
		columns = append(columns, s1.Angle(k)*step)
	}
	slices.SortFunc(columns, func(a, b s1.Angle) int {
		if a > b {
			return -1
		}
		return 1
	})
	const same = 1e-6 * s1.Degree
	return slices.CompactFunc(columns, func(a, b s1.Angle) bool { return (a - b).Abs() < same })
}

// reachOf is how far the drawing follows a setup in a direction, as an angle without sign: to the last limit that is
// told, at least pastLock past the lock, and nowhere that the linkage does not get to.
func reachOf(r *sweep.Result, d sweep.Direction) s1.Angle {
	reach := r.Locks[d].Column.Abs() + pastLock
	for _, l := range limitsOf(r, d) {
		reach = max(reach, l.Column.Abs())
	}
	reach = min(reach, r.Linkage.Most)
	for reach > r.Locks[d].Column.Abs() {
		if assembles(r, d, reach) {
			return reach
		}
		reach -= frameStep
	}
	return r.Locks[d].Column.Abs()
}

// assembles reports whether the linkage gets all the way from the lock to a column angle: beyond a dead point it may come
// together again, on another branch than the vehicle's.
func assembles(r *sweep.Result, d sweep.Direction, reach s1.Angle) bool {
	for rod := range r.Linkage.Rods {
		if dead, found := r.Linkage.DeadPoint(rod, d.Sign()); found && dead.Abs() < reach {
			return false
		}
	}
	_, ok := r.Pose(s1.Angle(d.Sign()) * reach)
	return ok
}

// limitsOf returns the limits of a lock that are told.
func limitsOf(r *sweep.Result, d sweep.Direction) []sweep.Limit {
	chain := r.Locks[d].Chain
	return chain[:min(len(chain), mostLimits)]
}

// frameAt returns the frame that stands at a column angle, or nearest to it.
func frameAt(columns []s1.Angle, column s1.Angle) int {
	best := 0
	for i, c := range columns {
		if (c - column).Abs() < (columns[best] - column).Abs() {
			best = i
		}
	}
	return best
}
