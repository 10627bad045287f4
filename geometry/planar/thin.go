package planar

import "github.com/golang/geo/r2"

// Thin leaves out of a line the points that the others give within a distance off (Douglas and Peucker, The Canadian
// Cartographer 10, 1973; memory). Both ends stay.
func Thin(line []r2.Point, off float64) []r2.Point {
	left, _ := thin(line, off, len(line))
	return left
}

// thin is Thin; ok is false where more than so many points would stay.
func thin(line []r2.Point, off float64, most int) (left []r2.Point, ok bool) {
	if len(line) < 3 {
		return line, true
	}
	keep := make([]bool, len(line))
	keep[0], keep[len(line)-1] = true, true
	if most -= 2; !mark(line, keep, 0, len(line)-1, off, &most) {
		return nil, false
	}
	left = line[:0:0]
	for i, p := range line {
		if keep[i] {
			left = append(left, p)
		}
	}
	return left, true
}

// alike is the difference under which two points are equally far off a line, mm, and the first is taken: else rounding would choose
// between the points of what is its own mirror image.
const alike = 1e-6

// mark keeps, between two points that stay, the one furthest off the line between them, and goes on on both sides, until more are kept
// than may be: then it returns false.
func mark(line []r2.Point, keep []bool, from, to int, off float64, more *int) bool {
	most, at := off, 0
	way := line[to].Sub(line[from])
	length2 := way.Dot(way)
	for i := from + 1; i < to; i++ {
		// What lies nearer to the endless line than most may lie further from the segment only past its ends.
		p := line[i].Sub(line[from])
		if beside, along := way.Cross(p), way.Dot(p); along >= 0 && along <= length2 && beside*beside < 0.999*most*most*length2 {
			continue
		}
		if d, _ := ToSegment(line[i], line[from], line[to]); d > most+alike {
			most, at = d, i
		}
	}
	if at == 0 {
		return true
	}
	keep[at] = true
	*more--
	return *more >= 0 && mark(line, keep, from, at, off, more) && mark(line, keep, at, to, off, more)
}

// ThinRing is Thin for a ring, whose first point stays. A ring that is nowhere wider than off stays as it is.
func ThinRing(ring []r2.Point, off float64) []r2.Point {
	left, _ := ThinRingTo(ring, off, len(ring))
	return left
}

// ThinRingTo is ThinRing in a time that goes with the number of points, not with its square, by giving up, with ok false, where more
// than so many points would stay.
func ThinRingTo(ring []r2.Point, off float64, most int) (left []r2.Point, ok bool) {
	round, ok := thin(append(ring[:len(ring):len(ring)], ring[0]), off, most+1)
	switch {
	case !ok:
		return nil, false
	case len(round) < 4:
		return ring, len(ring) <= most
	}
	return round[:len(round)-1], true
}

// Fewest leaves out of a ring all that it can at one go: from each point that stays to the furthest with all between
// within off of the line. On arcs it keeps fewer than ThinRing, though it looks at every point again for each that it passes.
func Fewest(ring []r2.Point, off float64) (left []r2.Point) {
	fits := func(i, j int) bool {
		for k := i + 1; k < j; k++ {
			if d, _ := ToSegment(ring[k], ring[i], ring[j%len(ring)]); d > off {
				return false
			}
		}
		return true
	}
	for i := 0; i < len(ring); {
		left = append(left, ring[i])
		j := i + 1
		for j < len(ring) && fits(i, j+1) {
			j++
		}
		i = j
	}
	return left
}
