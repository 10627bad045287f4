package plan

import (
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/sweep"
)

// TestTracksKeepToTheOutline holds every track of the examples against the outlines themselves, at every pose: no corner off
// the outline, none of the outline further beyond the track than is promised, and the corners in order.
func TestTracksKeepToTheOutline(t *testing.T) {
	for _, e := range fixtures.Examples {
		r, err := sweep.Run(example.Read(t, e.Name), 2*s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		poses := make([]linkage.Pose, len(r.Poses))
		for i := range r.Poses {
			poses[i] = r.Poses[i].Pose
		}
		held := 0
		for i := range r.Scene.Pieces {
			piece := &r.Scene.Pieces[i]
			for k, track := range Follow(r.Scene, i, poses) {
				held += len(track[0])
				for at := range poses {
					hull := piece.Solids[k].Plan(r.Scene.Motion(piece.Body, &poses[at]))
					if beyond := outside(hull, track[at]); beyond > TrackError {
						t.Errorf("%s, %s, solid %d at %.1f°: the outline reaches %.3f mm beyond, at most %g is promised",
							e.Name, piece.Label(), k, poses[at].Column.Degrees(), beyond, TrackError)
					}
					if len(track[at]) != len(track[0]) {
						t.Fatalf("%s, %s: %d corners, then %d", e.Name, piece.Label(), len(track[0]), len(track[at]))
					}
					if area := planar.Area(track[at]); len(hull) > 2 && area <= 0 {
						t.Errorf("%s, %s, solid %d: the corners go round an area of %g", e.Name, piece.Label(), k, area)
					}
					if corners(track[at], hull) == nil && len(hull) > 0 {
						t.Fatalf("%s, %s: %v has a corner that is none of the outline's", e.Name, piece.Label(), track[at])
					}
				}
			}
		}
		t.Logf("%s: %d corners", e.Name, held)
	}
}

// corners returns which corners of an outline points are; nil where one is none of them.
func corners(points, hull []r2.Point) (at []int) {
	for _, p := range points {
		i := slices.Index(hull, p)
		if i < 0 {
			return nil
		}
		at = append(at, i)
	}
	return at
}

// outside returns how far the corners of an outline lie outside a convex polygon, mm, looking at every edge.
func outside(hull, polygon []r2.Point) (most float64) {
	for _, p := range hull {
		most = max(most, planar.ToEdge(polygon, p))
	}
	return most
}
