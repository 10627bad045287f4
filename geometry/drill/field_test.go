package drill

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/setup"
)

// TestContoursOfACone: a field of distances from a point has circles for contours, and the area above is
// what lies outside them.
func TestContoursOfACone(t *testing.T) {
	f := &field{columns: 81}
	for x := -40; x <= 40; x++ {
		for y := -40; y <= 40; y++ {
			p := r2.Point{X: float64(x), Y: float64(y)}
			f.at, f.values = append(f.at, p), append(f.values, p.Norm())
		}
	}
	for _, level := range []float64{10.3, 20, 33} {
		lines := f.lines(level)
		if len(lines) != 1 || lines[0][0] != lines[0][len(lines[0])-1] {
			t.Fatalf("level %g: %d lines, want one closed one", level, len(lines))
		}
		for _, p := range lines[0] {
			if math.Abs(p.Norm()-level) > 0.02 {
				t.Errorf("level %g: a point at %g", level, p.Norm())
			}
		}
		area := 0.0
		for _, ring := range f.above(level) {
			for i, p := range ring {
				area += p.Cross(ring[(i+1)%len(ring)]) / 2
			}
		}
		if want := 80*80 - math.Pi*level*level; math.Abs(area-want) > 0.003*want {
			t.Errorf("level %g: area above %g, want %g", level, area, want)
		}
	}
}

// TestGapsHaveNoContours: what has no value is left out.
func TestGapsHaveNoContours(t *testing.T) {
	f := &field{columns: 11}
	for x := range 11 {
		for y := range 11 {
			v := float64(x)
			if y == 5 {
				v = math.NaN()
			}
			f.at, f.values = append(f.at, r2.Point{X: float64(x), Y: float64(y)}), append(f.values, v)
		}
	}
	if lines := f.lines(4.5); len(lines) != 2 {
		t.Errorf("%d lines, want one on either side of the gap", len(lines))
	}
	if rings := f.above(4.5); len(rings) != 2 {
		t.Errorf("%d areas, want one on either side of the gap", len(rings))
	}
}

// TestZoneIsWhereTheSearchGoes compares the drawn zone with the rule that the search obeys, point by point.
func TestZoneIsWhereTheSearchGoes(t *testing.T) {
	for _, c := range []struct {
		name string
		on   On
	}{{"pedal-quad", Arm}, {"shed-kart", DropArm}, {"cyclekart", Arm}, {"field-buggy", DropArm}} {
		r := prepared(t, example.Read(t, c.name), c.on, narrow())
		metal, bounds := r.Metals[0], r.Metals[0].bounds(setup.Left)
		zone, err := r.search.zone()
		if err != nil {
			t.Fatal(err)
		}
		first, tried := r.search.axes[0], 0
		for x := bounds.X.Lo; x < bounds.X.Hi; x += trial.Every(2.3, 1.7) {
			for y := bounds.Y.Lo; y < bounds.Y.Hi; y += trial.Every(1.9, 1.3) {
				at, n := r2.Point{X: x, Y: y}, r.search.home()
				q := metal.Plane(at)
				n[first], n[first+1] = at.X, at.Y
				if nearEdge(zone, q) || c.on == DropArm && n[3] == 0 { // one hole for both rods is allowed, but has no area
					continue
				}
				strip := r.search.tooClose()
				if len(strip) > 0 && (planar.Inside(strip, q) || nearEdge(region.Of(strip), q)) { // told apart from the zone
					if !nearEdge(region.Of(strip), q) && r.search.allowed(n) {
						t.Errorf("%s %v: the search goes to %v, where the two holes run into each other", c.name, c.on, q)
					}
					continue
				}
				tried++
				if got, want := holds(zone, q), r.search.allowed(n); got != want {
					t.Errorf("%s %v: zone %v at %v, the search %v", c.name, c.on, got, at, want)
				}
			}
		}
		if tried < 100 {
			t.Errorf("%s: only %d points tried", c.name, tried)
		}
	}
}

func holds(zone region.Region, q r2.Point) bool {
	in := false
	for _, ring := range zone.Rings() {
		in = in != planar.Inside(ring, q)
	}
	return in
}

// nearEdge leaves out what the chords of the zone's arcs cannot decide.
func nearEdge(zone region.Region, q r2.Point) bool {
	for _, ring := range zone.Rings() {
		if planar.ToEdge(ring, q) < 0.1 {
			return true
		}
	}
	return false
}

// TestMapShowsWhatTheSearchFinds: every place that was tried lies in the band of its own figure, the best one among them.
func TestMapShowsWhatTheSearchFinds(t *testing.T) {
	r := searchedPosted(t)
	m, err := r.Map(ErrorFigure)
	if err != nil {
		t.Fatal(err)
	}
	places := []Place{r.Best[0].Place}
	r.search.wholePool()
	for i := range r.search.pool {
		if j := &r.search.pool[i]; j.possible {
			places = append(places, Place{Spot: r.search.spot(j.node), Figures: j.Figures})
		}
	}
	sides := [2]int{} // at or below a level, above it
	for _, p := range places {
		ball := p.Pickups[setup.Left]
		q := m.Metal.Plane(r2.Point{X: ball.X, Y: ball.Y})
		for _, c := range m.Above {
			in, off := insideRings(c.Lines, q), p.Worst.Degrees()-c.Value
			if off > 0 {
				sides[1]++
			} else {
				sides[0]++
			}
			if in != (off >= 0) && math.Abs(off) > 0.1 {
				t.Errorf("place %v has %.3f, the map says that above %g is %v", q, p.Worst.Degrees(), c.Value, in)
			}
		}
	}
	if sides[0] < 100 || sides[1] < 100 {
		t.Errorf("only %d levels above a place and %d below one", sides[0], sides[1])
	}
}
