package plan

import (
	"locksweep/geometry/clearance"
	"locksweep/geometry/planar"
	"locksweep/geometry/solid"
)

// From coarsest to mostCoarse, mm, an outline is thinned until at most manySolids are left to put together: the first is a hundredth of
// a millimetre on a sheet at 1:5, the last what only an outline of thousands of teeth takes. More corners than manyCorners are
// hardly ever so few solids, and not tried. What even then falls into more than tooMany, a spiral say, counts as its hull.
const (
	coarsest    = 0.05
	mostCoarse  = 12.8
	manyCorners = 8 * manySolids
	tooMany     = 4 * manySolids
)

// solids returns the convex solids of a piece as a drawing needs them: those of its own or, of a plate with more than can be put
// together in good time, those of its outline with fewer points. What touches what is never judged by these.
func solids(s *clearance.Piece) []solid.Solid {
	if s.Flat == nil || len(s.Solids) < manySolids {
		return s.Solids
	}
	fewest := s.Solids
	for off := coarsest; off <= mostCoarse; off *= 2 {
		outline, ok := planar.ThinRingTo(s.Flat.Outline, off, manyCorners)
		if !ok {
			continue
		}
		coarse, err := solid.Plate(outline, s.Flat.Lower, s.Flat.Upper, s.Flat.Place)
		if err != nil { // thinned so, it crosses itself
			continue
		}
		if len(coarse) < len(fewest) {
			fewest = coarse
		}
		if len(fewest) < manySolids {
			break
		}
	}
	if len(fewest) > tooMany {
		if hull, err := solid.Plate(planar.Hull(s.Flat.Outline), s.Flat.Lower, s.Flat.Upper, s.Flat.Place); err == nil {
			return hull
		}
	}
	return fewest
}
