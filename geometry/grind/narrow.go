package grind

import (
	"slices"

	"locksweep/geometry/sweep"
)

// Narrow tells which plates that are the stop at a lock are, between where they are hit and their root, narrower than what
// counts as a stop, as the cuts of a plan are judged. Judged are plates of which the file says enough: that they are marked stop or
// grind, or have a root or a least width. A plate that stands on both sides is told of once, where it is narrowest.
func Narrow(m *sweep.Model, locks *[2]sweep.Lock) (found []sweep.Finding) {
	for _, d := range sweep.Directions {
		limit := m.Stopping(&locks[d]).Stop
		if limit == nil || limit.Kind != sweep.Contact {
			continue
		}
		for i, piece := range limit.Pair {
			part := m.Scene.Pieces[piece].Part
			if !judged(m, piece) {
				continue
			}
			p := newPlate(m, piece, limit.Pair[1-i:2-i])
			p.stops = limit.Pair[1-i]
			p.hang()
			width, err := p.neck(p.flat.Outline, p.stops, limit.Column)
			if err != nil || !(width < p.width-widthStep) { // what cannot be measured is not doubted
				continue
			}
			f := sweep.Finding{Code: sweep.NarrowStop, Lock: d, Limit: limit, Pair: [2]int{piece, p.stops}, Width: width, Least: p.width}
			at := slices.IndexFunc(found, func(f sweep.Finding) bool { return m.Scene.Pieces[f.Pair[0]].Part == part })
			switch {
			case at < 0:
				found = append(found, f)
			case width < found[at].Width-widthStep:
				found[at] = f
			}
		}
	}
	return found
}

// judged reports whether the file says enough of a piece to tell how wide it is on the way to what it hangs on.
func judged(m *sweep.Model, piece int) bool {
	p := &m.Scene.Pieces[piece]
	return p.Flat != nil && p.Part != nil && (p.Part.Stop || p.Part.Grind || p.Part.MinWidth > 0 || len(p.Part.Root) > 0)
}
