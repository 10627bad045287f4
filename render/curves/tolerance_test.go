package curves

import (
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/road"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/sheet"
)

// TestBandsLieAboutTheCurves: each curve as the file has it lies between the edges of its band, the error's band is narrow where the wheels hardly
// turn, and no text of the drawing is on another.
func TestBandsLieAboutTheCurves(t *testing.T) {
	for _, name := range []string{"shed-kart", "cyclekart", "rack-buggy", "pedal-quad"}[:trial.Count(2, 4)] {
		as, err := sweep.Run(example.Read(t, name), s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		opt := tolerance.Options{Draws: tolerance.LeastDraws, Path: road.Slide{Radius: 4000}}
		for i := range 9 {
			opt.Columns = append(opt.Columns, as.Locks[1].Column+(as.Locks[0].Column-as.Locks[1].Column)*s1.Angle(i)/8)
		}
		r, err := tolerance.Run(as, opt)
		if err != nil {
			t.Fatal(err)
		}
		for which := range 3 {
			curve, low, high := bandOf(r, which)
			inside, known := 0, 0
			for i, p := range curve {
				if p.Y-low[i].Y == p.Y-low[i].Y && p.Y-high[i].Y == p.Y-high[i].Y {
					known++
					if low[i].Y < p.Y && p.Y < high[i].Y {
						inside++
					}
				}
			}
			if known < 4 || inside != known {
				t.Errorf("%s, curve %d: %d of %d points lie within the band", name, which, inside, known)
			}
		}
		for _, paper := range []sheet.Size{sheet.A4.Landscape(), sheet.Letter.Landscape()} {
			s, err := Sure(r, sheet.Options{Paper: paper})
			if err != nil {
				t.Fatal(err)
			}
			if o, u := s.Overlaps(), s.Unplaced(); len(o)+len(u) > 0 {
				t.Errorf("%s on %s: overlap %v, unplaced %q", name, paper.Name, o, u)
			}
		}
	}
}
