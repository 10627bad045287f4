package setup

import (
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// node is a point of a tube's centre line on its way from the donor's frame to the cut one.
type node struct {
	at    r3.Vector
	along float64 // of the donor's tube, from the beginning of its path, mm
	joint bool    // no point of the file: where pieces meet
	gap   bool    // the donor's metal between the node before and this one is gone, or was never there
}

// samePoint is the distance of points that the file, too, takes for one, mm.
const samePoint = 1e-3

// tube returns the paths of the pieces that are left of a tube, and its cut list; it notes in did what became of the tube.
func (c *FrameCut) tube(path []r3.Vector, did *PartCut) (tubes [][]r3.Vector, list *TubeCut) {
	nodes := make([]node, len(path))
	for i, p := range path {
		nodes[i].at = p
		if i > 0 {
			nodes[i].along = nodes[i-1].along + p.Sub(path[i-1]).Norm()
		}
	}
	old := nodes[len(nodes)-1].along
	nodes, did.Narrowed = c.Strip.tube(nodes)
	pieces, fate := c.Length.tube(nodes)
	did.Shortened = fate
	list = &TubeCut{Old: old}
	for _, piece := range pieces {
		if p := tidied(piece); len(p) > 1 {
			tubes = append(tubes, p)
			list.New += pathLength(p)
		}
	}
	first, last := path[0], path[len(path)-1]
	list.Left, list.Pieces = first.X == last.X, len(tubes)
	if len(tubes) == 0 {
		did.Shortened = Lost
		return nil, list
	}
	list.Out = stretches(pieces, old)
	if last.X > first.X || last.X == first.X && last.Y > first.Y {
		for i := range list.Out {
			o := &list.Out[i]
			o.From, o.To = old-o.To, old-o.From
		}
		slices.Reverse(list.Out)
	}
	return tubes, list
}

func pathLength(path []r3.Vector) (sum float64) {
	for i := 1; i < len(path); i++ {
		sum += path[i].Sub(path[i-1]).Norm()
	}
	return sum
}

// stretches lists what of a tube of the given length is gone, from the beginning of its path.
func stretches(pieces [][]node, length float64) (out []Stretch) {
	end := 0.0
	for _, piece := range pieces {
		if piece[0].along > end {
			out = append(out, Stretch{From: end, To: piece[0].along})
		}
		for i, n := range piece {
			if n.gap {
				out = append(out, Stretch{From: piece[i-1].along, To: n.along, Apart: n.at.Sub(piece[i-1].at).Norm()})
			}
			end = n.along
		}
	}
	if end < length {
		out = append(out, Stretch{From: end, To: length})
	}
	// A cut that ran over a bend is one cut.
	joined := out[:0]
	for _, o := range out {
		switch n := len(joined); {
		case o.To-o.From < samePoint && o.Apart < samePoint:
		case n > 0 && o.From-joined[n-1].To < samePoint:
			joined[n-1].To = o.To
			joined[n-1].Apart += o.Apart
		default:
			joined = append(joined, o)
		}
	}
	return joined
}

// tidied returns the points of a piece without those that were only needed to cut it.
func tidied(piece []node) (path []r3.Vector) {
	var kept []node
	for _, n := range piece {
		if k := len(kept) - 1; k >= 0 && kept[k].at.Sub(n.at).Norm() < samePoint {
			if kept[k].joint {
				kept[k] = n
			}
			continue
		}
		kept = append(kept, n)
	}
	for i, n := range kept {
		if n.joint && i > 0 && i+1 < len(kept) && straight(path[len(path)-1], n.at, kept[i+1].at) {
			continue
		}
		path = append(path, n.at)
	}
	return path
}

// straight reports whether b lies on the way from a to c, to a nanometre.
func straight(a, b, c r3.Vector) bool {
	ab, bc := b.Sub(a), c.Sub(b)
	return ab.Dot(bc) > 0 && ab.Cross(bc).Norm() <= 1e-6*math.Max(ab.Norm(), bc.Norm())
}

// tube moves the points of a tube's path, and adds where it is cut at the edges of the strip. A tube that lies
// wholly within the strip stays.
func (t Strip) tube(nodes []node) ([]node, Fate) {
	if t.Front == 0 && t.Rear == 0 {
		return nodes, Stays
	}
	if !slices.ContainsFunc(nodes, func(n node) bool { return !t.holds(n.at.X, n.at.Y) }) {
		return nodes, Remade
	}
	var out []node
	fate := Stays
	for i, n := range nodes {
		moved := n
		moved.at.Y = t.narrowed(n.at.X, n.at.Y)
		if i > 0 {
			if joints := t.joints(nodes[i-1], n, out[len(out)-1].at, moved.at); len(joints) > 0 {
				out, fate = append(out, joints...), Cut
			}
		}
		out = append(out, moved)
	}
	if fate == Cut {
		return out, Cut
	}
	shift := out[0].at.Sub(nodes[0].at)
	for i := range out {
		switch by := out[i].at.Sub(nodes[i].at); {
		case by.Sub(shift).Norm() > 1e-9:
			return out, Reshaped
		case by.Norm() > 0:
			fate = Moves
		}
	}
	return out, fate
}

// joints returns the two nodes, if any, at which the straight run from a to b is cut; it will run from newA to newB.
func (t Strip) joints(a, b node, newA, newB r3.Vector) []node {
	from, to, cut := t.inside(a.at, b.at)
	if !cut {
		return nil
	}
	run := b.along - a.along
	before, after := from*run, (1-to)*run
	whole := math.Max(newB.Sub(newA).Norm(), before+after)
	if whole == 0 { // all of it is gone
		whole = 1
	}
	at := func(share float64) r3.Vector { return newA.Add(newB.Sub(newA).Mul(share)) }
	return []node{
		{at: at(before / whole), along: a.along + before, joint: true},
		{at: at(1 - after/whole), along: b.along - after, joint: true, gap: true},
	}
}

// inside returns the stretch of the straight run from a to b that lies within the strip, as shares of the run. In a strip
// that is set in, it is the point on the middle line.
func (t Strip) inside(a, b r3.Vector) (from, to float64, ok bool) {
	// The strip's edges are straight between the axles and beyond each of them.
	marks := []float64{0, 1}
	for _, x := range [2]float64{0, -t.Wheelbase} {
		if share := (x - a.X) / (b.X - a.X); share > 0 && share < 1 {
			marks = append(marks, share)
		}
	}
	slices.Sort(marks)
	from, to = 1, 0
	over := func(share, side float64) float64 { // how far outside the edge on a side
		x, y := a.X+share*(b.X-a.X), a.Y+share*(b.Y-a.Y)
		return side*y - math.Max(t.Width(x), 0)/2
	}
	for i := 1; i < len(marks); i++ {
		lo, hi := marks[i-1], marks[i]
		for _, side := range [2]float64{1, -1} {
			start, end := over(marks[i-1], side), over(marks[i], side)
			switch root := marks[i-1] + (marks[i]-marks[i-1])*start/(start-end); {
			case start > 0 && end > 0, start == 0 && end == 0:
				lo, hi = 1, 0
			case start > 0:
				lo = math.Max(lo, root)
			case end > 0:
				hi = math.Min(hi, root)
			}
		}
		if lo <= hi {
			from, to = math.Min(from, lo), math.Max(to, hi)
		}
	}
	if t.Width(a.X+from*(b.X-a.X)) < 0 { // set in: only where the run crosses the middle line
		return from, to, a.Y*b.Y < 0
	}
	return from, to, to-from > 0
}

// zone says where a stretch of a tube lies.
type zone int

const (
	ahead zone = iota
	between
	behind
)

func (l Length) zone(x float64) zone {
	switch {
	case x >= l.At:
		return ahead
	case l.Out > 0 && x > l.rear():
		return between
	}
	return behind
}

// tube cuts a path at the two cuts, brings the rear forward and joins what passed through both.
func (l Length) tube(nodes []node) (pieces [][]node, fate Fate) {
	if l.Out == 0 {
		return [][]node{nodes}, Stays
	}
	was := zone(-1) // of the stretch that the last piece ends with
	crossed := false
	fate = Stays
	for i := 1; i < len(nodes); i++ {
		for _, run := range l.runs(nodes[i-1], nodes[i]) {
			z := l.zone((run[0].at.X + run[1].at.X) / 2)
			if z == between {
				fate = Cut
				continue
			}
			if z == behind {
				run[0].at.X, run[1].at.X = l.shifted(run[0].at.X), l.shifted(run[1].at.X)
			}
			switch last := len(pieces) - 1; {
			case last >= 0 && z == was && run[0].along-pieces[last][len(pieces[last])-1].along < samePoint:
				pieces[last] = append(pieces[last], run[1])
			case last >= 0 && z != was:
				run[0].gap, crossed = true, true
				pieces[last] = append(pieces[last], run[0], run[1])
			default:
				run[0].gap = false
				pieces = append(pieces, []node{run[0], run[1]})
			}
			was = z
		}
	}
	switch {
	case len(pieces) == 0:
		return nil, Lost
	case fate == Cut || crossed:
		return pieces, Cut
	case was == behind:
		return pieces, Moves
	}
	return pieces, Stays
}

// runs splits the straight run between two nodes at the cuts.
func (l Length) runs(a, b node) (runs [][2]node) {
	cuts := []float64{l.At}
	if l.Out > 0 {
		cuts = append(cuts, l.rear())
	}
	if a.at.X < b.at.X {
		slices.Reverse(cuts)
	}
	from := a
	for _, x := range cuts {
		share := (x - a.at.X) / (b.at.X - a.at.X)
		if !(share > 0 && share < 1) { // nor NaN
			continue
		}
		n := node{at: a.at.Add(b.at.Sub(a.at).Mul(share)), along: a.along + share*(b.along-a.along), joint: true, gap: b.gap}
		n.at.X = x // to the last digit, so that what is cut once more is cut in the same place
		runs = append(runs, [2]node{from, n})
		from = n
	}
	return append(runs, [2]node{from, b})
}
