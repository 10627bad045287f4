package plan

import (
	"locksweep/geometry/clearance"
	"locksweep/geometry/planar"
	"locksweep/geometry/solid"
)

// From coarsest to mostCoarse, mm, an outline is thinned until at most manySolids are left to put together: the first is a hundredth of
// a millimetre on a sheet at 1:5, the last a line's width there.
const (
	coarsest   = 0.05
	mostCoarse = 1.6
)

// solids returns the convex solids of a piece as a drawing needs them: those of its own or, of a plate with more than can be put
// together in good time, those of its outline with fewer points. What touches what is never judged by these.
func solids(s *clearance.Piece) []solid.Solid {
	if s.Flat == nil || len(s.Solids) < manySolids {
		return s.Solids
	}
	fewest := s.Solids
	for off := coarsest; off <= mostCoarse; off *= 2 {
		coarse, err := solid.Plate(planar.ThinRing(s.Flat.Outline, off), s.Flat.Lower, s.Flat.Upper, s.Flat.Place)
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
	return fewest
}
