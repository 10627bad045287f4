package export

import (
	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
)

// Pose is a pose with the column angle that was asked for.
type Pose struct {
	sweep.Pose
	Asked     float64 // degrees
	Assembles bool    // false: the linkage does not get there and the rest has no meaning
	PastLock  bool    // the steering wheel is stopped before it gets there
}

// Poses returns the poses of the sweep itself.
func Poses(r *sweep.Result) []Pose {
	poses := make([]Pose, len(r.Poses))
	for i := range r.Poses {
		poses[i] = Pose{Pose: r.Poses[i], Asked: float64(degrees(r.Poses[i].Column)), Assembles: true}
	}
	return poses
}

// PosesAt returns the poses at column angles in degrees, in their order.
func PosesAt(r *sweep.Result, columns []float64) []Pose {
	poses := make([]Pose, len(columns))
	for i, c := range columns {
		column := s1.Angle(c) * s1.Degree
		poses[i].Pose, poses[i].Assembles = r.Pose(column)
		poses[i].Asked, poses[i].PastLock = c, pastLock(r, column)
	}
	return poses
}

// pastLock reports whether a column angle lies beyond a lock, by more than rounding.
func pastLock(r *sweep.Result, column s1.Angle) bool {
	const rounding = 1e-9
	return column > r.Locks[sweep.ToLeft].Column+rounding || column < r.Locks[sweep.ToRight].Column-rounding
}
