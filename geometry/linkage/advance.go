package linkage

import (
	"math"

	"github.com/golang/geo/s1"
)

// FirstZero returns the first column angle, in direction dir (±1) from straight ahead and at most at
// end, at which room falls to tolerance (conservative advancement). travel bounds by how much room can
// shrink between two poses, given that every angle runs one way from one to the other; so a step whose
// travel is within the room that is left passes over nothing, however thin. found is false where room
// lasts up to end.
func (m *Mechanism) FirstZero(dir float64, end s1.Angle, tolerance float64,
	room func(*Pose) float64, travel func(from, to *Pose) float64) (column s1.Angle, found bool) {
	limit := math.Abs(float64(end))
	here, ok := m.Pose(0)
	left := room(&here)
	step := limit / 8
	for ok && left > tolerance {
		at := math.Abs(float64(here.Column))
		if at >= limit {
			return 0, false
		}
		next := math.Min(at+step, limit)
		if next <= at || step < leastStep {
			break // no room to move within the resolution of an angle
		}
		there, assembles := m.Pose(s1.Angle(dir * next))
		if !assembles {
			step /= 2
			continue
		}
		used := travel(&here, &there)
		if used > left {
			step *= math.Max(0.9*left/used, 0.1)
			continue
		}
		here, left = there, room(&there)
		if used > 0 {
			step = (next - at) * math.Min(left/used, 8)
		}
	}
	return here.Column, true
}

// leastStep ends the advance: 1e-14 radians is past what any tool can set.
const leastStep = 1e-14
