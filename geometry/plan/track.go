package plan

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
)

// Track is the outline of one convex solid seen from above over a motion, by pose and then by corner: at every pose as
// many corners, counter-clockwise and in the same order, so that what is stored or drawn of one pose only has to be moved
// for the next. Corners lie on the true outline and may coincide; the true outline reaches at most TrackError beyond the
// track. It has no corners where a solid covers no ground.
type Track [][]r2.Point

// TrackError bounds how far the true outline reaches beyond a track, mm.
const TrackError = 0.25

// Follow follows every solid of a piece over poses, of a plate with very many those of its outline with fewer points.
//
// A silhouette has no corners of its own that last: what is seen of a leaning cylinder changes with its lean. So a track
// holds directions, fixed to the body's heading, and of each pose the points of the outline that lie furthest out in them
// (the support points). Directions are added, where the outline lies furthest beyond the polygon so far, until it lies
// within TrackError at every pose.
func Follow(sc *clearance.Scene, piece int, poses []linkage.Pose) []Track {
	s := &sc.Pieces[piece]
	motions := make([]rigid.Motion, len(poses))
	for i := range poses {
		motions[i] = sc.Motion(s.Body, &poses[i])
	}
	pieces := solids(s)
	tracks := make([]Track, len(pieces))
	for k := range pieces {
		hulls := make([][]r2.Point, len(poses))
		for i := range hulls {
			hulls[i] = pieces[k].Plan(motions[i])
		}
		tracks[k] = track(hulls, motions)
	}
	return tracks
}

// track picks the corners of convex outlines, each seen under a motion.
func track(hulls [][]r2.Point, motions []rigid.Motion) Track {
	var directions []float64 // from the body's heading, radians, sorted
	headings := make([]float64, len(hulls))
	for i := range hulls {
		headings[i] = math.Atan2(motions[i].Turn[0].Y, motions[i].Turn[0].X) // of the x axis
		directions = choose(directions, hulls[i], headings[i])
	}
	t := make(Track, len(hulls))
	for i := range hulls {
		t[i] = make([]r2.Point, 0, len(directions))
		for _, at := range supports(hulls[i], directions, headings[i]) {
			t[i] = append(t[i], hulls[i][at])
		}
	}
	return t
}

// choose adds the directions that a convex outline needs.
func choose(directions []float64, hull []r2.Point, heading float64) []float64 {
	for range hull {
		at, beyond := furthestBeyond(hull, supports(hull, directions, heading))
		if beyond <= TrackError {
			break
		}
		before, after := hull[(at+len(hull)-1)%len(hull)], hull[(at+1)%len(hull)]
		along := after.Sub(before)
		angle := math.Remainder(math.Atan2(-along.X, along.Y)-heading, 2*math.Pi)
		place, _ := slices.BinarySearch(directions, angle)
		directions = slices.Insert(directions, place, angle)
	}
	return directions
}

// furthestBeyond returns the corner of a convex outline that lies furthest outside the polygon of some of its corners,
// which are given in order round it.
func furthestBeyond(hull []r2.Point, some []int) (at int, beyond float64) {
	if len(some) == 0 {
		return 0, math.Inf(1)
	}
	for k, from := range some {
		to := some[(k+1)%len(some)]
		if to == from && len(some) > 1 {
			continue
		}
		for i := (from + 1) % len(hull); i != to; i = (i + 1) % len(hull) {
			if d, _ := planar.ToSegment(hull[i], hull[from], hull[to]); d > beyond+onEdge {
				at, beyond = i, d
			}
		}
	}
	return at, beyond
}

// supports returns the corner of a convex outline that lies furthest out in each direction: in the order of the
// directions, which is that of the corners. From one direction to the next it goes on round the outline, which less than half
// a turn further rises to the corner and falls after it.
func supports(hull []r2.Point, directions []float64, heading float64) []int {
	out := make([]int, len(directions))
	for k, d := range directions {
		sin, cos := math.Sincos(d + heading)
		dir := r2.Point{X: cos, Y: sin}
		if k > 0 && d-directions[k-1] < math.Pi-1e-6 {
			out[k] = onward(hull, out[k-1], dir)
			continue
		}
		most := math.Inf(-1)
		for i, p := range hull {
			if far := p.Dot(dir); far > most {
				out[k], most = i, far
			}
		}
	}
	return out
}

// onward returns the corner of a convex outline that lies furthest out in a direction, going round from another on as long as that
// leads further out. Corners nearer than sameHeight are one here: a cylinder seen along its axis has its corners twice over.
func onward(hull []r2.Point, from int, dir r2.Point) int {
	best, most := from, hull[from].Dot(dir)
	for i := range hull {
		at := (from + i + 1) % len(hull)
		far := hull[at].Dot(dir)
		if far < most-sameHeight {
			break
		}
		if far > most+onEdge {
			best, most = at, far
		}
	}
	return best
}
