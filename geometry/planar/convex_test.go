package planar

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
)

func checkConvex(t *testing.T, piece []r2.Point) {
	t.Helper()
	if len(piece) < 3 {
		t.Fatalf("a piece of %d corners: %v", len(piece), piece)
	}
	for i := range piece {
		a, b, c := piece[i], piece[(i+1)%len(piece)], piece[(i+2)%len(piece)]
		if Orient(a, b, c) <= 0 {
			t.Fatalf("corner %v of a piece of %d corners is not convex: %v", b, len(piece), piece)
		}
	}
}

// checkPieces checks that convex pieces have the corners and the area of an outline, no more and no less.
func checkPieces(t *testing.T, outline []r2.Point, pieces [][]r2.Point) {
	t.Helper()
	given := make(map[r2.Point]bool, len(outline))
	for _, p := range outline {
		given[p] = true
	}
	sum := 0.0
	for _, piece := range pieces {
		checkConvex(t, piece)
		sum += shoelace(piece)
		for _, p := range piece {
			if !given[p] {
				t.Fatalf("%v is no point of the outline", p)
			}
		}
	}
	// Either sum is only as good as the products of its co-ordinates: far from the origin a sliver's area is
	// all rounding.
	far := 0.0
	for _, p := range outline {
		far = math.Max(far, math.Max(math.Abs(p.X), math.Abs(p.Y)))
	}
	rounding := 0x1p-50 * float64(len(outline)) * far * far
	if want := math.Abs(shoelace(outline)); !(math.Abs(sum-want) <= 1e-9*want+rounding) {
		t.Fatalf("area %.15g in %d pieces, %.15g in the outline", sum, len(pieces), want)
	}
}

// shoelace is the signed area of a ring by the trapezoids under its edges.
func shoelace(ring []r2.Point) (sum float64) {
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		sum += (a.X - b.X) * (a.Y + b.Y - 2*ring[0].Y) / 2
	}
	return sum
}

// star is a random star-shaped outline: concave nearly everywhere.
func star(rng *rand.Rand, n int) []r2.Point {
	ring := make([]r2.Point, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rng.Float64()) / float64(n))
		r := 10 + 200*rng.Float64()
		ring[i] = r2.Point{X: r * cos, Y: r * sin}
	}
	return ring
}

// regular is a regular polygon of n corners.
func regular(radius float64, n int) (ring []r2.Point) {
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring = append(ring, r2.Point{X: radius * cos, Y: radius * sin})
	}
	return ring
}

// comb has n teeth, turned by an angle; round angles keep many points in line.
func comb(n int, turn float64) []r2.Point {
	sin, cos := math.Sincos(turn)
	ring := []r2.Point{}
	add := func(x, y float64) { ring = append(ring, r2.Point{X: x*cos - y*sin, Y: x*sin + y*cos}) }
	add(float64(2*n-1), -5)
	for i := 2*n - 2; i >= 0; i -= 2 {
		add(float64(i+1), 0)
		add(float64(i+1), 100)
		add(float64(i), 100)
		add(float64(i), 0)
	}
	add(0, -5)
	slices.Reverse(ring)
	return ring
}

// spiral winds inwards as a band.
func spiral(n int) []r2.Point {
	ring := make([]r2.Point, 0, n)
	for i := range n {
		at, r := i, 0.0
		if i >= n/2 {
			at, r = n-1-i, 4
		}
		angle := 60 * float64(at) / float64(n)
		sin, cos := math.Sincos(angle)
		ring = append(ring, r2.Point{X: (200 - 5*angle + r) * cos, Y: (200 - 5*angle + r) * sin})
	}
	return ring
}

func outlines() map[string][]r2.Point {
	rng := rand.New(rand.NewPCG(7, 7))
	all := map[string][]r2.Point{
		"L":      {{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 10}, {X: 10, Y: 10}, {X: 10, Y: 40}, {X: 0, Y: 40}},
		"arrow":  {{X: 0, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 5}, {X: -10, Y: 10}},
		"spiral": spiral(400),
		"gear":   {},
	}
	for i := range 60 {
		r := 50.0 + float64(i%4/2)*8
		sin, cos := math.Sincos(float64(i) * math.Pi / 30)
		all["gear"] = append(all["gear"], r2.Point{X: r * cos, Y: r * sin})
	}
	for _, n := range []int{3, 4, 5, 8, 20, 100, 1000} {
		for k := range 8 {
			all[fmt.Sprintf("star %d %d", n, k)] = star(rng, n)
		}
	}
	for _, n := range []int{1, 2, 5, 50, 300} {
		for k, turn := range []float64{0, math.Pi / 2, 0.3, math.Pi / 4, 3} {
			all[fmt.Sprintf("comb %d %d", n, k)] = comb(n, turn)
		}
	}
	return all
}

func TestConvexPieces(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for name, ring := range outlines() {
		t.Run(name, func(t *testing.T) {
			pieces, err := Convex(ring)
			if err != nil {
				t.Fatal(err)
			}
			checkPieces(t, ring, pieces)
			for range 50 {
				p := r2.Point{X: 220 * (2*rng.Float64() - 1), Y: 220 * (2*rng.Float64() - 1)}
				in := 0
				for _, piece := range pieces {
					if Inside(piece, p) {
						in++
					}
				}
				if want := Inside(ring, p); in > 1 || (in == 1) != want {
					t.Errorf("%v lies in %d pieces, in the outline: %v", p, in, want)
				}
			}
			turned := slices.Clone(ring)
			slices.Reverse(turned)
			again, err := Convex(turned)
			if err != nil {
				t.Fatalf("clockwise: %v", err)
			}
			checkPieces(t, ring, again)
		})
	}
}

func TestFewPieces(t *testing.T) {
	for _, c := range []struct {
		name string
		ring []r2.Point
		most int // four times the least number that will do
	}{
		{"square", []r2.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}, 1},
		{"square with points along its sides and a doubled one", []r2.Point{{X: 0, Y: 0}, {X: 3, Y: 0}, {X: 3, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10},
			{X: 4, Y: 10}, {X: 2, Y: 10}, {X: 0, Y: 10}, {X: 0, Y: 5}, {X: 0, Y: 0}}, 1},
		{"circle", regular(100, 40), 1},
		{"L", outlines()["L"], 4 * 2},
		{"comb of 50 teeth", comb(50, 0), 4 * 51},
	} {
		pieces, err := Convex(c.ring)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if len(pieces) > c.most {
			t.Errorf("%s: %d pieces, at most %d will do", c.name, len(pieces), c.most)
		}
		checkPieces(t, c.ring, pieces)
	}
}

func TestConvexRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		ring []r2.Point
	}{
		{"nothing", nil},
		{"two points", []r2.Point{{X: 0, Y: 0}, {X: 1, Y: 1}}},
		{"points in line", []r2.Point{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 2}, {X: 5, Y: 5}}},
		{"one point many times", []r2.Point{{X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}}},
		{"bow tie", []r2.Point{{X: 0, Y: 0}, {X: 10, Y: 10}, {X: 10, Y: 0}, {X: 0, Y: 12}}},
		{"pentagram", []r2.Point{{X: 0, Y: 10}, {X: 6, Y: -8}, {X: -9, Y: 3}, {X: 9, Y: 3}, {X: -6, Y: -8}}},
		{"no number", []r2.Point{{X: 0, Y: 0}, {X: math.NaN(), Y: 0}, {X: 1, Y: 1}}},
		{"endless", []r2.Point{{X: 0, Y: 0}, {X: math.Inf(1), Y: 0}, {X: 1, Y: 1}}},
	} {
		if pieces, err := Convex(c.ring); err == nil {
			t.Errorf("%s: no error, pieces %v", c.name, pieces)
		}
	}
}

// The sign of orient is that of whole numbers where coordinates are whole, however large.
func TestOrientIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	for range 20000 {
		// Points nearly in line: a and a step, twice, and off by one at most.
		a := [2]int64{rng.Int64N(1 << 30), rng.Int64N(1 << 30)}
		s := [2]int64{rng.Int64N(1<<21) - 1<<20, rng.Int64N(1<<21) - 1<<20}
		off := rng.Int64N(3) - 1
		b := [2]int64{a[0] + s[0], a[1] + s[1]}
		c := [2]int64{a[0] + 5*s[0], a[1] + 5*s[1] + off}
		want := (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
		const unit = 1.0 / (1 << 20)
		point := func(p [2]int64) r2.Point { return r2.Point{X: float64(p[0]) * unit, Y: float64(p[1]) * unit} }
		if got := Orient(point(a), point(b), point(c)); (got > 0) != (want > 0) || (got < 0) != (want < 0) {
			t.Fatalf("%v, %v, %v: orient %g, want %d", a, b, c, got, want)
		}
	}
	// Kettner and others, Computational Geometry 40, 2008 (memory): plain arithmetic fails about here.
	a, b := r2.Point{X: 12, Y: 12}, r2.Point{X: 24, Y: 24}
	for i := range 64 {
		for j := range 64 {
			p := r2.Point{X: 0.5 + float64(i)*0x1p-53, Y: 0.5 + float64(j)*0x1p-53}
			if got := Orient(p, a, b); (got > 0) != (p.Y > p.X) || (got < 0) != (p.Y < p.X) {
				t.Fatalf("%b, %b: orient %g", p.X, p.Y, got)
			}
		}
	}
}

func FuzzConvex(f *testing.F) {
	for _, ring := range [][]r2.Point{comb(3, 0), spiral(20), {{X: 0, Y: 0}, {X: 10, Y: 10}, {X: 10, Y: 0}, {X: 0, Y: 12}}} {
		var seed []byte
		for _, p := range ring {
			seed = binary.LittleEndian.AppendUint16(seed, uint16(int16(p.X)))
			seed = binary.LittleEndian.AppendUint16(seed, uint16(int16(p.Y)))
		}
		f.Add(seed, 1.0)
	}
	f.Add([]byte("0\"0\x03\"0\x0300000"), 54.225) // a sliver 669 m from the origin
	f.Fuzz(func(t *testing.T, data []byte, scale float64) {
		var ring []r2.Point
		for ; len(data) >= 4 && len(ring) < 2000; data = data[4:] {
			ring = append(ring, r2.Point{
				X: scale * float64(int16(binary.LittleEndian.Uint16(data))),
				Y: scale * float64(int16(binary.LittleEndian.Uint16(data[2:]))),
			})
		}
		pieces, err := Convex(ring)
		if err == nil {
			checkPieces(t, tidy(ring), pieces)
		}
	})
}
