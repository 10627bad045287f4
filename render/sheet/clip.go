package sheet

import (
	"math"
	"slices"
	"strconv"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
)

// clipSegment keeps the part of a–b inside the rectangle (Liang and Barsky: the parameter range
// that lies inside all four edges). ok is false if nothing is left, or an end is no number. Ends are clamped, since of a
// line from very far away rounding may leave more than lies in the rectangle.
func clipSegment(a, b r2.Point, r r2.Rect) (from, to r2.Point, ok bool) {
	if !finite(a, b) {
		return a, b, false
	}
	d := b.Sub(a)
	t0, t1 := 0.0, 1.0
	for _, edge := range [4]struct{ slope, room float64 }{
		{-d.X, a.X - r.X.Lo}, {d.X, r.X.Hi - a.X}, {-d.Y, a.Y - r.Y.Lo}, {d.Y, r.Y.Hi - a.Y},
	} {
		switch t := edge.room / edge.slope; {
		case edge.slope == 0 && edge.room < 0:
			return a, b, false
		case edge.slope < 0:
			t0 = max(t0, t)
		case edge.slope > 0:
			t1 = min(t1, t)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	from, to = a, b
	if t0 > 0 {
		from = a.Add(d.Mul(t0))
	}
	if t1 < 1 {
		to = a.Add(d.Mul(t1))
	}
	from, to = r.ClampPoint(from), r.ClampPoint(to)
	return from, to, finite(from, to)
}

// clipPath cuts a polyline at the rectangle into the runs that lie inside. A point that is no
// number is a gap.
func clipPath(pts []r2.Point, r r2.Rect) [][]r2.Point {
	var runs [][]r2.Point
	joined := false // the last run ends at the point before
	for i := 1; i < len(pts); i++ {
		a, b, seen := clipSegment(pts[i-1], pts[i], r)
		switch {
		case !seen:
		case joined && a == pts[i-1]:
			runs[len(runs)-1] = append(runs[len(runs)-1], b)
		default:
			runs = append(runs, []r2.Point{a, b})
		}
		joined = seen && b == pts[i]
	}
	return runs
}

// clipRing keeps the part of a closed ring inside the rectangle, clamped as in clipSegment.
func clipRing(ring []r2.Point, r r2.Rect) []r2.Point {
	ring = planar.Clip(ring, r)
	for i, p := range ring {
		ring[i] = r.ClampPoint(p)
	}
	return ring
}

// hatchLines gives the parts of parallel lines inside the rings by the even-odd rule. The lines of
// one angle and spacing are the same all over the sheet, so that neighbouring pieces of one part
// match.
func hatchLines(rings [][]r2.Point, angle, spacing float64) [][2]r2.Point {
	sin, cos := math.Sincos(-angle * math.Pi / 180) // paper y runs down
	along, across := r2.Point{X: cos, Y: sin}, r2.Point{X: -sin, Y: cos}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, ring := range rings {
		for _, p := range ring {
			lo, hi = min(lo, p.Dot(across)), max(hi, p.Dot(across))
		}
	}
	var out [][2]r2.Point
	for k := math.Ceil(lo / spacing); k*spacing <= hi; k++ {
		level := k * spacing
		var cuts []float64
		for _, ring := range rings {
			for i, p := range ring {
				q := ring[(i+1)%len(ring)]
				dp, dq := p.Dot(across)-level, q.Dot(across)-level
				if (dp < 0) != (dq < 0) {
					cuts = append(cuts, p.Add(q.Sub(p).Mul(dp/(dp-dq))).Dot(along))
				}
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] > 0.05 {
				base := across.Mul(level)
				out = append(out, [2]r2.Point{base.Add(along.Mul(cuts[i])), base.Add(along.Mul(cuts[i+1]))})
			}
		}
	}
	return out
}

// arcPoints flattens an arc on paper so that no chord is further than 0.01 mm from it. The angle
// runs from → to in the axes given; both ends are included.
func arcPoints(centre r2.Point, radius float64, from, to s1.Angle, axes Axes) []r2.Point {
	n := 8
	if span := math.Abs(float64(to - from)); radius > 0.01 && span > 0 {
		n = int(min(2000, max(8, math.Ceil(span/(2*math.Acos(1-0.01/radius))))))
	}
	pts := make([]r2.Point, n+1)
	for i := range pts {
		pts[i] = centre.Add(axes.at(radius, from+(to-from)*s1.Angle(float64(i)/float64(n))))
	}
	return pts
}

// at is the paper vector of a length in the model direction at an angle.
func (a Axes) at(length float64, angle s1.Angle) r2.Point {
	c, s := cosSin(angle)
	return a.X.Mul(length * c).Add(a.Y.Mul(length * s))
}

// cosSin is exact at the four quarters, so that square things stay square.
func cosSin(a s1.Angle) (cos, sin float64) {
	if q := a.Degrees() / 90; math.Abs(q-math.Round(q)) < 1e-12 && math.Abs(q) < 1e6 {
		i := (int(math.Round(q))%4 + 4) % 4
		return [4]float64{1, 0, -1, 0}[i], [4]float64{0, 1, 0, -1}[i]
	}
	s, c := math.Sincos(float64(a))
	return c, s
}

// straying is how far a line as it is written may run beside the line as it was drawn, mm of paper, before it is
// rounded to hundredths: less than a tenth of the thinnest pen.
const straying = 0.01

// hundredths is a paper length as it is written.
func hundredths(mm float64) int { return int(math.Round(mm*100 + math.Copysign(1e-5, mm))) }

// written is a paper length as it is written, for a writer that rounds by itself and would leave what lies in the middle to chance.
func written(mm float64) float64 { return float64(hundredths(mm)) / 100 }

// appendPath writes a line on paper: where it begins, then the way from each point to the next, in hundredths of a
// millimetre, so that roundings do not add up.
func appendPath(data []byte, pts []r2.Point, closed bool) []byte {
	x, y, first := 0, 0, true
	for i, p := range pts {
		toX, toY := hundredths(p.X), hundredths(p.Y)
		switch {
		case i == 0:
			data = appendPair(append(data, 'M'), toX, toY)
		case toX == x && toY == y && len(pts) > 2:
			continue
		default:
			if first {
				data, first = append(data, 'l'), false
			} else if toX >= x {
				data = append(data, ' ')
			}
			data = appendPair(data, toX-x, toY-y)
		}
		x, y = toX, toY
	}
	if closed {
		data = append(data, 'z')
	}
	return data
}

func pathData(pts []r2.Point, closed bool) string { return string(appendPath(nil, pts, closed)) }

// appendPair writes two numbers; a minus sign parts them as well as a space does.
func appendPair(data []byte, x, y int) []byte {
	data = appendHundredths(data, x)
	if y >= 0 {
		data = append(data, ' ')
	}
	return appendHundredths(data, y)
}

// appendHundredths writes a number of hundredths in millimetres without needless noughts: -1234 as -12.34, 50 as .5.
func appendHundredths(data []byte, n int) []byte {
	if n < 0 {
		data, n = append(data, '-'), -n
	}
	whole, part := n/100, n%100
	if whole > 0 || part == 0 {
		data = strconv.AppendInt(data, int64(whole), 10)
	}
	if part == 0 {
		return data
	}
	data = append(data, '.', byte('0'+part/10))
	if part%10 > 0 {
		data = append(data, byte('0'+part%10))
	}
	return data
}
