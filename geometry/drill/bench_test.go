package drill

import (
	"runtime"
	"testing"

	"github.com/golang/geo/r3"

	"locksweep/fixtures/example"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// crowded is the kart between 20 parts, its arms' outlines left out so that a hole may go anywhere.
func crowded(b *testing.B) *setup.Setup {
	s := example.Read(b, "shed-kart")
	for _, side := range setup.Sides {
		s.Corners[side].Arm.Metal.Outline = nil
	}
	for x := -400.0; len(s.Parts) < 20; x += 90 {
		s.Parts = append(s.Parts, setup.Part{Name: "cross tube", Tube: &setup.Tube{
			Diameter: 25, Path: []r3.Vector{{X: x, Y: -150, Z: 60}, {X: x, Y: 150, Z: 60}},
		}})
	}
	return s
}

// BenchmarkTenThousandPlaces judges 10,000 places with the whole way from lock to lock and every contact, and orders them as
// if each had been judged within the slip.
func BenchmarkTenThousandPlaces(b *testing.B) {
	s := crowded(b)
	opt := Options{NewMetal: true, Reach: 50, Step: 1}
	if err := opt.settle(s, Arm); err != nil {
		b.Fatal(err)
	}
	start := SpotOf(s)
	base, err := sweep.New(start.Fit(s))
	if err != nil {
		b.Fatal(err)
	}
	var before, after runtime.MemStats
	for b.Loop() {
		r := &Result{Setup: s, Options: opt, Metals: metals(s, Arm, &opt), Aims: Aims{Percent: 100}}
		r.Aims.settle(base)
		r.search = newSearch(r, base)
		grid := r.search.gridOf(10)[:10_000]
		runtime.ReadMemStats(&before)
		r.search.judge(grid)
		r.search.settleLeverage()
		r.search.top(24, func(int) bool { return true })
		r.search.trade()
		runtime.ReadMemStats(&after)
		possible, slipped := 0, 0
		for i := range r.search.pool {
			if r.search.pool[i].possible {
				possible++
			}
			if r.search.pool[i].sure {
				slipped++
			}
		}
		b.ReportMetric(float64(len(r.search.pool)), "places")
		b.ReportMetric(float64(possible), "possible")
		b.ReportMetric(float64(slipped), "within-slip")
		b.ReportMetric(float64(after.HeapSys)/1e6, "MB")
	}
}

// BenchmarkSearch is a whole search as the command does it.
func BenchmarkSearch(b *testing.B) {
	s := crowded(b)
	for b.Loop() {
		if _, err := Search(s, Arm, Aims{Percent: 100}, Options{NewMetal: true}); err != nil {
			b.Fatal(err)
		}
	}
}
