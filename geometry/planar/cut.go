package planar

import "github.com/golang/geo/r2"

// Cut is how Convex cuts an outline: of each piece the places of its corners in the outline. For one much like it, as one that was moved or
// stretched a little, the same cut mostly does, and costs a fraction of looking for another.
type Cut [][]int

// CutOf cuts an outline; nil where Convex cannot.
func CutOf(outline []r2.Point) (c Cut) {
	pieces, err := Convex(outline)
	if err != nil {
		return nil
	}
	at := make(map[r2.Point]int, len(outline))
	for i, p := range outline {
		at[p] = i
	}
	for _, piece := range pieces {
		corners := make([]int, len(piece))
		for i, p := range piece {
			corners[i] = at[p]
		}
		c = append(c, corners)
	}
	return c
}

// Pieces returns the convex pieces of an outline with as many points, as Convex gives them; ok is false where it cannot be cut so.
func (c Cut) Pieces(outline []r2.Point) (pieces [][]r2.Point, ok bool) {
	corners := 0
	for _, piece := range c {
		corners += len(piece)
	}
	room, pieces := make([]r2.Point, 0, corners), make([][]r2.Point, len(c))
	sum := 0.0
	for i, piece := range c {
		from := len(room)
		for _, at := range piece {
			if at >= len(outline) || !finite(outline[at]) {
				return nil, false
			}
			room = append(room, outline[at])
		}
		pieces[i] = room[from:len(room):len(room)]
		if !convex(pieces[i]) {
			return nil, false
		}
		sum += Area(pieces[i])
	}
	// Corners that were in line, and are in no piece, may no longer be.
	return pieces, len(c) > 0 && fills(sum, outline)
}
