package linkage

import (
	"testing"
	"time"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/geometry/setup"
)

// sweepOf returns the mechanism of a setup, and 181 column angles over nearly all of its way.
func sweepOf(b testing.TB, s *setup.Setup) (m *Mechanism, columns []float64) {
	m, err := New(s)
	if err != nil {
		b.Fatal(err)
	}
	left, right := 0.95*m.end(1), -0.95*m.end(-1)
	for i := range 181 {
		columns = append(columns, left+(right-left)*float64(i)/180)
	}
	return m, columns
}

// BenchmarkPose is one pose of both corners, of each linkage.
func BenchmarkPose(b *testing.B) {
	for _, c := range []struct {
		name string
		make func(seed uint64) *setup.Setup
	}{{"two rods", random.FromSeed}, {"cross rod", random.CrossRod}, {"rack", random.Rack}} {
		b.Run(c.name, func(b *testing.B) {
			m, columns := sweepOf(b, c.make(7))
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				sink, _ = m.Pose(s1.Angle(columns[i%len(columns)]))
			}
		})
	}
}

// BenchmarkGeneralSolver is the same pose by gonum's general minimiser, on the equations of the
// independent test, both corners, each started from its neighbouring pose. It reports how many times as long it takes.
func BenchmarkGeneralSolver(b *testing.B) {
	s := random.FromSeed(7)
	m, columns := sweepOf(b, s)
	var followed [2]*tracer
	start := func() {
		for _, side := range setup.Sides {
			tr, err := newTracer(s, side, m.Rods[side].Length)
			if err != nil {
				b.Fatal(err)
			}
			if err := tr.follow(columns[0]); err != nil {
				b.Fatal(err)
			}
			followed[side] = tr
		}
	}
	start()
	for i := 0; b.Loop(); i++ {
		if i%len(columns) == 0 && i > 0 {
			b.StopTimer()
			start()
			b.StartTimer()
		}
		for _, tr := range followed {
			if err := tr.follow(columns[i%len(columns)]); err != nil {
				b.Fatal(err)
			}
		}
	}
	general := float64(b.Elapsed().Nanoseconds()) / float64(b.N)

	const poses = 100_000
	began := time.Now()
	for i := range poses {
		sink, _ = m.Pose(s1.Angle(columns[i%len(columns)]))
	}
	closed := float64(time.Since(began).Nanoseconds()) / poses
	b.ReportMetric(general/closed, "times-a-pose")
}

// BenchmarkNew is what is done once for a setup: both rods, all dead points.
func BenchmarkNew(b *testing.B) {
	s := random.FromSeed(7)
	for b.Loop() {
		if _, err := New(s); err != nil {
			b.Fatal(err)
		}
	}
}
