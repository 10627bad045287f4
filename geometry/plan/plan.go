// Package plan answers what is seen of a setup from above at a pose: the outline of every piece, which
// stretches of it lie under something higher, and the ground that a piece sweeps. Vehicle axes
// seen from above (x forward, y left), millimetres.
package plan

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/region"
)

// Outline is one piece seen from above.
type Outline struct {
	Piece     int // of the scene
	Rings     [][]r2.Point
	Low, High float64 // heights between which it lies, mm
	// Visible and Hidden are the stretches of the outline that are seen and that lie under a higher piece.
	Visible, Hidden [][]r2.Point
}

// At returns the outlines of all pieces of a scene at a pose, the highest first.
func At(sc *clearance.Scene, p *linkage.Pose) ([]Outline, error) {
	outlines := make([]Outline, len(sc.Pieces))
	regions := make([]region.Region, len(sc.Pieces))
	for i := range sc.Pieces {
		r, err := silhouette(sc, i, p)
		if err != nil {
			return nil, err
		}
		regions[i] = r
		outlines[i] = Outline{Piece: i, Rings: r.Rings()}
		outlines[i].Low, outlines[i].High = heights(sc, i, p)
	}
	slices.SortStableFunc(outlines, func(a, b Outline) int { return cmp.Compare(b.High, a.High) })
	var cover region.Region
	for i := range outlines {
		o := &outlines[i]
		for _, ring := range o.Rings {
			hidden, visible, err := cover.Split(append(slices.Clip(ring), ring[0]))
			if err != nil {
				return nil, err
			}
			o.Visible, o.Hidden = append(o.Visible, visible...), append(o.Hidden, hidden...)
		}
		var err error
		if cover, err = region.Union(cover, regions[o.Piece]); err != nil {
			return nil, err
		}
	}
	return outlines, nil
}

// silhouette returns the ground that a piece covers at a pose.
func silhouette(sc *clearance.Scene, piece int, p *linkage.Pose) (region.Region, error) {
	s := &sc.Pieces[piece]
	m := sc.Motion(s.Body, p)
	parts := make([]region.Region, len(s.Solids))
	for i := range s.Solids {
		parts[i] = region.Of(s.Solids[i].Plan(m))
	}
	return region.Union(parts...)
}

// Silhouette returns the ground that a piece covers at a pose, as rings.
func Silhouette(sc *clearance.Scene, piece int, p *linkage.Pose) ([][]r2.Point, error) {
	r, err := silhouette(sc, piece, p)
	return r.Rings(), err
}

// heights returns the lowest and the highest point of a piece at a pose, mm.
func heights(sc *clearance.Scene, piece int, p *linkage.Pose) (low, high float64) {
	s := &sc.Pieces[piece]
	m := sc.Motion(s.Body, p)
	low, high = math.Inf(1), math.Inf(-1)
	for i := range s.Solids {
		l, h := s.Solids[i].Heights(m)
		low, high = min(low, l), max(high, h)
	}
	return low, high
}

// Swept returns the ground that a piece covers at any of the poses, as rings.
func Swept(sc *clearance.Scene, piece int, poses []linkage.Pose) ([][]r2.Point, error) {
	parts := make([]region.Region, len(poses))
	for i := range poses {
		var err error
		if parts[i], err = silhouette(sc, piece, &poses[i]); err != nil {
			return nil, err
		}
	}
	all, err := region.Union(parts...)
	return all.Rings(), err
}
