package sweep

import (
	"math"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
)

// TestLeverageIsTheLeastOfAllEnds at a pose, and says which.
func TestLeverageIsTheLeastOfAllEnds(t *testing.T) {
	at := map[[2]int]int{}
	for seed := range uint64(100) {
		m := bare(t, random.FromSeed(seed))
		for _, share := range []s1.Angle{0, 0.5, 0.9} {
			p, _ := m.Pose(m.Lock(ToLeft).Column * share)
			l, ok := m.Leverage(p.Column)
			at[[2]int{l.Rod, int(l.End)}]++
			for rod := range p.Transmission {
				for _, angle := range p.Transmission[rod] {
					if !ok || angle < l.Angle || p.Transmission[l.Rod][l.End] != l.Angle {
						t.Fatalf("seed %d: %+v of %v", seed, l, p.Transmission)
					}
				}
			}
		}
	}
	if len(at) != 4 {
		t.Errorf("least at %v only: some end never", at)
	}
}

// TestLeverageAlongAWay against fine sampling, and by hand where column and leverage are 90 degrees together.
func TestLeverageAlongAWay(t *testing.T) {
	m := bare(t, level())
	for _, c := range []struct{ from, to, least, at, weakens float64 }{
		{0, 30, 60, 30, 30}, {-50, 20, 40, -50, -40}, {20, -50, 40, -50, -40}, {-10, 10, 80, -10, math.NaN()}, {60, 10, 30, 60, 60},
	} {
		from, to := s1.Angle(c.from)*s1.Degree, s1.Angle(c.to)*s1.Degree
		if got := m.LeastLeverage(from, to); math.Abs(got.Angle.Degrees()-c.least) > 1e-6 || math.Abs(got.Column.Abs().Degrees()-math.Abs(c.at)) > 1e-6 {
			t.Errorf("%v to %v: least %+v, want %v at %v", c.from, c.to, got, c.least, c.at)
		}
	}
	for _, c := range []struct{ from, to, wanted, at float64 }{
		{0, 80, 25, 65}, {0, -80, 25, -65}, {0, 60, 25, math.NaN()}, {70, 80, 25, 70}, {-70, 0, 25, -70}, {50, -70, 25, -65},
	} {
		got, found := m.WeakensAt(s1.Angle(c.from)*s1.Degree, s1.Angle(c.to)*s1.Degree, s1.Angle(c.wanted)*s1.Degree)
		if found == math.IsNaN(c.at) || found && math.Abs(got.Column.Degrees()-c.at) > 1e-6 {
			t.Errorf("%v to %v under %v: %v at %v, want %v", c.from, c.to, c.wanted, found, got.Column, c.at)
		}
	}
	for seed := range uint64(120) {
		m := bare(t, random.FromSeed(seed))
		from, to := m.Lock(ToRight).Column, m.Lock(ToLeft).Column*s1.Angle(seed%5)/4
		sampled := func(n int) (least Leverage) {
			least.Angle = s1.InfAngle()
			for i := range n + 1 {
				if l, ok := m.Leverage(from + (to-from)*s1.Angle(i)/s1.Angle(n)); ok && l.Angle < least.Angle {
					least = l
				}
			}
			return least
		}
		want, got := sampled(5000), m.LeastLeverage(from, to)
		// Close to a dead point the least lies deeper than sampling comes; that it is on the way, and so little there, proves it.
		if got.Angle > want.Angle+1e-9 || got.Column < min(from, to)-1e-12 || got.Column > max(from, to)+1e-12 {
			t.Errorf("seed %d: least leverage %+v, sampled %+v", seed, got, want)
		}
		if l, _ := m.Leverage(got.Column); l != got {
			t.Errorf("seed %d: said to be %+v, is %+v", seed, got, l)
		}
	}
}

// TestDipOfLeverage: a leverage that falls and rises again on the way is least between samples too, near an end of
// the way as well; and where it first falls under what is wanted is found in a dip that no sample meets. Closed form:
// 30 degrees and one more for each 10 degrees from the bottom, squared.
func TestDipOfLeverage(t *testing.T) {
	for _, bottom := range []float64{10.3, 25, 44.999, 0.4, 59.7, -3, 66} {
		angle := func(column s1.Angle) transmissions {
			off := (column.Degrees() - bottom) / 10
			a := s1.Angle(30+off*off) * s1.Degree
			return transmissions{column, [2][2]s1.Angle{{a, a}, {a, a}}}
		}
		for _, way := range [][2]float64{{0, 60}, {60, 0}} {
			from, to := s1.Angle(way[0])*s1.Degree, s1.Angle(way[1])*s1.Degree
			want := min(max(bottom, 0), 60)
			p := newPassage(angle, from, to)
			got := p.least()
			if math.Abs(got.Column.Degrees()-want) > 1e-4 || math.Abs(float64(got.Angle-angle(s1.Angle(want) * s1.Degree).angles[0][0])) > 1e-9 {
				t.Errorf("bottom at %v, from %v to %v: least %+v", bottom, from, to, got)
			}
			if want != bottom {
				continue
			}
			const wanted = 30.0025 // half a degree either side of the bottom
			enters := bottom - math.Copysign(0.5, way[1]-way[0])
			weak, found := p.weakens(wanted * s1.Degree)
			if enters = min(max(enters, 0), 60); !found || math.Abs(weak.Column.Degrees()-enters) > 1e-6 {
				t.Errorf("bottom at %v, from %v to %v: weakens %v at %v, want %v", bottom, from, to, found, weak.Column, enters)
			}
		}
	}
}
