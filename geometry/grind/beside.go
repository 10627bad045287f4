package grind

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/sweep"
)

// faceAhead is how far the column is taken to turn on past the stop to find its face: the face is what is met on that way.
const faceAhead = 10 * s1.Degree

// besideRoom returns how far metal beside the face of a stop has to stand off what passes it on the way there, mm: by what the distance of both
// outlines may be off, and at least by twice what a stop is expected to wear.
func (p *Plan) besideRoom(piece, obstacle int) float64 {
	readings := p.Model.Setup.Readings()
	return math.Max(2*sweep.Wear, outlinesOff(p.outlineOf(readings, piece), p.outlineOf(readings, obstacle), 0))
}

// beside returns the metal that a cut leaves beside the face of a stop, nearer than besideRoom to what passes it on the way there. Were it left, a
// small error of the outlines or of the grinding would let the two catch on it before the face is met.
func (j *job) beside(c *Cut) (metal []region.Region, err error) {
	plate := j.plate(c.Piece)
	for _, d := range sweep.Directions {
		own, obstacle := j.touched(j.Locks[d].First())
		if own != plate || j.roles[d] != isStop {
			continue
		}
		room := j.besideRoom(c.Piece, obstacle)
		near, err := plate.struck(region.Of(c.After), obstacle, j.before(j.Locks[d].First(), room), room, curveChord)
		if err != nil {
			return nil, err
		}
		for _, e := range sweep.Directions { // the plate may be the stop the other way too
			if own, met := j.touched(j.Locks[e].First()); own == plate {
				if near, err = j.withoutFace(plate, near, met, e); err != nil {
					return nil, err
				}
			}
		}
		made := planar.NewNearest(c.faces())
		for _, rings := range near.Pieces() {
			onCut := func(q r2.Point) bool { return len(made.Edges) > 0 && first(made.To(q)) <= onFace }
			if math.Abs(planar.Area(rings[0])) > leastTip && slices.ContainsFunc(rings[0], onCut) {
				metal = append(metal, region.Of(rings[0]))
			}
		}
	}
	return metal, nil
}

// before returns the column angle, signed, at which what is stopped at a limit is still a distance, mm, away from the face. Looked at only so far,
// metal taken off beside the face leaves a round corner there and does not undercut the face.
func (j *job) before(l *sweep.Limit, apart float64) s1.Angle {
	pose, ok := j.Model.Linkage.Pose(l.Column)
	for _, piece := range l.Pair {
		body := j.Model.Scene.Pieces[piece].Body
		if !ok || !body.IsSpindle() {
			continue
		}
		axis := j.Model.Linkage.Axes[body]
		lever := l.Point.Sub(axis.Point).Cross(axis.Dir).Norm()
		back := s1.Angle(apart / lever / math.Abs(pose.Sides[body.Side()].Rate))
		return s1.Angle(math.Copysign(math.Max(float64(l.Column.Abs()-back), 0), float64(l.Column)))
	}
	return l.Column
}

// withoutFace returns metal without what an obstacle would meet of it past its stop: without the face.
func (j *job) withoutFace(plate *plate, metal region.Region, obstacle int, d sweep.Direction) (region.Region, error) {
	column, end := j.Locks[d].Column, j.ways[d].end
	beyond := column + s1.Angle(d.Sign())*faceAhead
	if beyond.Abs() > end.Abs() {
		beyond = end
	}
	areas, err := plate.swept(obstacle, column, beyond, leastGap, curveChord)
	if err != nil {
		return metal, err
	}
	return metal.Less(areas...)
}

// stand takes off the metal beside the faces of the stops, if every stop stays where it is then; else the cuts say that it catches.
func (j *job) stand() error {
	var off [][]region.Region
	any := false
	for _, c := range j.Cuts {
		metal, err := j.beside(c)
		if err != nil {
			return err
		}
		off, any = append(off, metal), any || len(metal) > 0
	}
	if !any {
		return nil
	}
	done, err := j.tried(func(i int, c *Cut) (*Cut, error) {
		if len(off[i]) == 0 {
			return c, nil
		}
		return j.plate(c.Piece).lessened(c, off[i])
	})
	for i := range j.Cuts {
		j.Cuts[i].Catches = !done && len(off[i]) > 0
	}
	return err
}

// lessened returns a cut that takes more metal off; nil where too little would be left.
func (p *plate) lessened(c *Cut, off []region.Region) (*Cut, error) {
	left := region.Of(c.After)
	more := p.whole()
	more.Obstacles, more.Tips, more.Catches = c.Obstacles, slices.Clone(c.Tips), c.Catches
	for _, metal := range off {
		metal, err := metal.Grown(curveChord, curveChord)
		if err == nil {
			left, err = left.Minus(metal)
		}
		if err != nil {
			return nil, err
		}
	}
	if bad, err := p.spoiled(more, p.take(more, left, DefaultChord)); bad != nil || err != nil {
		return nil, err
	}
	return more, nil
}
