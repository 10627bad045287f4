package topview

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/clearance"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// size writes a dimension: the figure alone, without needless noughts; the unit stands once on the sheet.
func (d *drawing) size(mm float64) string {
	return wording.Short(wording.Figure(d.r.Setup.Unit, math.Abs(mm)))
}

// dimensions draws the principal dimensions, those of the linkage too where no other view has them.
func (v *view) dimensions(all bool) {
	s := v.r.Setup
	kingpins := [2]r2.Point{{Y: s.Spacing / 2}, {Y: -s.Spacing / 2}}
	v.Dim(sheet.Horizontal, kingpins[0], kingpins[1], v.View.Length(v.whole.X.Hi)+sheet.DimGap, v.size(s.Spacing))
	half := s.Vehicle.RearTrack / 2
	rear := [2]r2.Point{{X: -s.Vehicle.Wheelbase, Y: half}, {X: -s.Vehicle.Wheelbase, Y: -half}}
	outer := max(v.At(kingpins[1]).X, v.At(rear[1]).X)
	v.Dim(sheet.Vertical, kingpins[1], rear[1], v.At(r2.Point{Y: v.whole.Y.Lo}).X+dimRight-5-outer, v.size(s.Vehicle.Wheelbase))
	below := v.View.Length(-s.Vehicle.Wheelbase - v.whole.X.Lo)
	v.Dim(sheet.Horizontal, rear[0], rear[1], -below-sheet.DimGap, v.size(2*half))
	v.width(below)
	v.tyres()
	if all {
		v.pickups()
	}
}

// width draws the overall width over all tyres, where it is not that over the rear tyres alone.
func (v *view) width(below float64) {
	tyres := r2.EmptyRect()
	for i := range v.outlines {
		if v.r.Scene.Pieces[v.outlines[i].Piece].Rubber() {
			tyres = tyres.Union(planar.Bounds(v.outlines[i].Rings[0]))
		}
	}
	if v.opt.Pose != nil || tyres.IsEmpty() {
		return
	}
	wheelbase := v.r.Setup.Vehicle.Wheelbase
	ends := [2]r2.Point{{X: -wheelbase, Y: tyres.Y.Hi}, {X: -wheelbase, Y: tyres.Y.Lo}}
	v.Dim(sheet.Horizontal, ends[0], ends[1], -below-2*sheet.DimGap, "overall "+v.size(v.r.Road.Width(&v.pose.Pose)))
}

// tyres says how large the tyres are.
func (v *view) tyres() {
	s := v.r.Setup
	for i := range v.outlines {
		p := &v.r.Scene.Pieces[v.outlines[i].Piece]
		tyre := s.Vehicle.RearTyre
		switch {
		case !p.Rubber():
			continue
		case p.Name == clearance.Tyre:
			tyre = s.Corners[p.Side].Wheel.Tyre
		}
		if p.Side == setup.Right && (p.Name == clearance.RearTyre || tyre == s.Corners[setup.Left].Wheel.Tyre) {
			continue
		}
		ring := r2.RectFromPoints(v.outlines[i].Rings[0]...)
		v.Label(sheet.Label{At: ring.Center(), Clear: 0.5, Within: v.room, End: sheet.DotEnd, Prefer: []sheet.Dir{sheet.SW, sheet.W, sheet.SE, sheet.E},
			Lines: []string{"Ø " + v.size(tyre.Diameter) + " × " + v.size(tyre.Width)}})
	}
}

// leastPickup is the least length of a steering arm on paper that is dimensioned, mm.
const leastPickup = 8.0

// pickups draws where the tie rods take hold of the steering arms, from the kingpins: of the left arm,
// and of the right one where it differs.
func (v *view) pickups() {
	if v.opt.Pose != nil {
		return
	}
	s := v.r.Setup
	for _, side := range setup.Sides {
		at := s.Corners[side].Arm.Pickup
		if v.close && !v.Rect.ContainsPoint(v.At(flat(s.Centre(side)))) || v.View.Length(math.Abs(at.X)) < leastPickup || side == setup.Right && at == s.Corners[setup.Left].Arm.Pickup {
			continue
		}
		kingpin, pickup := flat(s.Centre(side)), flat(s.CornerPoint(side, at))
		outer := -side.Sign() // paper runs right
		reach := max(0, v.View.Length(side.Sign()*(pickup.Y-kingpin.Y)))
		off := outer * (reach + sheet.DimGap)
		v.Dim(sheet.Vertical, kingpin, pickup, off, v.size(at.X))
		if v.View.Length(math.Abs(at.Y)) > 0.3 {
			v.Dim(sheet.Horizontal, kingpin, pickup, v.across(kingpin, pickup), v.size(at.Y))
		}
	}
}

// across is how far off a dimension across the arm stands: past the pickup, as far as the frame of the view leaves room,
// or past the kingpin where there is more.
func (v *view) across(kingpin, pickup r2.Point) float64 {
	top, bottom := v.At(pickup).Y, v.At(kingpin).Y
	ahead := min(sheet.DimGap, min(top, bottom)-v.Rect.Y.Lo-2.2*sheet.Small)
	behind := min(sheet.DimGap, v.Rect.Y.Hi-max(top, bottom)-0.6*sheet.Small)
	if first := pickup.X >= kingpin.X; first && ahead >= min(behind, leastOff) || !first && behind < min(ahead, leastOff) {
		return ahead
	}
	return -behind
}

// leastOff is how far a dimension line stands off at least if it can, mm.
const leastOff = 3.5
